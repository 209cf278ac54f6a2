"""How questions are set, each with a line to write its answer on: beside it, or under it in two columns."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from ledger.paper.marks import Mark, Strip, Stroke, Words, height_of
from ledger.paper.setting import GAP, Setting, strip_of
from ledger.paper.sheet import Questions

_SHARE = 0.62
_PADDING = 3.0
_ABOVE_COLUMNS = 6.0
# How much of a line must be left for an answer to begin on it.
_LEFT_FOR_AN_ANSWER = 0.45


def set_questions(setting: Setting, questions: Questions) -> list[Strip]:
    """A strip for each question and each line of a heading; in columns one strip for all of them."""
    if not questions.in_columns:
        return [
            strip
            for heading, texts in questions.groups
            for strip in (
                *_heading(setting, heading, questions),
                *(_beside(setting, text, questions) for text in texts),
            )
        ]
    width = (setting.room - GAP) / 2
    columns = [Setting(setting.letters, setting.left + place * (width + GAP), width) for place in (0, 1)]
    strips = [_column_strips(column, questions) for column in columns]
    cut = _middle(strips[0])
    return [_side_by_side(strips[0][:cut], strips[1][cut:])]


def _column_strips(setting: Setting, questions: Questions) -> list[Strip]:
    return [
        strip
        for heading, texts in questions.groups
        for strip in (*_heading(setting, heading, questions), *(_under(setting, text, questions) for text in texts))
    ]


def _heading(setting: Setting, heading: str, questions: Questions) -> list[Strip]:
    size, apart = questions.size, 6 + questions.room / 6
    return [
        strip_of(
            Words(setting.left, 0, line, size, "bold", "accent"),
            size=size,
            above=apart if place == 0 else 0,
            stays=True,
        )
        for place, line in enumerate(setting.lines(heading, setting.room, "bold", size))
    ]


def _beside(setting: Setting, text: str, questions: Questions) -> Strip:
    """The question in the left part, and a line at the foot of the right one."""
    lines, height = _question(setting, text, questions, setting.room * _SHARE - GAP)
    height = max(questions.room, height + _PADDING)
    under = Stroke(setting.left + setting.room * _SHARE, height - _PADDING, setting.right, tone="ink")
    return Strip(height, (*lines, under))


def _under(setting: Setting, text: str, questions: Questions) -> Strip:
    """The question, and under it the room for its answer with a line at its foot."""
    lines, height = _question(setting, text, questions, setting.room)
    if questions.goes_on:
        end = setting.width_of(lines[-1].text, size=questions.size) + _PADDING
        if end <= setting.room * (1 - _LEFT_FOR_AN_ANSWER):
            return Strip(height + 2 * _PADDING, (*lines, Stroke(setting.left + end, height, setting.right, tone="ink")))
    height += questions.room
    return Strip(height + _PADDING, (*lines, Stroke(setting.left, height, setting.right, tone="ink")))


def _question(setting: Setting, text: str, questions: Questions, room: float) -> tuple[list[Words], float]:
    """The words of a question, and how high they are."""
    size = questions.size
    step = strip_of(size=size).height
    lines = setting.lines(text, room, size=size)
    return [Words(setting.left, size + step * number, line, size) for number, line in enumerate(lines)], step * len(
        lines
    )


def _middle(strips: Sequence[Strip]) -> int:
    """Where to end the first column so that the higher of the two is as low as can be; no heading ends it."""
    cuts = [cut for cut in range(1, len(strips) + 1) if not strips[cut - 1].stays]
    return min(cuts, key=lambda cut: max(height_of(strips[:cut]), height_of(strips[cut:])), default=len(strips))


def _side_by_side(left: Sequence[Strip], right: Sequence[Strip]) -> Strip:
    """Two columns as one strip, which no page can part, with air above."""
    marks: list[Mark] = []
    for column in (left, right):
        down = _ABOVE_COLUMNS
        for strip in column:
            marks += [replace(mark, down=mark.down + down) for mark in strip.marks]
            down += strip.height
    return Strip(_ABOVE_COLUMNS + max(height_of(left), height_of(right)), tuple(marks))
