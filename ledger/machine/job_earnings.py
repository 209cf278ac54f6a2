"""What a job earns: what its lines brought, less the material and the card fees that went with them.

Receipts name no job, so material is spread: batting over the lines of batting, backing over other goods sold, thread
and needles over the area quilted; where there are none of these, over all lines by what they brought. A rule of ours,
without a source. What every job needs whether it comes or not (insurance, advertising) is nobody's here.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from math import ceil
from typing import Literal

from ledger.money import round_half_up, split_in_proportion

Material = Literal["batting", "backing", "thread", "needles_and_parts"]
MATERIALS: tuple[Material, ...] = ("batting", "backing", "thread", "needles_and_parts")


@dataclass(frozen=True)
class LineSold:
    """A line of a job as it was sold in a period, less what went back; in cents. square_inches: of the piece.

    is_batting, is_goods: what it sold. is_by_area: whether it is priced by the area, as work at the frame is.
    """

    job: int
    customer: str
    kind: str
    cents: int
    square_inches: Fraction
    is_batting: bool = False
    is_goods: bool = False
    is_by_area: bool = False


@dataclass(frozen=True)
class Earning:
    """What one kind of work, or one customer, brought. Amounts in cents; hours: those that were logged.

    an_hour_cents: what is left for each logged hour, of the jobs that have any. a_thousand_inches_cents: what is left
    for a thousand square inches of the pieces.
    """

    what: str
    jobs: int
    income_cents: int
    material_cents: int
    fee_cents: int
    hours: Fraction
    an_hour_cents: int | None
    square_inches: Fraction
    a_thousand_inches_cents: int | None

    @property
    def left_cents(self) -> int:
        return self.income_cents - self.material_cents - self.fee_cents


@dataclass(frozen=True)
class Fastest:
    """The kind of work that pays the machine off fastest. by: what was compared. jobs: how many of it would do."""

    kind: str
    by: Literal["hour", "area"]
    jobs: int | None


@dataclass(frozen=True)
class JobEarnings:
    by_kind: tuple[Earning, ...]
    by_customer: tuple[Earning, ...]
    fastest: Fastest | None


@dataclass
class _Sum:
    """A line with its parts of what was spread, or several added up."""

    jobs: set[int] = field(default_factory=set)
    pieces: dict[int, Fraction] = field(default_factory=dict)
    income: int = 0
    material: int = 0
    fee: int = 0
    hours: Fraction = Fraction(0)
    left_of_logged: Fraction = Fraction(0)


def job_earnings(
    lines: Sequence[LineSold],
    materials: Mapping[Material, int],
    fees: Mapping[int, int],
    hours: Mapping[int, Fraction],
    left_cents: int,
) -> JobEarnings:
    """materials: spent in the period, by category. fees, hours: by job. left_cents: what is left to earn."""
    parts = _parts(lines, materials, fees, hours)
    by_kind = _added(lines, parts, lambda line: line.kind)
    at_the_frame = {each.kind for each in lines if each.is_by_area}
    return JobEarnings(
        by_kind=by_kind,
        by_customer=_added(lines, parts, lambda line: line.customer),
        fastest=_fastest([each for each in by_kind if each.what in at_the_frame], left_cents),
    )


def _parts(
    lines: Sequence[LineSold], materials: Mapping[Material, int], fees: Mapping[int, int], hours: Mapping[int, Fraction]
) -> list[_Sum]:
    """For each line what it brought and its parts of material, fees and hours."""
    material = [0] * len(lines)
    for name, cents in materials.items():
        for at, part in _spread(cents, lines, _WEIGHTS[name]).items():
            material[at] += part
    parts = [
        _Sum({each.job}, {each.job: each.square_inches}, each.cents, material[at]) for at, each in enumerate(lines)
    ]
    for job in {each.job for each in lines}:
        own = [at for at, each in enumerate(lines) if each.job == job]
        for at, fee in zip(own, split_in_proportion(fees.get(job, 0), _weights(lines, own)), strict=True):
            parts[at].fee = fee
        _share_hours(parts, lines, own, hours.get(job, Fraction(0)))
    return parts


def _share_hours(parts: Sequence[_Sum], lines: Sequence[LineSold], own: Sequence[int], hours: Fraction) -> None:
    """Hours go to the lines of work, by what they brought; to all lines where a job is goods alone."""
    if not hours:
        return
    worked = [at for at in own if not lines[at].is_goods] or list(own)
    weights = _weights(lines, worked)
    for at, weight in zip(worked, weights, strict=True):
        parts[at].hours = hours * weight / sum(weights)
        parts[at].left_of_logged = Fraction(parts[at].income - parts[at].material - parts[at].fee)


def _weights(lines: Sequence[LineSold], places: Sequence[int]) -> list[int]:
    weights = [max(0, lines[at].cents) for at in places]
    return weights if any(weights) else [1] * len(places)


def _spread(cents: int, lines: Sequence[LineSold], weigh: Callable[[LineSold], Fraction]) -> dict[int, int]:
    weights = [weigh(each) if each.cents > 0 else Fraction(0) for each in lines]
    if not any(weights):
        weights = [Fraction(max(0, each.cents)) for each in lines]
    places = [at for at, weight in enumerate(weights) if weight]
    if not places:
        return {}
    return dict(zip(places, split_in_proportion(cents, [weights[at] for at in places]), strict=True))


def _of_the_frame(line: LineSold) -> Fraction:
    return line.square_inches if line.is_by_area else Fraction(0)


_WEIGHTS: dict[Material, Callable[[LineSold], Fraction]] = {
    "batting": lambda line: Fraction(line.cents if line.is_batting else 0),
    "backing": lambda line: Fraction(line.cents if line.is_goods and not line.is_batting else 0),
    "thread": _of_the_frame,
    "needles_and_parts": _of_the_frame,
}


def _added(lines: Sequence[LineSold], parts: Sequence[_Sum], key: Callable[[LineSold], str]) -> tuple[Earning, ...]:
    """What leaves the most stands first; what went back altogether is left out."""
    sums: dict[str, _Sum] = {}
    for line, part in zip(lines, parts, strict=True):
        found = sums.setdefault(key(line), _Sum())
        found.jobs |= part.jobs
        found.pieces |= part.pieces
        found.income += part.income
        found.material += part.material
        found.fee += part.fee
        found.hours += part.hours
        found.left_of_logged += part.left_of_logged
    earnings = (_earning(what, found) for what, found in sums.items() if found.income or found.material)
    return tuple(sorted(earnings, key=lambda each: (-each.left_cents, each.what)))


def _earning(what: str, found: _Sum) -> Earning:
    inches = sum(found.pieces.values(), Fraction(0))
    left = found.income - found.material - found.fee
    return Earning(
        what=what,
        jobs=len(found.jobs),
        income_cents=found.income,
        material_cents=found.material,
        fee_cents=found.fee,
        hours=found.hours,
        an_hour_cents=round_half_up(found.left_of_logged / found.hours) if found.hours else None,
        square_inches=inches,
        a_thousand_inches_cents=round_half_up(left * 1000 / inches) if inches else None,
    )


def _fastest(kinds: Iterable[Earning], left_cents: int) -> Fastest | None:
    """By the hour where hours are logged; else by area, with which the time at the frame grows."""
    earning = [each for each in kinds if each.left_cents > 0]
    by_hour = [each for each in earning if each.an_hour_cents is not None]
    found = max(by_hour or earning, key=_an_hour if by_hour else _a_thousand, default=None)
    if found is None:
        return None
    jobs = ceil(Fraction(left_cents * found.jobs, found.left_cents))
    return Fastest(found.what, "hour" if by_hour else "area", jobs)


def _an_hour(earning: Earning) -> int:
    return earning.an_hour_cents or 0


def _a_thousand(earning: Earning) -> int:
    return earning.a_thousand_inches_cents or 0
