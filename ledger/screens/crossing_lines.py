"""The passages between the purses as lines: day, kind, amount, why, and what is not settled."""

from __future__ import annotations

from collections.abc import Iterator

from ledger.screens.showing import Showing
from ledger.spending.crossings import Crossings


def crossing_lines(found: Crossings, showing: Showing) -> Iterator[str]:
    """Each passage, then the sums and how apart the purses were."""
    for each in found.items:
        open_mark = "" if each.settled else "  (not settled)"
        yield f"{showing.month_day(each.day):<8}{each.kind:<14}{showing.plain(each.cents):>11}  {each.why}{open_mark}"
    yield ""
    yield f"Contributed {showing.amount(found.contributed_cents)}, drawn {showing.amount(found.drawn_cents)}."
    yield f"Owed to you {showing.amount(found.owed_to_owner_cents)}."
    yield found.sentence
