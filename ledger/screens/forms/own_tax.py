"""Forms of the set-aside: move to tax savings, pay her own tax, and what her own tax goes by."""

from __future__ import annotations

from collections.abc import Sequence

from ledger.actions import move_to_savings, own_tax_choices, pay_estimated
from ledger.books.balances import read_accounts
from ledger.books.books import Books
from ledger.errors import NotUnderstood
from ledger.money import read_percent
from ledger.screens.forms.field import Asked
from ledger.screens.forms.form import Form
from ledger.screens.showing import paired
from ledger.set_aside.estimated import read_estimated
from ledger.set_aside.own_tax import estimated_figures, high_income_limit, read_own_tax
from ledger.spending.spend import PAYING_ROLES
from ledger.taxes.own_returns import filing_status, total_tax, wages_cents, withheld_cents
from ledger.taxes.self_employment import STATUSES

_YES_NO = ("no", "yes")
_WITH_RETURN = "return"
_YEAR_DIGITS = 4
_LINE = 44
DECIDES = "Your accountant decides what you owe."


class _YearForm(Form):
    """A form that asks for a tax year, or for yes and no."""

    def tax_year(self, usual: int) -> int:
        return self.read("year", lambda text: _read_year(text, usual), usual)

    def is_yes(self, name: str) -> bool:
        return bool(self.text(name)) and self.choice(name, _YES_NO, "Yes or no?") == "yes"


class SetAsideForm(Form):
    """All that is to be moved, unless another amount is typed."""

    title_words = "Move to tax savings"

    def asks(self) -> Sequence[Asked]:
        return (Asked("amount", "Amount", hint="if empty: all of it"), Asked("on", "Date", value="today"))

    def preview(self) -> Sequence[str]:
        settled = move_to_savings.preview(self.books_on(), self.sound(self._request()))
        lines = [paired(each.account.name, self.showing.plain(each.cents), _LINE) for each in settled.draft.postings]
        return [*lines, paired("Still to move after it", self.showing.plain(settled.lacking_cents), _LINE)]

    def save(self) -> str:
        settled, sealed = move_to_savings.perform(self.books_on(), self.sound(self._request()))
        return f"Entry {sealed.number}: {self.showing.amount(settled.cents)} to tax savings."

    def _request(self) -> move_to_savings.SetAsideRequest:
        return move_to_savings.SetAsideRequest(self.amount("amount") if self.text("amount") else None)


class OwnTaxForm(_YearForm):
    """A payment of her own tax. The amount begins with what the next date wants."""

    title_words = "Pay your own income and self-employment tax"

    def __init__(self, books: Books) -> None:
        super().__init__(books)
        self.names = [each.name for each in read_accounts(books).all if each.role in PAYING_ROLES]
        self.usual = pay_estimated.preview(books, pay_estimated.EstimatedTaxRequest(1)).paid_for

    def asks(self) -> Sequence[Asked]:
        return (
            Asked("amount", "Amount", hint=self._wanted()),
            Asked("from", "Paid from", pay_estimated.USUAL_ACCOUNT, known=self.names, only_known=True),
            Asked("year", "Tax year", value=str(self.usual.tax_year)),
            Asked("period", "Period 1-4", value=str(self.usual.period), hint="or return"),
            Asked("on", "Date", value="today"),
        )

    def preview(self) -> Sequence[str]:
        settled = pay_estimated.preview(self.books_on(), self.sound(self._request()))
        return [
            str(settled.paid_for),
            *(paired(each.account.name, self.showing.plain(each.cents), _LINE) for each in settled.draft.postings),
        ]

    def save(self) -> str:
        settled, sealed = pay_estimated.perform(self.books_on(), self.sound(self._request()))
        return f"Entry {sealed.number}: {settled.paid_for}."

    def _wanted(self) -> str:
        year = read_own_tax(self.books, self.usual.tax_year, self.books.today)
        found = read_estimated(self.books, year, self.books.today)
        wanted = sum(each.left_cents for each in found.instalments if each.period.number <= (self.usual.period or 0))
        return f"{self.showing.plain(wanted)} is wanted" if wanted else ""

    def _request(self) -> pay_estimated.EstimatedTaxRequest:
        with_return = bool(self.text("period")) and _WITH_RETURN.startswith(self.text("period").casefold())
        return pay_estimated.EstimatedTaxRequest(
            cents=self.amount("amount"),
            from_name=self.text("from"),
            tax_year=self.tax_year(self.usual.tax_year),
            period=None if with_return else self.read("period", _read_period, None),
            with_return=with_return,
        )


class IncomeTaxForm(_YearForm):
    """The accountant's percentage with its two answers, or last year's tax."""

    title_words = "What income tax goes by"

    def asks(self) -> Sequence[Asked]:
        return (
            Asked("percent", "% of net profit", hint="if empty: by last year"),
            Asked("with_self_employment", "Has self-empl. tax?", value="no", known=_YES_NO, only_known=True),
            Asked("with_state", "Has state tax?", value="no", known=_YES_NO, only_known=True),
            Asked("asked", "Whom you asked", value="accountant"),
        )

    def preview(self) -> Sequence[str]:
        request = self.sound(self._request())
        if request.percent is None:
            return ["By last year's total tax of the whole return, which has self-employment tax in it.", DECIDES]
        return [f"{self.showing.percent(request.percent)} of the net profit on the cash method.", DECIDES]

    def save(self) -> str:
        own_tax_choices.say_income_tax(self.books, self.sound(self._request()))
        return "Kept: what income tax goes by."

    def _request(self) -> own_tax_choices.IncomeTaxRequest:
        return own_tax_choices.IncomeTaxRequest(
            percent=self.read("percent", lambda text: read_percent(text, "percent") if text else None, None),
            asked=self.text("asked"),
            with_self_employment=self.is_yes("with_self_employment"),
            with_state=self.is_yes("with_state"),
        )


