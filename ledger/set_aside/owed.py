"""Set-aside: what is owed to others now, what is held for it, what is to be moved, and what is free to draw.

Free to draw is checking, cash box and tax savings less everything that is owed, and never below zero. Card money on its
way is shown and not counted. An account that stands the other way (a card with a credit, tax paid ahead) is owed
nothing, and is no money either: it is named.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, fields
from datetime import date
from typing import Final

from ledger.books.balances import balances
from ledger.books.books import Books
from ledger.set_aside.due_dates import Due, next_due, strip
from ledger.set_aside.due_soon import SoonDue, read_due_soon
from ledger.set_aside.own_tax import OwnTax, read_own_tax
from ledger.set_aside.possible_tax import PossibleTax, read_possible_tax
from ledger.taxes.own_returns import due_within_days

# The figures that are the balance of an account, and its role.
ACCOUNT_OF: Final[Mapping[str, str]] = {
    "sales_tax": "sales_tax_payable",
    "use_tax": "use_tax_payable",
    "deposits": "customer_deposits",
    "gift_certificates": "gift_certificates",
    "cards": "workshop_card",
    "owed_to_owner": "owed_to_owner",
}
WORDS: Final[Mapping[str, str]] = {
    "sales_tax": "Sales tax, held in trust",
    "possible_sales_tax": "Possible sales tax",
    "use_tax": "Use tax",
    "deposits": "Deposits held",
    "gift_certificates": "Gift certificates out",
    "self_employment": "Self-employment tax",
    "additional_medicare": "Additional Medicare tax",
    "income_tax": "Income tax",
    "cards": "Workshop card",
    "owed_to_owner": "Owed to you",
    "due_soon": "Bills and loan due soon",
}


@dataclass(frozen=True)
class Owed:
    """What is owed to others now, each figure in cents and never below zero."""

    sales_tax: int = 0
    possible_sales_tax: int = 0
    use_tax: int = 0
    deposits: int = 0
    gift_certificates: int = 0
    self_employment: int = 0
    additional_medicare: int = 0
    income_tax: int = 0
    cards: int = 0
    owed_to_owner: int = 0
    due_soon: int = 0

    def items(self) -> Iterator[tuple[str, int]]:
        return ((each.name, getattr(self, each.name)) for each in fields(self))

    @property
    def total_cents(self) -> int:
        return sum(cents for _, cents in self.items())


@dataclass(frozen=True)
class Money:
    """The workshop's own accounts, in cents. card_money: on its way, not counted."""

    checking_cents: int
    cash_box_cents: int
    tax_savings_cents: int
    card_money_cents: int

    @property
    def total_cents(self) -> int:
        return self.checking_cents + self.cash_box_cents + self.tax_savings_cents


@dataclass(frozen=True)
class SetAside:
    """At the end of a day. on_the_other_side: accounts that stand the other way, by the name of their figure.

    years: this tax year and, until its return is settled, the last one.
    """

    on: date
    owed: Owed
    money: Money
    on_the_other_side: Mapping[str, int]
    years: tuple[OwnTax, ...] = ()
    possible: tuple[PossibleTax, ...] = ()
    due_soon: tuple[SoonDue, ...] = ()
    due_within_days: int = 0
    dues: tuple[Due, ...] = ()

    @property
    def held_cents(self) -> int:
        """What is held for it: the tax savings account."""
        return self.money.tax_savings_cents

    @property
    def to_move_cents(self) -> int:
        """What tax savings lack of what is owed."""
        return max(0, self.owed.total_cents - self.held_cents)

    @property
    def free_cents(self) -> int:
        """What can be drawn, never below zero."""
        return max(0, self.money.total_cents - self.owed.total_cents)

    @property
    def short_cents(self) -> int:
        """By how much the money falls short of what is owed."""
        return max(0, self.owed.total_cents - self.money.total_cents)

    @property
    def is_before_income_tax(self) -> bool:
        return any(each.tax.is_before_income_tax and not each.is_settled for each in self.years)

    @property
    def next_due(self) -> Due | None:
        return next_due(self.dues, self.on)

    @property
    def late(self) -> tuple[Due, ...]:
        """What has passed its day: a return of sales tax also where it takes nothing, since it is due all the same."""
        return tuple(each for each in self.dues if each.is_late and (each.cents or each.kind == "sales tax"))

    @property
    def notes(self) -> tuple[str, ...]:
        """What has to stand beside the figures."""
        return tuple(dict.fromkeys(_notes(self)))


def read_set_aside(books: Books) -> SetAside:
    """What is owed and held at the end of today."""
    on = books.today
    years = tuple(each for each in _years(books, on) if each.tax_year == on.year or not each.is_settled)
    days = due_within_days(books, on)
    soon = read_due_soon(books, on, days)
    return settle(
        {each.account.role or "": each.cents for each in balances(books, on)},
        on=on,
        years=years,
        possible=read_possible_tax(books, on),
        due_soon=soon,
        due_within=days,
        dues=strip(books, years, soon, on),
    )


def settle(
    balance: Mapping[str, int],
    *,
    on: date,
    years: Sequence[OwnTax] = (),
    possible: Sequence[PossibleTax] = (),
    due_soon: Sequence[SoonDue] = (),
    due_within: int = 0,
    dues: Sequence[Due] = (),
) -> SetAside:
    """The figures from balances by role, debit positive in cents, and from what stands in no account."""
    standing = {name: -balance[role] for name, role in ACCOUNT_OF.items()}
    lefts = [each.left for each in years]
    owed = Owed(
        **{name: max(0, cents) for name, cents in standing.items()},
        possible_sales_tax=sum(each.tax_cents for each in possible),
        self_employment=sum(each.self_employment_cents for each in lefts),
        additional_medicare=sum(each.additional_medicare_cents for each in lefts),
        income_tax=sum(each.income_tax_cents for each in lefts),
        due_soon=sum(each.cents for each in due_soon),
    )
    return SetAside(
        on=on,
        owed=owed,
        money=Money(balance["checking"], balance["cash_box"], balance["tax_savings"], balance["card_settlements"]),
        on_the_other_side={name: -cents for name, cents in standing.items() if cents < 0},
        years=tuple(years),
        possible=tuple(possible),
        due_soon=tuple(due_soon),
        due_within_days=due_within,
        dues=tuple(dues),
    )


def is_there(found: SetAside, cents: int) -> str:
    """Whether tax savings hold what is due, or at least the workshop's money does, in words."""
    if cents <= found.held_cents:
        return "is held"
    return "is there" if cents <= found.money.total_cents else "is short"


def _years(books: Books, on: date) -> Iterable[OwnTax]:
    """Last year, where the books go back that far, and this one."""
    if books.settings.begun_on.year < on.year:
        yield read_own_tax(books, on.year - 1, on)
    yield read_own_tax(books, on.year, on)


def _notes(found: SetAside) -> Iterator[str]:
    for each in found.years:
        yield from (note if len(found.years) == 1 else f"{each.tax_year}: {note}" for note in each.notes)
        if each.left.over_cents and not each.is_settled:
            yield f"{each.tax_year}: more is paid than the year comes to so far, which is not counted as money."
    if found.late:
        yield "Late: what has passed its day and still stands in the books. Pay it, or say that it is settled."
    if found.owed.sales_tax and not any(due.kind == "sales tax" for due in found.dues):
        yield "When sales tax is due is not said yet: ask your state's revenue office how often you file."
    if found.possible:
        yield "Possible sales tax: nobody has told you yet whether some of what you charged is taxed."
    yield from (f"{WORDS[name]}: paid ahead, and not counted as money." for name in found.on_the_other_side)
