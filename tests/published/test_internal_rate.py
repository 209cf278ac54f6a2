"""The internal rate on dated flows against a documented example.

pyxirr, the example of `xirr` in its documentation (a fixed value; the library is no part of this program).
"""

from __future__ import annotations

from datetime import date

import pytest

from ledger.machine.internal_rate import Flow, internal_rate

pytestmark = pytest.mark.published


def test_the_rate_of_the_documented_example() -> None:
    flows = [
        Flow(date(2020, 1, 1), -1_000_00),
        Flow(date(2021, 1, 1), 750_00),
        Flow(date(2022, 1, 1), 500_00),
    ]
    assert internal_rate(flows) == pytest.approx(0.1750092646, abs=5e-11)
