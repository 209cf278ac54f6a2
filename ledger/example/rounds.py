"""What comes round by itself: the card company pays, cash goes to the bank, and at a month's end money is put by."""

from __future__ import annotations

from ledger.actions import transfer
from ledger.books.balances import balance, movements, read_accounts
from ledger.books.books import Books
from ledger.example.card_company import CardCompany
from ledger.example.data_files import cents, read
from ledger.example.diary import Act, Diary
from ledger.example.working_days import MONTHS_BACK, WorkingDays
from ledger.money import percent_of, round_half_up
from ledger.periods import Period

_MONDAY, _THURSDAY = 0, 3
_WORKSHOP_CARD_DAY, _PERSONAL_CARD_DAY = 5, 20


def weekly_round(diary: Diary, days: WorkingDays, company: CardCompany) -> None:
    """Write the float, the card company's payouts and the ways to the bank into the diary."""
    diary.write(days.first, _fill_cash_box)
    for day in days.all():
        if day.weekday() == _MONDAY:
            diary.write(day, company.pay_out)
        if day.weekday() == _THURSDAY:
            diary.write(day, _carry_cash)


def monthly_round(diary: Diary, days: WorkingDays) -> None:
    """Write the paying of both cards, the setting aside and the drawing into the diary."""
    for month in range(1, MONTHS_BACK + 1):
        start = days.month(month).start
        if start.replace(day=_WORKSHOP_CARD_DAY) <= days.last:
            diary.write(days.in_month(month, _WORKSHOP_CARD_DAY), _pay_workshop_card)
        if start.replace(day=_PERSONAL_CARD_DAY) <= days.last:
            diary.write(days.in_month(month, _PERSONAL_CARD_DAY), _pay_personal_card)
    for period, last_day in days.last_of_months():
        diary.write(last_day, _set_aside(period))
        if days.month_index(last_day) >= read("workshop")["monthly"]["draws_from_month"]:
            diary.write(last_day, _draw)


def _fill_cash_box(books: Books) -> None:
    _move(books, cents(read("workshop")["weekly"]["cash_float"]), "checking", "cash box", "Change for the cash box")


def _carry_cash(books: Books) -> None:
    weekly = read("workshop")["weekly"]
    held = balance(books, "cash_box", books.today)
    if held > cents(weekly["carry_cash_above"]):
        # Notes alone: the coins stay in the box.
        carried = (held - cents(weekly["cash_float"])) // 10_00 * 10_00
        _move(books, carried, "cash box", "checking", "Cash carried to the bank")


def _pay_workshop_card(books: Books) -> None:
    _move(books, -balance(books, "workshop_card", books.today), "checking", "workshop card", "Workshop card paid")


def _pay_personal_card(books: Books) -> None:
    owed = -balance(books, "personal_card", books.today)
    _move(books, owed, "household checking", "personal card", "Personal card paid")


def _set_aside(month: Period) -> Act:
    def act(books: Books) -> None:
        roles = read_accounts(books)
        moved = movements(books, max(month.start, books.settings.begun_on), books.today)
        taken = tax_taken(books, month)
        share = percent_of(-moved[roles["job_income"].id], read("workshop")["monthly"]["set_aside_percent"])
        whole = -(-(taken + round_half_up(share)) // 1_00) * 1_00
        if whole < balance(books, "checking", books.today):
            _move(books, whole, "checking", "tax savings", f"Set aside for {month.label}")

    return act


def tax_taken(books: Books, month: Period) -> int:
    """The sales tax on what was sold in a month, in cents, less what was given back; whatever was paid over in it."""
    return int(
        books.value(
            "select coalesce(sum(cents), 0) from tax_line join entry on entry.number = tax_line.entry "
            "where date between ? and ?",
            (month.start.isoformat(), month.end.isoformat()),
        )
    )


def _draw(books: Books) -> None:
    monthly = read("workshop")["monthly"]
    spare = balance(books, "checking", books.today) - cents(monthly["cushion"])
    step = cents(monthly["draw_step"])
    amount = min(cents(monthly["draw_at_most"]), spare * monthly["draw_percent"] // 100 // step * step)
    if amount > 0:
        transfer.perform(books, transfer.TransferRequest("draw", amount, "checking", "household checking"))


def _move(books: Books, amount: int, from_name: str, to_name: str, why: str) -> None:
    if amount > 0:
        transfer.perform(books, transfer.TransferRequest("move", amount, from_name, to_name, why))
