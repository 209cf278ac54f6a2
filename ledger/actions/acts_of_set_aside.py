"""The rows of the set-aside, and of her own income and self-employment tax."""

from __future__ import annotations

from ledger.actions.act import Act

SET_ASIDE: tuple[Act, ...] = (
    Act(
        "move_to_savings",
        "set-aside move",
        "Set aside",
        "m",
        ("set_aside",),
        "Move money to the tax savings account. Without AMOUNT, all that is to be moved, as far as checking has it.",
        "ledger.actions.move_to_savings:SetAsideRequest",
    ),
    Act(
        "pay_estimated",
        "tax estimated",
        "Pay own tax",
        "e",
        ("set_aside",),
        "Pay your own income and self-employment tax. From the workshop it is a draw, and never an expense.",
        "ledger.actions.pay_estimated:EstimatedTaxRequest",
    ),
    Act(
        "say_income_tax",
        "tax income",
        "Income tax",
        "i",
        ("set_aside",),
        "What income tax goes by. Your accountant's percentage of net profit, or last year's total tax.",
        "ledger.actions.own_tax_choices:IncomeTaxRequest",
        is_rare=True,
    ),
    Act(
        "say_last_year",
        "tax last-year",
        "Last year",
        "l",
        ("set_aside",),
        "What last year's whole return came to. AMOUNT is its total tax, self-employment tax in it.",
        "ledger.actions.own_tax_choices:LastYearRequest",
        is_rare=True,
    ),
    Act(
        "say_wages",
        "tax wages",
        "Wages",
        "a",
        ("set_aside",),
        "Your own wages elsewhere in a year. They take up a part of the social security wage base.",
        "ledger.actions.own_tax_choices:WagesRequest",
        is_rare=True,
    ),
    Act(
        "settle_year",
        "tax settled",
        "Settled",
        "t",
        ("set_aside",),
        "Mark the return of YEAR as filed and paid. The set-aside no longer counts what the year came to.",
        "ledger.actions.own_tax_choices:SettledRequest",
        is_rare=True,
    ),
)