class LastYearForm(_YearForm):
    """What a year's whole return came to."""

    title_words = "What last year's return came to"

    def asks(self) -> Sequence[Asked]:
        year = self.books.today.year - 1
        return (
            Asked("amount", "Total tax", hint="of the whole return"),
            Asked("year", "Tax year", value=str(year)),
            Asked(
                "high_income", "Above 150,000?", value="no", hint="75,000 separately", known=_YES_NO, only_known=True
            ),
            Asked("part_year", "Part of a year?", value="no", known=_YES_NO, only_known=True),
        )

    def preview(self) -> Sequence[str]:
        before = total_tax(self.books, self.tax_year(self.books.today.year - 1), self.books.today)
        said = [] if before is None else [f"Said before: {self.showing.amount(before.total_tax_cents)}."]
        figures = estimated_figures(self.books, self.books.today.year, self.books.today)
        limit = [] if figures is None else [high_income_limit(figures, self.books.currency)]
        return [*said, "The next year may go by it: a quarter of it on each of the four dates.", *limit, DECIDES]

    def save(self) -> str:
        year = own_tax_choices.say_last_year(self.books, self.sound(self._request()))
        return f"Kept: what the return of {year} came to."

    def _request(self) -> own_tax_choices.LastYearRequest:
        return own_tax_choices.LastYearRequest(
            total_cents=self.amount("amount", zero=bool(self.text("amount"))),
            high_income=self.is_yes("high_income"),
            part_year=self.is_yes("part_year"),
            tax_year=self.tax_year(self.books.today.year - 1),
        )


class WagesForm(_YearForm):
    """Her own wages elsewhere, and how she files."""

    title_words = "Your own wages elsewhere"

    def asks(self) -> Sequence[Asked]:
        books, year = self.books, self.books.today.year
        said = wages_cents(books, year, books.today), withheld_cents(books, year, books.today)
        hints = [f"{self.showing.plain(cents)} until now" if cents else "" for cents in said]
        return (
            Asked("amount", "Wages in the year", hint=hints[0]),
            Asked("withheld", "Withheld of them", hint=hints[1]),
            Asked("year", "Tax year", value=str(year)),
            Asked("filing", "You file", value=filing_status(books, books.today) or "", hint=", ".join(STATUSES)),
        )

    def preview(self) -> Sequence[str]:
        self._request()  # what cannot be read is told beside its field
        return [
            "Wages use up the wage base of social security first, and the threshold of additional Medicare tax.",
            "Withheld: with a percentage what is withheld for the workshop's sake; with last year's tax all of it.",
        ]

    def save(self) -> str:
        year = own_tax_choices.say_own_wages(self.books, self.sound(self._request()))
        return f"Kept: your wages elsewhere in {year}."

    def _request(self) -> own_tax_choices.WagesRequest:
        return own_tax_choices.WagesRequest(
            wages_cents=self.amount("amount", zero=True) if self.text("amount") else None,
            withheld_cents=self.amount("withheld", zero=True) if self.text("withheld") else None,
            tax_year=self.tax_year(self.books.today.year),
            status=self.choice("filing", STATUSES, "How do you file?") if self.text("filing") else None,
        )


class SettledForm(_YearForm):
    """A year's return, filed and paid."""

    title_words = "A return is settled"

    def asks(self) -> Sequence[Asked]:
        return (
            Asked("year", "Tax year", value=str(self.books.today.year - 1)),
            Asked("settled", "Filed and paid?", value="yes", known=_YES_NO, only_known=True),
        )

    def preview(self) -> Sequence[str]:
        year = self.tax_year(self.books.today.year - 1)
        left = read_own_tax(self.books, year, self.books.today).left.total_cents
        return [paired(f"Left of {year} as the books have it", self.showing.plain(left), _LINE)]

    def save(self) -> str:
        request = own_tax_choices.SettledRequest(self.tax_year(self.books.today.year - 1), self.is_yes("settled"))
        own_tax_choices.settle_year(self.books, self.sound(request))
        return f"The return of {request.tax_year} {'is settled' if request.settled else 'counts again'}."


def _read_year(text: str, usual: int) -> int:
    if not text:
        return usual
    if len(text) != _YEAR_DIGITS or not (text.isascii() and text.isdigit()):
        raise NotUnderstood("This is no year.", "Give four digits.", "year")
    return int(text)


def _read_period(text: str) -> int | None:
    if not text:
        return None
    if not (len(text) == 1 and text.isascii() and text.isdigit()):
        raise NotUnderstood("This is no period.", "Give 1 to 4, or return.", "period")
    return int(text)
