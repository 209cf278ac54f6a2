"""Columns and bars painted: exact lines on small figures, and laws that hold at any width."""

from __future__ import annotations

import re
from collections.abc import Sequence

import pytest
from hypothesis import given
from hypothesis import strategies as st
from rich.cells import cell_len
from textual.content import Content

from ledger.screens.bars_painting import Bar, painted_bars
from ledger.screens.columns_painting import Columns, Part, Pile, Row, Slot, pile_of

# Block elements and box drawing, so that each sign can be put in ASCII.
PAINTED = re.compile(r"[\u2500-\u259f\x20-\x7e]*")


def label(cents: int) -> str:
    return f"{cents // 100}"


def lines(painted: Sequence[Content]) -> list[str]:
    return [str(each).rstrip() for each in painted]


def months(*pairs: tuple[int | None, int | None]) -> list[Slot]:
    """Slots with a year before and a year."""
    names = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")
    return [
        Slot(name, name[0], (pile_of(before, "░", ""), pile_of(now, "█", "")), name == "Feb")
        for name, (before, now) in zip(names, pairs, strict=False)
    ]


def test_two_years_stand_side_by_side_and_a_month_below_zero_hangs_under_the_line() -> None:
    slots = months((0, 800), (400, 300), (200, -200), (None, 0))
    rows = (Row("a", ("8", "3", "-2", "")), Row("b", ("12345", "", "", "")))
    assert lines(Columns(slots, label, 30, rows).painted(10)) == [
        "   │",
        "   │   ███",
        " 5 ┤   ███",
        "   │   ███ ░░▄▄▄",
        "   │   ███ ░░███ ░░",
        " 0 ├──────━━━━━━────────────",
        "   │               ███",
        "     Jan   Feb   Mar   Apr",
        "a        8     3    -2",
        "b    12345",
    ]


def test_parts_stand_on_each_other_and_the_smallest_is_seen() -> None:
    slots = [
        Slot("Jan", "J", (Pile(above=(Part("█", "", 300), Part("▒", "", 1))),)),
        Slot("Feb", "F", (Pile(below=(Part("░", "", 200), Part("▓", "", 100))),)),
    ]
    assert lines(Columns(slots, label, 14).painted(9)) == [
        "   │",
        "   │ ▒▒▒▒",
        "   │ ████",
        "   │ ████",
        " 0 ├──────────",
        "   │      ░░░░",
        "   │      ░░░░",
        "   │      ▓▓▓▓",
        "     Jan  Feb",
    ]


def test_a_row_of_words_is_left_out_where_two_would_touch_and_names_are_letters_where_it_is_narrow() -> None:
    slots = months((100, 200), (100, 200), (100, 200))
    row = Row("", ("123456", "123456", "123456"))
    assert lines(Columns(slots, label, 30, (row,)).painted(6))[-1].split() == ["123456"] * 3
    narrow = lines(Columns(slots, label, 12, (row,)).painted(6))
    assert narrow[-1].split() == ["J", "F", "M"]


AMOUNTS = st.one_of(st.none(), st.integers(-(10**8), 10**8))
PAIRS = st.lists(st.tuples(AMOUNTS, AMOUNTS), min_size=12, max_size=12)


@given(PAIRS, st.integers(44, 200), st.integers(6, 40))
def test_columns_keep_to_their_cells_and_every_amount_is_seen(
    pairs: list[tuple[int | None, int | None]], width: int, height: int
) -> None:
    rows = (Row("2026", tuple(label(now or 0) for _, now in pairs)),)
    painted = [str(each) for each in Columns(months(*pairs), label, width, rows).painted(height)]
    assert len(painted) == height
    assert max(map(cell_len, painted)) <= width
    assert all(PAINTED.fullmatch(each) for each in painted)
    seen = "".join(painted)
    assert ("░" in seen) == any(before for before, _ in pairs)
    assert bool(re.search("[█▁-▇▀▔]", seen)) == any(now for _, now in pairs)
    base = next(place for place, each in enumerate(painted) if re.search("[└├]", each))
    below = "".join(painted[base + 1 :])
    assert bool(re.search("[█▀▔░]", below)) == any(cents is not None and cents < 0 for each in pairs for cents in each)


def test_bars_end_in_eighths_and_the_smallest_is_seen() -> None:
    bars = [
        Bar("batting", 800, ("8.00", "80.0 %")),
        Bar("thread, green", 150, ("1.50", "20.0 %")),
        Bar("x", 1, ("0.01", "0.1 %")),
    ]
    assert lines(painted_bars(bars, 40)) == [
        "batting       ████████████  8.00  80.0 %",
        "thread, green ██▎           1.50  20.0 %",
        "x             ▏             0.01   0.1 %",
    ]


def test_a_bar_below_zero_goes_to_the_left_of_a_line() -> None:
    bars = [Bar("batting", 800, ("8.00",)), Bar("thread", -400, ("-4.00",))]
    assert lines(painted_bars(bars, 32)) == [
        "batting      │███████████   8.00",
        "thread  █████│             -4.00",
    ]


def test_where_it_is_too_narrow_the_bars_go_and_the_figures_stay() -> None:
    bars = [Bar("batting", 800, ("8.00",)), Bar("thread", -400, ("-4.00",))]
    assert lines(painted_bars(bars, 12)) == ["batt…   8.00", "thre…  -4.00"]


@pytest.mark.parametrize("width", [40, 60, 76, 120, 196])
@given(
    st.lists(
        st.tuples(st.text(st.characters(codec="ascii", categories=["L"]), max_size=40), st.integers(-(10**9), 10**9)),
        min_size=1,
        max_size=20,
    )
)
def test_bars_keep_to_their_width_and_every_amount_is_seen(width: int, found: list[tuple[str, int]]) -> None:
    painted = painted_bars([Bar(words, cents, (f"{cents}", "100.0 %")) for words, cents in found], width)
    for line, (_, cents) in zip(map(str, painted), found, strict=True):
        assert cell_len(line) <= width
        assert PAINTED.fullmatch(line.replace("…", ""))
        assert re.search(rf" {cents}  ", line)
        assert bool(re.search("[▏▎▍▌▋▊▉█▐]", line)) == bool(cents)
