"""An opening out of the texts of its fields, as the form and the command have them. An empty field tells nothing."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from decimal import Decimal
from functools import partial
from typing import Any, Protocol, TypeVar

from ledger.actions import opening_written as written
from ledger.actions.opening_request import BALANCES, LoanBefore, MachineBefore, OpeningRequest, TaxBefore
from ledger.errors import NotUnderstood
from ledger.text import read_name

Read = TypeVar("Read")
TAX_FIELDS = ("sales_tax", "taxable", "gross")
LOAN_FIELDS = ("loan", "loan_percent", "loan_payment", "loan_next", "lender")


class FieldTexts(Protocol):
    """Where the texts come from, and how amounts, lengths and days are written there."""

    def text(self, field: str) -> str:
        """What stands in a field, empty where nothing does."""

    def read(self, field: str, reader: Callable[[str], Read], instead: Read) -> Read:
        """What a field says; `instead` where it is kept what is wrong with it, to be told with other faults."""

    def amount(self, text: str, field: str, *, zero: bool) -> int: ...

    def number(self, text: str, field: str) -> Decimal: ...

    def percent(self, text: str, field: str) -> Decimal: ...

    def day(self, text: str, field: str) -> date: ...


def opening_told(told: FieldTexts) -> OpeningRequest:
    """Raises Refused, with its field, where the texts' own reading does."""
    empty = OpeningRequest()
    return OpeningRequest(
        balances=tuple((role, cents) for role in BALANCES if (cents := _cents(told, role)) is not None),
        debts=told.read("debts", lambda text: written.read_debts(text, _amount(told, "debts", zero=True)), empty.debts),
        deposits=told.read(
            "deposits",
            lambda text: written.read_deposits(
                text, _amount(told, "deposits"), lambda each: told.number(each, "deposits")
            ),
            empty.deposits,
        ),
        certificates=_list(told, "certificates", written.read_certificates_out),
        tax=_tax(told) if any(told.text(each) for each in TAX_FIELDS) else None,
        income=_named(told, "income", written.INCOME),
        expenses=_named(told, "expenses", written.EXPENSES),
        estimated=told.read(
            "estimated",
            lambda text: written.read_estimated(text, _amount(told, "estimated", zero=True)),
            empty.estimated,
        ),
        machine=MachineBefore(
            cost_cents=_cents(told, "machine_cost"),
            came_on=_day(told, "machine_came"),
            taken_in_cents=_cents(told, "taken_in"),
            earned_cents=_cents(told, "earned"),
        ),
        loan=_loan(told) if any(told.text(each) for each in LOAN_FIELDS) else None,
    )


def _tax(told: FieldTexts) -> TaxBefore:
    """What was sold stands beside the tax that was taken on it."""
    nothing: tuple[tuple[str | None, int], ...] = ()
    taxable, gross = _cents(told, "taxable"), _cents(told, "gross")
    taxes = told.read(
        "sales_tax", lambda text: written.read_taxes(_taken(text), _amount(told, "sales_tax", zero=True)), nothing
    )
    return TaxBefore(taxes, taxable, gross)


def _taken(text: str) -> str:
    if not text:
        raise NotUnderstood("How much sales tax was taken on it?", "Give it too, 0 where it was none.", "sales_tax")
    return text


def _loan(told: FieldTexts) -> LoanBefore:
    """A loan is told whole: what is left, its rate, its payment and the day of the next one."""
    # What is there is read before it is said what is not.
    fields = sorted(LOAN_FIELDS, key=lambda field: not told.text(field))
    said: dict[str, Any] = {field: told.read(field, partial(_loan_field, told, field), None) for field in fields}
    return LoanBefore(
        cents=said["loan"] or 0,
        percent=said["loan_percent"] if said["loan_percent"] is not None else Decimal(0),
        payment_cents=said["loan_payment"] or 0,
        next_on=said["loan_next"] or date.max,
        lender=said["lender"],
    )


def _loan_field(told: FieldTexts, field: str, text: str) -> Any:
    """What one field says of the loan; all but the lender are needed."""
    if field == "lender":
        return read_name(text, field) if text else None
    there = _there(text, field)
    if field == "loan_percent":
        return told.percent(there, field)
    if field == "loan_next":
        return told.day(there, field)
    return told.amount(there, field, zero=False)


def _there(text: str, field: str) -> str:
    if not text:
        raise NotUnderstood(
            "Of the loan this is not said.", "Give what is left, its rate, its payment and the next day.", field
        )
    return text


def _cents(told: FieldTexts, field: str) -> int | None:
    return told.read(field, lambda text: told.amount(text, field, zero=True) if text else None, None)


def _day(told: FieldTexts, field: str) -> date | None:
    return told.read(field, lambda text: told.day(text, field) if text else None, None)


def _list(told: FieldTexts, field: str, reader: Callable[[str, written.Amount], tuple[Read, ...]]) -> tuple[Read, ...]:
    return told.read(field, lambda text: reader(text, _amount(told, field)), ())


def _named(told: FieldTexts, field: str, example: str) -> tuple[tuple[str, int], ...]:
    return told.read(field, lambda text: written.read_named(text, _amount(told, field, zero=True), field, example), ())


def _amount(told: FieldTexts, field: str, *, zero: bool = False) -> written.Amount:
    return lambda text: told.amount(text, field, zero=zero)
