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
        yield f"{'in use since':<12}{'basis':>12}{'5-year':>19}{'7-year':>19}  what"
        for each in memo.lines:
            yield _line(each, amount)
        sums = "".join(f"{amount(memo.total_cents(of)):>19}" for of in CLASSES)
        yield f"{f'in {memo.year}':<24}{sums}"
        yield ""
        yield from _remarks(memo)
    for part in memo.came_back:
        yield f"{part.what}, {part.day}, {amount(-part.cents)}: which gain or loss, and what of the last year?"


def _line(line: MemoLine, amount: Amount) -> str:
    cells = "".join(_cell(year, amount) for _, year in line.years)
    return f"{line.part.placed_on.isoformat():<12}{amount(line.basis_cents):>12}{cells}  {line.part.what}"


def _cell(year: Year | None, amount: Amount) -> str:
    return f"{'written down' if year is None else f'{year.percent} % {amount(year.cents):>10}':>19}"


def _remarks(memo: Memo) -> Iterator[str]:
    conventions = sorted({each.convention for each in memo.lines})
    yield f"Convention: {', '.join(conventions)}, from what was placed in service in each year."
    shares = sorted({each.business_percent for each in memo.lines if each.business_percent != 100})
    if shares:
        yield f"The workshop's share of its use is taken: {', '.join(map(plain_percent, shares))} %. Does it hold?"
    if any(each.part.basis_cents < each.part.cents for each in memo.lines):
        yield "Yours first: it stands at the lesser of cost and worth. Is section 179 open to it?"
