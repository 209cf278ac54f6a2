"""States differ on work on the customer's own goods, so it is an answer that is entered; each answer gives its figures.

How sure: S seen in the source's own text (a stored copy), 2 seen in a text about it. The amounts are ours; the texts
say what is taxed. Nothing here says what any state holds today.
"""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

import pytest

from ledger.jobs.slip import Slip
from tests.workshop import add_rate, add_to_price_list, answer, begin, job_for, picked_up

pytestmark = pytest.mark.published


@dataclass(frozen=True)
class Ruling:
    """What a text says: class to taxed or not, with the rates that held there; tax of the slip below, in cents."""

    rates: tuple[tuple[str, str], ...]
    taxed: dict[str, bool]
    tax_cents: int


# The slip: quilting 112.00 as work; batting 39.60 and thread 4.00 as goods; 155.60 in all.
RULINGS = {
    # S: Virginia, Ruling of the Tax Commissioner 11-9 of 21 January 2011: a longarm quilter's whole charge, labour and
    # materials, is taxed as fabrication. Rates of that year, 4 percent state and 1 percent local: from memory.
    "Virginia 11-9": Ruling((("Virginia state", "4"), ("Local district", "1")), {"work": True, "goods": True}, 7_78),
    # 2: New York, TSB-A-16(29)S: sewing the layers of a customer's quilt is taxed; the exclusion of tailoring is for
    # clothing. 4 percent state, 4 percent county: from memory, for the figure alone.
    "New York TSB-A-16(29)S": Ruling(
        (("New York state", "4"), ("Some county", "4")), {"work": True, "goods": True}, 12_45
    ),
    # S: California, annotation 435.1760: work on the customer's cloth that makes something new is taxed in full.
    # 7.25 percent statewide: S, Publication 118.
    "California 435.1760": Ruling((("California state", "7.25"),), {"work": True, "goods": True}, 11_28),
    # S: California, annotation 435.0755: embroidery on used clothing is not taxed where the thread is worth little and
    # is not charged on its own; goods that are charged on their own are taxed.
    "California 435.0755": Ruling((("California state", "7.25"),), {"work": False, "goods": True}, 3_16),
    # 2: Pennsylvania, Tax Reform Code, section 201(k)(4) (72 P.S. 7204): altering and mending clothing is not taxed.
    # 6 percent: 2.
    "Pennsylvania alterations": Ruling((("Pennsylvania state", "6"),), {"work": False, "goods": False}, 0),
}


def slip_under(folder: Path, ruling: Ruling) -> Slip:
    books = begin(folder)
    for name, percent in ruling.rates:
        add_rate(books, name, percent)
    for name, taxed in ruling.taxed.items():
        answer(books, name, taxed)
    add_to_price_list(books, "Edge-to-edge", "area", "0.02")
    add_to_price_list(books, "Batting", "inch", "0.45", "goods")
    add_to_price_list(books, "Thread", "flat", "4.00", "goods")
    job = job_for(books, lines=["Edge-to-edge", "Batting", "Thread"], width="70", length="80")
    slip = picked_up(books, job, "cash").settlement.slip
    books.close()
    return slip


@pytest.mark.parametrize("name", RULINGS)
def test_an_answer_gives_its_own_tax_on_the_same_slip(name: str, tmp_path: Path) -> None:
    ruling = RULINGS[name]
    slip = slip_under(tmp_path / "books", ruling)
    assert slip.charge_cents == 155_60
    assert slip.tax_cents == ruling.tax_cents
    treated = {each.charge.class_name: each.treatment for each in slip.tax.charges}
    assert treated == {name: "taxed" if taxed else "not taxed" for name, taxed in ruling.taxed.items()}


def test_without_an_answer_no_tax_is_taken_and_the_class_is_named(tmp_path: Path) -> None:
    slip = slip_under(tmp_path / "books", Ruling((("Some state", "6"),), {}, 0))
    assert slip.tax_cents == 0
    assert set(slip.tax.unanswered) == {"work", "goods"}
    assert {each.treatment for each in slip.tax.charges} == {"unanswered"}
