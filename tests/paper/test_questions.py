"""Questions with a line to write on: beside each, or under it in two columns of much the same height."""

from __future__ import annotations

from collections.abc import Sequence

import pytest

from ledger.paper.fonts import ShippedLetters
from ledger.paper.locales import LETTER
from ledger.paper.marks import Mark, Stroke, Words
from ledger.paper.pages import set_pages
from ledger.paper.sheet import MARGIN, Questions, Sheet

MIDDLE = LETTER.width / 2
LONG = "How much may it be in all, and for one piece, and what is my part of a loss? " * 6


def marks_of(questions: Questions, margin: float = MARGIN) -> Sequence[Mark]:
    (page,) = set_pages(Sheet(("Lantern",), "", (questions,), margin=margin), LETTER, ShippedLetters())
    return page


def headings(marks: Sequence[Mark]) -> list[Words]:
    return [mark for mark in marks if isinstance(mark, Words) and mark.face == "bold" and mark.text != "Lantern"]


def lines_to_write_on(marks: Sequence[Mark]) -> list[Stroke]:
    return [mark for mark in marks if isinstance(mark, Stroke) and mark.tone == "ink"]


def test_an_answer_stands_beside_its_question() -> None:
    marks = marks_of(Questions((("Power", ("Which circuit?", "May it share one?")),), room=40))
    lines = lines_to_write_on(marks)
    assert [line.x > MIDDLE for line in lines] == [True, True]
    assert lines[1].down - lines[0].down == pytest.approx(40)


def test_a_long_question_makes_its_own_room() -> None:
    short, long = (lines_to_write_on(marks_of(Questions((("Power", (text,)),), room=11)))[0] for text in ("Why?", LONG))
    assert long.down > short.down + 50


def test_in_columns_an_answer_stands_under_its_question_in_either_half() -> None:
    groups = tuple((f"Item {number}", ("Which circuit?", "May it share one?")) for number in range(4))
    marks = marks_of(Questions(groups, in_columns=True))
    assert [line.x < MIDDLE for line in lines_to_write_on(marks)] == [True] * 4 + [False] * 4
    assert [heading.x < MIDDLE for heading in headings(marks)] == [True, True, False, False]
    assert {mark.text for mark in marks if isinstance(mark, Words)} >= {"Which circuit?", "May it share one?"}


def test_no_heading_ends_a_column() -> None:
    """The heading alone would make the columns more alike: it goes with its question all the same."""
    marks = marks_of(Questions((("Short", ("Why?",)), ("Long", (LONG,))), in_columns=True))
    assert [(heading.text, heading.x < MIDDLE) for heading in headings(marks)] == [("Short", True), ("Long", False)]


def test_a_narrow_margin_gives_more_room() -> None:
    wide, narrow = (marks_of(Questions((("Power", ("Why?",)),)), margin) for margin in (MARGIN, 36.0))
    assert min(mark.x for mark in narrow) == 36.0 < min(mark.x for mark in wide)
    assert max(mark.down for mark in narrow) > max(mark.down for mark in wide)
