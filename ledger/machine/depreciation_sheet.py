"""The depreciation memo as lines of a page, for her accountant."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from ledger.machine.depreciation import CLASSES, Year
from ledger.machine.depreciation_record import FOR_THE_ACCOUNTANT, Memo, MemoLine
from ledger.money import plain_percent

Amount = Callable[[int], str]


def memo_lines(memo: Memo, amount: Amount) -> Iterator[str]:
    """The parts with what both class lives give in the year, the sum, and what is for the accountant to decide."""
    yield from FOR_THE_ACCOUNTANT
    yield ""
    if not memo.lines:
        yield f"Nothing that a machine cost was in use by the end of {memo.year}."
    else:
        for each in memo.lines:
            yield from _line(each, amount)
        sums = ", ".join(f"{of}-year {amount(memo.total_cents(of))}" for of in CLASSES)
        yield f"In {memo.year}, all of it together: {sums}"
        yield ""
        yield from _remarks(memo)
    for part in memo.came_back:
        yield f"{part.what}, {part.day}, {amount(-part.cents)}: which gain or loss, and what of the last year?"


def _line(line: MemoLine, amount: Amount) -> Iterator[str]:
    yield f"{line.part.what}: in use since {line.part.placed_on}, basis {amount(line.basis_cents)}"
    yield "".join(f"    {of}-year {_year(year, amount)}" for of, year in line.years).rstrip()


def _year(year: Year | None, amount: Amount) -> str:
    return f"{'written down' if year is None else f'{plain_percent(year.percent)} %  {amount(year.cents)}':<22}"


def _remarks(memo: Memo) -> Iterator[str]:
    conventions = sorted({each.convention for each in memo.lines})
    yield f"Convention: {', '.join(conventions)}, from these parts alone; other property of a year counts too."
    shares = sorted({each.business_percent for each in memo.lines if each.business_percent != 100})
    if shares:
        yield f"The workshop's share of its use is taken: {', '.join(map(plain_percent, shares))} %. Does it hold?"
    if any(each.part.basis_cents < each.part.cents for each in memo.lines):
        yield "Yours first: it stands at the lesser of cost and worth. Is section 179 open to it?"
