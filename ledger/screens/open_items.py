"""What is open between the workshop and others: customers' debts, card money on its way, gift certificates out."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from ledger.books.books import Books
from ledger.jobs.bench import GoneJob, read_held
from ledger.jobs.debts import OwedJob, read_owed_jobs
from ledger.jobs.gift_certificates import UNUSED, GiftCertificate, read_certificates
from ledger.jobs.payouts import CardMoney, card_money
from ledger.screens.showing import Showing, counted, padded, paired

# Cells of a line of the page.
# The widest line, and what a narrow window takes from it: the frame, the space in it and the scroll bar.
_LINE, _BESIDE_LINE = 72, 5


@dataclass(frozen=True)
class OpenItems:
    """gifts: the certificates on which something is left. held: jobs that are gone with a deposit held yet."""

    debts: tuple[OwedJob, ...]
    cards: tuple[CardMoney, ...]
    gifts: tuple[GiftCertificate, ...]
    held: tuple[GoneJob, ...]

    @property
    def debts_cents(self) -> int:
        return sum(each.cents for each in self.debts)

    @property
    def cards_cents(self) -> int:
        return sum(each.cents for each in self.cards)

    @property
    def held_cents(self) -> int:
        return sum(each.job.deposit_cents for each in self.held)

    @property
    def gifts_cents(self) -> int:
        return sum(each.left_cents for each in self.gifts)


def read_open_items(books: Books) -> OpenItems:
    """As of the end of today."""
    out = tuple(each for each in read_certificates(books) if each.left_cents)
    return OpenItems(read_owed_jobs(books), card_money(books, books.today, books.today), out, read_held(books))


def open_line(items: OpenItems, showing: Showing) -> str:
    """All of it in a line; empty where nothing is open."""
    told = [f"customers owe {showing.amount(items.debts_cents)}"] if items.debts else []
    told += [f"cards {showing.amount(items.cards_cents)}"] if items.cards else []
    told += [f"gifts {showing.amount(items.gifts_cents)}"] if items.gifts else []
    told += [f"held {showing.amount(items.held_cents)}"] if items.held else []
    return " · ".join(told)


def page_lines(books: Books, showing: Showing, window_cells: int) -> Iterator[str]:
    """Each debt, each card payment and each certificate, with their sums."""
    cells = min(_LINE, window_cells - _BESIDE_LINE)
    items, amount = read_open_items(books), showing.plain
    yield paired("Customers owe", amount(items.debts_cents), cells)
    for debt in items.debts:
        since = f"since {showing.day(debt.since)}, {counted((books.today - debt.since).days, 'day')}"
        yield paired(f"  Job {debt.job:<5} {padded(debt.customer.name, 20)} {since}", amount(debt.cents), cells)
    yield ""
    yield paired("Card money on its way", amount(items.cards_cents), cells)
    for each in items.cards:
        of = f"job {each.job}" if each.job is not None else "a gift certificate"
        yield paired(f"  {showing.day(each.day)}, {of}", amount(each.cents), cells)
    if items.held:
        yield ""
        yield paired("Deposits held for jobs that are gone", amount(items.held_cents), cells)
    for job in (each.job for each in items.held):
        yield paired(f"  Job {job.id:<5} {job.customer.name}", amount(job.deposit_cents), cells)
    yield ""
    yield paired("Gift certificates out", amount(items.gifts_cents), cells)
    for gift in items.gifts:
        sold = f"{gift.code}, sold {showing.day(gift.sold_on)} over {amount(gift.sold_cents)}"
        yield paired(f"  {sold}" + (f" to {gift.holder}" if gift.holder else ""), amount(gift.left_cents), cells)
    if items.gifts:
        yield UNUSED
