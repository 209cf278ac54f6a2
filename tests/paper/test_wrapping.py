"""Lines keep within their room, lose nothing, and never part a letter from its accent."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ledger.paper.wrapping import clusters, share_width, terminal_columns, wrap

WORDS = st.text(alphabet="ab é漢😀́ ", max_size=60)


@pytest.mark.parametrize(
    ("text", "lines"),
    [
        ("", [""]),
        ("log cabin", ["log cabin"]),
        ("log cabin, blue", ["log cabin,", "blue"]),
        ("a handkerchiefs", ["a", "handkerchi", "efs"]),
        ("handkerchiefs", ["handkerchi", "efs"]),
        ("漢字漢字漢字", ["漢字漢字漢", "字"]),
    ],
)
def test_a_line_is_broken_at_a_space_and_inside_a_word_that_is_wider(text: str, lines: list[str]) -> None:
    assert wrap(text, 10, terminal_columns) == lines


@given(WORDS, st.integers(2, 30))
def test_no_line_is_wider_than_its_room_and_nothing_is_lost(text: str, room: int) -> None:
    lines = wrap(text, room, terminal_columns)
    assert all(terminal_columns(line) <= room for line in lines)
    assert "".join(lines).replace(" ", "") == text.replace(" ", "")


@given(WORDS)
def test_a_room_too_narrow_for_a_letter_gives_one_letter_a_line(text: str) -> None:
    lines = wrap(text, 0, terminal_columns)
    assert "".join(lines).replace(" ", "") == text.replace(" ", "")
    assert all(len(clusters(line)) <= 1 for line in lines if terminal_columns(line))


@pytest.mark.parametrize(
    ("text", "columns"),
    [
        ("quilt", 5),
        ("e\N{COMBINING ACUTE ACCENT}", 1),
        ("漢字", 4),
        ("ｱ", 1),
        ("Ａ", 2),
        ("\N{SEWING NEEDLE}", 2),
        ("\N{WOMAN}\N{ZERO WIDTH JOINER}\N{ARTIST PALETTE}", 2),
        ("\N{HEAVY BLACK HEART}\N{VARIATION SELECTOR-16}", 2),
        ("\N{WAVING HAND SIGN}\N{EMOJI MODIFIER FITZPATRICK TYPE-4}", 2),
    ],
)
def test_a_terminal_gives_wide_characters_two_columns_and_accents_none(text: str, columns: int) -> None:
    assert terminal_columns(text) == columns


def test_an_accent_stays_with_its_letter() -> None:
    accented = "e\N{COMBINING DOT BELOW}\N{COMBINING ACUTE ACCENT}"
    assert clusters(f"a{accented}b") == ["a", accented, "b"]


def test_what_is_left_over_goes_to_the_widest_text() -> None:
    assert share_width([10, 20, 6], [False, False, True], 100) == [10, 84, 6]


def test_where_it_is_too_narrow_the_wide_texts_are_cut_alike_and_the_amounts_are_whole() -> None:
    assert share_width([10, 90, 70, 20], [False, False, False, True], 130) == [10, 50, 50, 20]


def test_amounts_that_leave_no_room_for_text_are_cut_too() -> None:
    assert share_width([30, 60, 60], [False, True, True], 90) == [30, 30, 30]


@given(st.lists(st.tuples(st.integers(0, 500), st.booleans()), min_size=1, max_size=6), st.integers(1, 600))
def test_columns_take_the_room_and_no_more(columns: list[tuple[int, bool]], room: int) -> None:
    naturals, are_amounts = [each[0] for each in columns], [each[1] for each in columns]
    widths = share_width(naturals, are_amounts, room)
    assert sum(widths) == pytest.approx(room)
    in_order = sorted(zip(naturals, widths, strict=True))
    if not any(are_amounts):
        assert all(narrow[1] <= wide[1] + 1e-9 for narrow, wide in pairwise(in_order))
