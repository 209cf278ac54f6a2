"""File a sales tax return: its worksheet is kept as it stands, and what comes later goes into another one."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

from ledger.books.balances import read_accounts
from ledger.books.books import Books
from ledger.books.chain import head
from ledger.books.drafts import Draft
from ledger.books.entries import Sealed, check_date, reverse, seal
from ledger.errors import NotFound, NotPossible
from ledger.money import plain_amount
from ledger.periods import Period
from ledger.taxes.filed_return import FiledReturn
from ledger.taxes.filed_returns import keep_filing, read_filed, undo_filing
from ledger.taxes.filing_rules import filing_period, read_choices
from ledger.taxes.rate_gaps import rate_gaps
from ledger.taxes.return_entries import filing_entry
from ledger.taxes.return_of_entry import FiledThrough
from ledger.taxes.returns import Return, ReturnsBook, returns_book
from ledger.taxes.worksheet import OUT_OF_STATE
from ledger.taxes.worksheet_text import worksheet_as_text, worksheet_digest
from ledger.text import read_text

ASK = "ask your state's revenue office"


@dataclass(frozen=True)
class FileRequest:
    """period: None is the one that holds today. is_amended: another return for a period that was filed."""

    period: Period | None = None
    is_amended: bool = False


@dataclass(frozen=True)
class UnfileRequest:
    """The last filing, entered in error. why: what was wrong with it."""

    period: Period | None
    why: str


@dataclass(frozen=True)
class ToFile:
    """draft: None where tax on the totals is what was collected. is_claimed: below zero, and claimed back."""

    found: Return
    due_on: date
    is_claimed: bool
    draft: Draft | None
    remarks: tuple[str, ...]


def preview(books: Books, request: FileRequest) -> ToFile:
    """What would be filed. Raises NotPossible where the period runs or was filed, or nobody said how she files."""
    period = filing_period(books, request.period)
    book = returns_book(books, period)
    _check_sequence(book, period, request.is_amended)
    found = book.open_return(period)
    due_on = _due_on(books, found)
    if not period.is_over(books.today):
        raise NotPossible(
            f"{period.label} runs until {period.end}.",
            "File its return when it is over; «twopurse tax worksheet» shows it so far.",
            "period",
        )
    if request.is_amended and not book.has_news(found):
        raise NotPossible(f"Nothing came to {period.label} since its return.", "There is nothing to amend.", "period")
    filed_before = book.by_start.get(period.start, ())
    owed = found.worksheet.owed_cents - sum(each.sales_tax_cents for each in filed_before)
    borne = owed - book.newly_collected(found)
    is_claimed = found.worksheet.total_cents < 0 and read_choices(books, books.today).below_zero == "claim"
    draft = filing_entry(read_accounts(books), period.label, borne, books.today)
    return ToFile(found, due_on, is_claimed, draft, tuple(remarks(books, book, found)))


def perform(books: Books, request: FileRequest) -> tuple[ToFile, Sealed | None]:
    """File it. Raises as `preview` does."""
    with books.writing() as write:
        check_date(books, books.today)
        to_file = preview(books, request)
        through = head(books.connection).number
        sealed = seal(books, write, to_file.draft) if to_file.draft is not None else None
        keep_filing(write, _as_filed(books, to_file, through, sealed))
    return to_file, sealed


def unfile(books: Books, request: UnfileRequest) -> Period:
    """Take the last filing back; its period. Raises as `check_can_unfile` does."""
    why = read_text(request.why, "why", limit=300)
    with books.writing() as write:
        check_date(books, books.today)
        last = check_can_unfile(books, request.period)
        undo_filing(books, write, last.id, why)
        if last.entry is not None:
            reverse(books, write, last.entry, why, books.today)
    return last.period


def check_can_unfile(books: Books, wanted: Period | None) -> FiledReturn:
    """The return to be taken back: the last that was filed, with nothing paid. Raises NotPossible, NotFound."""
    period, filed = filing_period(books, wanted), read_filed(books)
    several = [each for each in filed if each.period == period]
    if not several:
        raise NotFound(f"No return of {period.label} is filed.", "There is nothing to take back.", "period")
    if several[-1] != filed[-1]:
        raise NotPossible(
            f"The return of {filed[-1].period.label} was filed after it.", "Take that one back first.", "period"
        )
    if filed[-1].paid_cents or filed[-1].allowance_kept_cents:
        raise NotPossible(
            f"The return of {period.label} was paid.", "Undo its payment first, with «twopurse reverse».", "period"
        )
    return filed[-1]


def remarks(books: Books, book: ReturnsBook, found: Return) -> Iterator[str]:
    """What she should know before she signs it."""
    sheet, choices = found.worksheet, read_choices(books, books.today)
    for each in sheet.unanswered:
        yield f"«{each}» was sold and nobody was asked whether it is taxed: {ASK}."
    if sheet.total_cents < 0 and choices.below_zero is None and found.filed is None:
        yield f"It is below zero, and is carried forward; may it be claimed back? {ASK.capitalize()}."
    late = book.late_entries(found.period)
    if (late or found.earlier) and choices.corrections is None:
        yield f"What came late goes into the next return; may it, or is an amended one due? {ASK.capitalize()}."
    yield from (each.sentence for each in rate_gaps(books) if each.start <= found.period.end)
    if any(each.reason == OUT_OF_STATE for each in sheet.exempt):
        yield from _without_proof(books, found.period)
    before = [each.label for each in book.open_periods() if each.end < found.period.start]
    if before and found.filed is None:
        named = before[0] if len(before) == 1 else f"{before[0]} to {before[-1]}"
        yield f"No return is filed for {named}: one is due even without sales."


def _without_proof(books: Books, period: Period) -> Iterator[str]:
    """Sales that left the state with nothing kept that shows it."""
    rows = books.rows(
        "select distinct shipment.job from shipment join entry on entry.number = shipment.entry "
        "where place is not null and tracking is null and date between ? and ? and not exists "
        "(select 1 from attachment where attachment.entry = shipment.entry or attachment.job = shipment.job) "
        "and not exists (select 1 from entry as mirror where mirror.reverses = shipment.entry) "
        "order by shipment.job",
        (period.start.isoformat(), period.end.isoformat()),
    )
    if rows:
        jobs = ", ".join(str(row["job"]) for row in rows)
        yield f"Shipped with no proof kept, jobs {jobs}: attach the shipper's receipt with «twopurse attach»."


def _check_sequence(book: ReturnsBook, period: Period, is_amended: bool) -> None:
    several = book.by_start.get(period.start, ())
    if several and not is_amended:
        raise NotPossible(
            f"The return of {period.label} was filed on {several[-1].through.filed_on}.",
            "What came since goes into the next one, or into an amended one with --amended.",
            "period",
        )
    if is_amended and not several:
        raise NotPossible(
            f"The return of {period.label} is not filed yet.", "File it without --amended first.", "amended"
        )


def _due_on(books: Books, found: Return) -> date:
    if found.period.end < books.settings.begun_on and not found.entries:
        raise NotPossible(
            f"{found.period.label} lies before {books.settings.begun_on}, the day these books began.",
            "Its return is not one of these books.",
            "period",
        )
    if found.due_on is None:
        raise NotPossible(
            "How often you file, and by when, is not in the books.",
            "Say it with «twopurse tax period», as your permit or your state's revenue office says.",
            "period",
        )
    return found.due_on


def _as_filed(books: Books, to_file: ToFile, through: int, sealed: Sealed | None) -> FiledReturn:
    sheet, period = to_file.found.worksheet, to_file.found.period
    before = ReturnsBook(books).by_start.get(period.start, ())
    text = worksheet_as_text(sheet)
    return FiledReturn(
        id=0,
        period=period,
        sequence=to_file.found.sequence,
        due_on=to_file.due_on,
        through=FiledThrough(through, books.today),
        sales_tax_cents=sheet.owed_cents - sum(each.sales_tax_cents for each in before),
        use_tax_cents=sheet.use_tax_cents - sum(each.use_tax_cents for each in before),
        allowance_cents=sheet.allowance_cents,
        carried_cents=sheet.carried_cents,
        is_claimed=to_file.is_claimed,
        worksheet=text,
        digest=worksheet_digest(text),
        entry=sealed.number if sealed is not None else None,
        paid_cents=0,
        allowance_kept_cents=0,
        use_tax_paid_cents=0,
    )


def shown_total(books: Books, found: Return) -> str:
    """What a return comes to, in a few words."""
    cents = found.worksheet.total_cents
    amount = plain_amount(abs(cents), books.currency)
    return f"{amount} to pay" if cents >= 0 else f"{amount} below zero"
