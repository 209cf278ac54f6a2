"""The curve of the payback, out of the books."""

from __future__ import annotations

from ledger.books.books import Books
from ledger.machine.curve import Curve, fan_points
from ledger.machine.kept_plans import KeptPlan, planned_points, read_kept_plan
from ledger.machine.payback_record import PaybackRecord


def curve_points(books: Books) -> Curve:
    """The curve of the payback with its fan and the kept plan's curve, as it stands at the end of today."""
    record = PaybackRecord(books)
    return curve_of(record, read_kept_plan(books))


def curve_of(record: PaybackRecord, kept: KeptPlan | None) -> Curve:
    """The curve of what was read already."""
    found = record.payback
    fan = fan_points(found.earned_cents, record.months, found.forecast, record.today) if found.left_cents else ()
    last = (fan or record.points)[-1].first_day
    planned = planned_points(kept.plan, record.points, last) if kept is not None else ()
    return Curve(record.points, fan, planned)
