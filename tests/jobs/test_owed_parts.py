"""What a job owes, as charge and tax: worked out on plain figures, no books in sight."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ledger.jobs.owed import Owed, change_owed

ASKED = Owed(100_00, 5_30)


@pytest.mark.parametrize(
    ("before", "more", "more_charge", "asked", "after"),
    [
        # A sale that is owed, then paid.
        ((0, 0), 105_30, 100_00, (100_00, 5_30), (100_00, 5_30)),
        ((100_00, 5_30), -105_30, -100_00, (100_00, 5_30), (0, 0)),
        # The charge is paid already, by a deposit: a refund of 5.30 off what is owed leaves nothing, of either.
        ((0, 5_30), -5_30, -5_03, (94_97, 5_03), (0, 0)),
        # Money goes back while tax is owed: no more tax is owed than is still asked.
        ((0, 5_30), 0, 0, (52_52, 2_78), (2_52, 2_78)),
        # No tax is asked any more: what is owed is charge.
        ((52_52, 2_78), 0, 0, (100_00, 0), (55_30, 0)),
        # A check bounced on which money had been handed back: what is beyond the charge is no income.
        ((0, 0), 105_30, 100_00, (50_00, 2_65), (50_00, 55_30)),
        ((0, 0), 50_00, 50_00, (0, 0), (0, 50_00)),
        # A deposit that counted as charge paid some of the tax.
        ((0, 0), 105_30, 105_30, (100_00, 5_30), (100_00, 5_30)),
    ],
)
def test_the_parts_after_a_change(
    before: tuple[int, int], more: int, more_charge: int, asked: tuple[int, int], after: tuple[int, int]
) -> None:
    assert change_owed(Owed(*before), more, more_charge, Owed(*asked)) == Owed(*after)


cents = st.integers(0, 10_000)


@given(cents, cents, cents, cents, st.integers(-10_000, 10_000), st.integers(-10_000, 10_000))
def test_they_add_up_and_neither_is_more_than_is_asked(
    charge: int, tax: int, asked_charge: int, asked_tax: int, more: int, more_charge: int
) -> None:
    before, asked = Owed(charge, tax), Owed(asked_charge, asked_tax)
    if before.cents + more < 0:
        return
    after = change_owed(before, more, more_charge, asked)
    assert after.cents == before.cents + more
    assert 0 <= after.charge_cents <= asked_charge
    assert after.tax_cents >= 0
    if after.cents <= asked.cents:
        assert after.tax_cents <= asked_tax
    if after.cents == 0:
        assert after == Owed(0, 0)
    wanted = charge + more_charge
    if 0 <= wanted <= min(asked_charge, after.cents) and after.cents - wanted <= asked_tax:
        assert after.charge_cents == wanted
