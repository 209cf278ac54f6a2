"""The rows of sales tax to the end, use tax, and the set-aside."""

from __future__ import annotations

from ledger.actions.act import Act

TAXES: tuple[Act, ...] = (
    # Use tax, untaxed stock, certificates, and what was spent before the workshop opened.
    Act(
        "use_untaxed",
        "tax use",
        "Use tax",
        "u",
        ("set_aside",),
        "Use tax on stock that was not sold. AMOUNT is its cost. Bought without tax for the workshop, it is «bought».",
        "ledger.actions.use_untaxed:UseRequest",
    ),
    Act(
        "stock_sold",
        "tax stock sold",
        "Stock sold",
        "k",
        ("set_aside",),
        "Untaxed stock that passed to customers in a taxed charge. AMOUNT is its cost; nothing is booked.",
        "ledger.actions.use_untaxed:SoldRequest",
        is_rare=True,
    ),
    Act(
        "answer_work",
        "tax work-use",
        "Work stock",
        None,
        (),
        "Whether stock used up in the work counts as sold or as used. Your state says; what waited is booked.",
        "ledger.actions.use_untaxed:WorkAnswerRequest",
        is_rare=True,
    ),
    Act(
        "list_stock",
        "tax stock list",
        "Untaxed",
        None,
        (),
        "Untaxed stock: what became of it, and what is left.",
        "ledger.taxes.untaxed_stock:Lot",
        is_rare=True,
    ),
)
