"""How a sheet falls into pages: what stays together, what comes again, and that nothing leaves the margins."""

from __future__ import annotations

import pytest

from ledger.paper.fonts import Face, ShippedLetters
from ledger.paper.locales import A4, LETTER, PaperSize
from ledger.paper.marks import Page, Strip, Stroke, Words
from ledger.paper.pages import set_pages, stack
from ledger.paper.sheet import MARGIN, Column, Row, Sheet, Table
from tests.paper.test_plain import sheet_of

LETTERS = ShippedLetters()


class WideLetters:
    """Letters half as wide as they are high, all alike."""

    def width_of(self, text: str, face: Face, size: float) -> float:
        return len(text) * size / 2

    def drawable(self, text: str, face: Face) -> str:
        return text


def test_strips_go_to_the_next_page_where_there_is_no_room() -> None:
    strips = [Strip(40), Strip(40), Strip(30)]
    assert stack(strips, 100) == [strips[:2], strips[2:]]


def test_strips_that_stay_together_move_on_together() -> None:
    strips = [Strip(40), Strip(40, stays=True), Strip(30)]
    assert stack(strips, 100) == [strips[:1], strips[1:]]


def test_strips_that_no_page_could_hold_together_are_parted() -> None:
    strips = [Strip(60, stays=True), Strip(60, stays=True), Strip(60)]
    assert stack(strips, 100) == [[each] for each in strips]


def test_heads_come_again_where_a_page_begins_inside_a_table() -> None:
    heads = Strip(20)
    rows = [Strip(40, heads=(heads,)) for _ in range(3)]
    assert stack([heads, *rows], 100) == [[heads, *rows[:2]], [heads, rows[2]]]


def test_a_page_is_never_begun_empty() -> None:
    assert [len(page) for page in stack([Strip(500), Strip(500)], 100)] == [1, 1]


@pytest.mark.parametrize("paper", [LETTER, A4])
@pytest.mark.parametrize("word", ["Log cabin", "quilt" * 100, "a very long name " * 30, "Ł漢" * 90, ""])
def test_nothing_is_set_outside_the_margins(paper: PaperSize, word: str) -> None:
    for page in set_pages(sheet_of(word), paper, LETTERS):
        for mark in page:
            assert left_of(mark) >= MARGIN - 0.1
            assert right_of(mark) <= paper.width - MARGIN + 0.1
            assert MARGIN <= mark.down <= paper.height - MARGIN


def test_no_two_words_of_a_page_lie_over_each_other() -> None:
    for page in set_pages(sheet_of("a very long name " * 30), LETTER, LETTERS):
        words = [mark for mark in page if isinstance(mark, Words) and mark.text]
        for place, one in enumerate(words):
            for other in words[place + 1 :]:
                apart = abs(one.down - other.down) >= min(one.size, other.size) * 0.9
                assert apart or right_of(one) <= left_of(other) or right_of(other) <= left_of(one), (one, other)


def test_every_page_says_which_it_is_of_how_many() -> None:
    pages = set_pages(long_sheet(), LETTER, WideLetters())
    assert len(pages) > 2
    for number, page in enumerate(pages, start=1):
        assert f"Page {number} of {len(pages)}" in texts_of(page)
        assert "Job 7" in texts_of(page)


def test_a_table_over_several_pages_has_its_heads_on_each_and_every_row_once() -> None:
    pages = set_pages(long_sheet(), LETTER, WideLetters())
    assert all(texts_of(page).count("Amount") == 1 for page in pages)
    rows = [text for page in pages for text in texts_of(page) if text.startswith("Row ")]
    assert rows == [f"Row {number}" for number in range(120)]


def test_a_row_is_not_parted_from_its_small_lines() -> None:
    for page in set_pages(long_sheet(), LETTER, WideLetters()):
        texts = texts_of(page)
        assert texts.count("small") == sum(text.startswith("Row ") for text in texts)


def long_sheet() -> Sheet:
    rows = tuple(Row((f"Row {number}", "$1.00"), ("small",)) for number in range(120))
    return Sheet(("Alder Lane",), "rows", (Table((Column("Work"), Column("Amount", True)), rows),), "Job 7")


def texts_of(page: Page) -> list[str]:
    return [mark.text for mark in page if isinstance(mark, Words)]


def left_of(mark: Words | Stroke) -> float:
    if isinstance(mark, Words) and mark.ends_at_x:
        return mark.x - LETTERS.width_of(mark.text, mark.face, mark.size)
    return mark.x


def right_of(mark: Words | Stroke) -> float:
    if isinstance(mark, Stroke):
        return mark.to_x
    return mark.x if mark.ends_at_x else mark.x + LETTERS.width_of(mark.text, mark.face, mark.size)
