"""The lines that are searched as one types: the same hits as by looking at each line, the best and the newest first."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from ledger.books.folded_lines import (
    AMOUNT,
    BEGINS_WORDS,
    EXACT,
    WITHIN_WORDS,
    FoldedLines,
    Match,
    line_of,
    rank_in,
    typed_words,
)
from ledger.text import folded

WORDS = st.text(st.sampled_from("abé1 ,"), min_size=1, max_size=4)


def no_amount(text: str) -> None:
    """Nothing that is typed is an amount."""


def lines_with(*texts: str) -> FoldedLines:
    """The first text has the highest number."""
    lines = FoldedLines()
    lines.add([line_of(len(texts) - place, text) for place, text in enumerate(texts)])
    return lines


def found(lines: FoldedLines, typed: str, at_most: int = 40) -> list[tuple[int, int]]:
    return [(each.rank, each.number) for each in lines.find(typed_words(typed, no_amount), at_most)]


def test_case_and_accents_count_for_nothing() -> None:
    lines = lines_with("Zoë Müller", "ÁNGEL STRASSE", "zoo")
    assert found(lines, "zoe") == [(BEGINS_WORDS, 3)]
    assert found(lines, "MULLER zoë") == [(BEGINS_WORDS, 3)]
    assert found(lines, "straße ángel") == [(BEGINS_WORDS, 2)]


def test_a_word_begun_goes_before_a_word_within_and_the_newest_before_the_older() -> None:
    lines = lines_with("rebatting", "batting one", "all batting", "nothing")
    assert found(lines, "bat") == [(BEGINS_WORDS, 3), (BEGINS_WORDS, 2), (WITHIN_WORDS, 4)]
    assert found(lines, "bat", at_most=1) == [(BEGINS_WORDS, 3)]


def test_its_own_number_is_the_best_match_however_old_and_however_many_have_it_in_their_words() -> None:
    lines = lines_with(*[f"piece {number} of 7" for number in range(500)])
    assert found(lines, "7")[0] == (EXACT, 7)
    assert len(found(lines, "7")) == 40


def test_an_amount_is_found_as_an_amount_and_not_within_a_longer_one() -> None:
    lines = FoldedLines()
    lines.add([line_of(2, f"x{AMOUNT}3180{AMOUNT}"), line_of(1, f"y{AMOUNT}13180{AMOUNT}2{AMOUNT}")])
    words = typed_words("$31.80", lambda text: 3180)
    assert lines.find(words, 9) == (Match(BEGINS_WORDS, 2),)


def test_pieces_keep_the_order_whether_they_come_newer_or_older() -> None:
    lines = FoldedLines()
    lines.add([line_of(4, "a"), line_of(3, "a")])
    lines.add([line_of(2, "a"), line_of(1, "a")], older=True)
    lines.add([line_of(5, "a")])
    assert [number for _, number in found(lines, "a")] == [5, 4, 3, 2, 1]
    assert lines.lines == 5


def test_nothing_typed_finds_nothing() -> None:
    assert found(lines_with("a"), "  ") == []


@given(texts=st.lists(WORDS, max_size=12), typed=WORDS)
def test_it_finds_what_a_look_at_every_line_finds(texts: list[str], typed: str) -> None:
    words = typed_words(typed, no_amount)
    wanted = []
    for place, text in enumerate(texts):
        number = len(texts) - place
        rank = rank_in(folded(text), words)
        if len(words) == 1 and words[0][0] == str(number):
            rank = EXACT
        if rank is not None and words:
            wanted.append((rank, -number))
    assert [(rank, -number) for rank, number in found(lines_with(*texts), typed)] == sorted(wanted)
