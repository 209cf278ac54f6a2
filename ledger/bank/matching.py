"""Which line of a statement is which posting in the books: certain, doubtful, or new.

Amounts agree to the cent. A check number settles it; else the days lie near each other, and where several fit, the
name does. What is left open is shown with its candidates and never decided here. The windows are common practice of
bank postings, no source: a day or two ahead for value dates, ten days behind, half a year for checks.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections import Counter, defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from datetime import date, timedelta

from ledger.bank.text_keys import names_it

DAYS_AHEAD = 3
DAYS_BEHIND = 10
CHECK_DAYS_BEHIND = 180
MOST_CANDIDATES = 5
# More than ten checks in one deposit give sums by chance.
MOST_IN_A_BUNDLE = 10


@dataclass(frozen=True)
class OpenLine:
    """A line that is not matched yet. repeats: it may be a line of another file once more."""

    id: int
    day: date
    cents: int
    words: str
    number: str = ""
    repeats: int | None = None


@dataclass(frozen=True)
class OpenPosting:
    """A posting on the account that no line was matched with. who, number: of the entry, empty where it has none."""

    entry: int
    line: int
    day: date
    cents: int
    who: str = ""
    number: str = ""
    text: str = ""


Candidate = tuple[OpenPosting, ...]


@dataclass(frozen=True)
class Found:
    """What a line is: `certain` where that is settled, else the candidates, the likeliest first, or none."""

    line: OpenLine
    certain: Candidate = ()
    candidates: tuple[Candidate, ...] = ()


@dataclass
class _Board:
    """What is still open while lines are settled one after the other."""

    fitting: dict[int, list[OpenPosting]]
    taken: dict[int, Candidate] = field(default_factory=dict)
    used: set[tuple[int, int]] = field(default_factory=set)

    def settle(self, line: OpenLine, candidate: Candidate) -> None:
        self.taken[line.id] = candidate
        self.used.update((each.entry, each.line) for each in candidate)

    def open_for(self, line: OpenLine) -> list[OpenPosting]:
        return [each for each in self.fitting[line.id] if (each.entry, each.line) not in self.used]


def match(lines: Sequence[OpenLine], postings: Iterable[OpenPosting]) -> list[Found]:
    """What each line is, in the order of the lines. A posting is settled for one line at most."""
    every = sorted(postings, key=lambda each: (each.day, each.entry, each.line))
    by_cents: dict[int, list[OpenPosting]] = defaultdict(list)
    for each in every:
        by_cents[each.cents].append(each)
    board = _Board({line.id: [each for each in by_cents[line.cents] if _fits(line, each)] for line in lines})
    sure = [line for line in lines if line.repeats is None]
    _settle_by_number(sure, board)
    _settle_by_name(sure, board)
    _settle_alone(sure, board)
    _settle_equal_ones(sure, board)
    bundles = _Bundles(every)
    found = []
    for line in lines:
        if line.id in board.taken:
            found.append(Found(line, board.taken[line.id]))
            continue
        single = sorted(board.open_for(line), key=lambda each: abs(each.day - line.day))
        bundle = () if single else bundles.of(line, board)
        if bundle and line.repeats is None and all(each.number or each.entry == bundle[0].entry for each in bundle):
            board.settle(line, bundle)
            found.append(Found(line, bundle))
            continue
        candidates = [(each,) for each in single[:MOST_CANDIDATES]] + ([bundle] if bundle else [])
        found.append(Found(line, (), tuple(candidates)))
    return found


def _fits(line: OpenLine, posting: OpenPosting) -> bool:
    """Whether the days and the check numbers allow it."""
    behind = (line.day - posting.day).days
    if line.number and posting.number and line.number != posting.number:
        return False
    is_check = bool(line.number and line.number == posting.number)
    return -DAYS_AHEAD <= behind <= (CHECK_DAYS_BEHIND if is_check else DAYS_BEHIND)


def _settle_by_number(lines: Sequence[OpenLine], board: _Board) -> None:
    for line in lines:
        numbered = [each for each in board.open_for(line) if line.number and each.number == line.number]
        if len(numbered) == 1:
            board.settle(line, (numbered[0],))


def _settle_by_name(lines: Sequence[OpenLine], board: _Board) -> None:
    """Where one posting alone has the name that the line says, and no other line says it for that posting."""
    named = {}
    for line in _open(lines, board):
        fitting = [each for each in board.open_for(line) if names_it(line.words, each.who)]
        if len(fitting) == 1:
            named[line.id] = fitting[0]
    wanted = Counter((each.entry, each.line) for each in named.values())
    for line in lines:
        posting = named.get(line.id)
        if posting is not None and wanted[posting.entry, posting.line] == 1:
            board.settle(line, (posting,))


def _settle_alone(lines: Sequence[OpenLine], board: _Board) -> None:
    """Where a line and a posting have nobody but each other, until nothing more follows from that."""
    while True:
        open_lines = _open(lines, board)
        fitting = {line.id: board.open_for(line) for line in open_lines}
        wanted = Counter((each.entry, each.line) for every in fitting.values() for each in every)
        alone = [
            (line, fitting[line.id][0])
            for line in open_lines
            if len(fitting[line.id]) == 1 and wanted[fitting[line.id][0].entry, fitting[line.id][0].line] == 1
        ]
        if not alone:
            return
        for line, posting in alone:
            board.settle(line, (posting,))


def _settle_equal_ones(lines: Sequence[OpenLine], board: _Board) -> None:
    """Two equal coffees and two equal receipts: as many of the one as of the other go together by their days."""
    groups: dict[tuple[tuple[int, int], ...], list[OpenLine]] = defaultdict(list)
    for line in _open(lines, board):
        groups[tuple((each.entry, each.line) for each in board.open_for(line))].append(line)
    wanted = Counter(key for keys, group in groups.items() for key in keys for _ in group)
    for keys, group in groups.items():
        is_closed = len(keys) == len(group) > 1 and all(wanted[key] == len(group) for key in keys)
        said = {line.words for line in group}
        postings = board.open_for(group[0]) if is_closed else []
        if is_closed and len(said) == 1 and len({(each.who, each.text) for each in postings}) == 1:
            for line, posting in zip(sorted(group, key=lambda each: each.day), postings, strict=True):
                board.settle(line, (posting,))


def _open(lines: Sequence[OpenLine], board: _Board) -> list[OpenLine]:
    return [line for line in lines if line.id not in board.taken]


class _Bundles:
    """Several postings that come to one line: checks paid in together, or the postings of one entry."""

    def __init__(self, every: Sequence[OpenPosting]) -> None:
        self.came_in = [each for each in every if each.cents > 0]
        self.days = [each.day for each in self.came_in]
        # Entries with several postings on the account are few: a returned check with its charge.
        by_entry: dict[int, list[OpenPosting]] = defaultdict(list)
        for each in every:
            by_entry[each.entry].append(each)
        self.by_sum: dict[int, list[Candidate]] = defaultdict(list)
        for parts in by_entry.values():
            if len(parts) > 1:
                self.by_sum[sum(each.cents for each in parts)].append(tuple(parts))

    def of(self, line: OpenLine, board: _Board) -> Candidate:
        """The one set of postings that comes to the line, empty where there is none or more than one."""
        whole = [
            parts
            for parts in self.by_sum[line.cents]
            if _fits(line, parts[0]) and not any((each.entry, each.line) in board.used for each in parts)
        ]
        if len(whole) == 1:
            return whole[0]
        if line.cents < 0:
            return ()
        first = bisect_left(self.days, line.day - timedelta(days=DAYS_BEHIND))
        last = bisect_right(self.days, line.day + timedelta(days=DAYS_AHEAD))
        parts = [
            each
            for each in self.came_in[first:last]
            if each.cents < line.cents and (each.entry, each.line) not in board.used
        ]
        parts.sort(key=lambda each: (not each.number, abs(each.day - line.day)))
        checks = [each for each in parts if each.number] or parts
        return _only_sum(checks[:MOST_IN_A_BUNDLE], line.cents)


def _only_sum(postings: Sequence[OpenPosting], cents: int) -> Candidate:
    """The only set of two or more that adds to an amount, empty where there is none or a second one."""
    # Each sum that can be reached, with the set that first reached it, and None once another did.
    sums: dict[int, Candidate | None] = {0: ()}
    for posting in postings:
        for reached, members in list(sums.items()):
            total = reached + posting.cents
            if total <= cents:
                sums[total] = None if total in sums or members is None else (*members, posting)
    found = sums.get(cents)
    return found if found is not None and len(found) > 1 else ()
