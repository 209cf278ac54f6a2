"""How each block of a sheet is set; tables and totals have a file of their own."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import zip_longest

from ledger.paper.marks import SMALL, Drawn, Strip, Stroke, Words
from ledger.paper.question_setting import set_questions
from ledger.paper.setting import GAP, Setting, strip_of
from ledger.paper.sheet import Bars, Block, Facts, Heading, Notes, Picture, Questions, Signatures, Table, Title, Totals
from ledger.paper.table_setting import set_table, set_totals

_TITLE_SIZE, _HEADING_SIZE, _NOTE_SIZE = 14.0, 10.5, 9.0
_FIRST_GROUP = 0.58


def set_block(setting: Setting, block: Block) -> list[Strip]:
    match block:
        case Title():
            return _title(setting, block)
        case Facts():
            return _facts(setting, block)
        case Heading():
            return _heading(setting, block)
        case Table():
            return set_table(setting, block)
        case Totals():
            return set_totals(setting, block)
        case Bars():
            return _bars(setting, block)
        case Picture():
            return [Strip(block.height + 8, (Drawn(setting.left, 6, block.drawing, block.height),))]
        case Notes():
            return [Strip(8, stays=True), *(strip for text in block.texts for strip in _note(setting, text))]
        case Signatures():
            return [_signatures(setting, block)]
        case Questions():
            return set_questions(setting, block)


def _title(setting: Setting, title: Title) -> list[Strip]:
    beside = setting.letters.drawable(title.beside, "regular")
    lines = setting.lines(title.text, setting.room - setting.width_of(beside) - GAP, "bold", _TITLE_SIZE)
    end = Words(setting.right, 0, beside, ends_at_x=True)
    return [
        strip_of(
            Words(setting.left, 0, line, _TITLE_SIZE, "bold"),
            *([end] if place == 0 else []),
            size=_TITLE_SIZE,
            above=4 if place == 0 else 0,
            stays=True,
        )
        for place, line in enumerate(lines)
    ]


def _facts(setting: Setting, facts: Facts) -> list[Strip]:
    share = _FIRST_GROUP if facts.second else 1.0
    first = _pairs(setting, facts.first, setting.left, setting.room * share - GAP)
    second = _pairs(setting, facts.second, setting.left + setting.room * share, setting.room * (1 - share))
    lines = [(*one, *other) for one, other in zip_longest(first, second, fillvalue=())]
    last = len(lines) - 1
    return [
        strip_of(*line, above=8 if place == 0 else 1.5, below=10 if place == last else 0)
        for place, line in enumerate(lines)
    ]


def _pairs(setting: Setting, pairs: Sequence[tuple[str, str]], left: float, room: float) -> list[tuple[Words, ...]]:
    """The words of each line: labels in a column of their own, each value broken to what is left beside them."""
    widest = max((setting.width_of(label, size=SMALL) for label, _ in pairs), default=0.0) + GAP
    label_room = min(widest, room * 0.4)
    found: list[tuple[Words, ...]] = []
    for name, value in pairs:
        labels = setting.lines(name, label_room - GAP + 0.01, size=SMALL)
        for label, line in zip_longest(labels, setting.lines(value, room - label_room), fillvalue=""):
            found.append((Words(left, 0, label, SMALL, tone="quiet"), Words(left + label_room, 0, line)))
    return found


def _heading(setting: Setting, heading: Heading) -> list[Strip]:
    lines = setting.lines(heading.text, setting.room, "bold", _HEADING_SIZE)
    return [
        strip_of(
            Words(setting.left, 0, line, _HEADING_SIZE, "bold", "accent"),
            size=_HEADING_SIZE,
            above=12 if place == 0 else 0,
            below=2,
            stays=True,
        )
        for place, line in enumerate(lines)
    ]


def _bars(setting: Setting, bars: Bars) -> list[Strip]:
    """Labels at the left, the amounts at the right edge, the bars between them."""
    labels = max((setting.width_of(each.label, size=SMALL) for each in bars.bars), default=0.0)
    words = max((setting.width_of(each.words, size=SMALL) for each in bars.bars), default=0.0)
    left, room = setting.left + labels + GAP, setting.room - labels - words - 2 * GAP
    strips = []
    for place, each in enumerate(bars.bars):
        length = room * bars.share(each)
        marks: list[Stroke | Words] = [
            Words(setting.left, 0, setting.letters.drawable(each.label, "regular"), SMALL, tone="quiet"),
            Words(setting.right, 0, setting.letters.drawable(each.words, "regular"), SMALL, ends_at_x=True),
        ]
        if length > 0:
            marks.append(Stroke(left, -SMALL * 0.34, left + length, SMALL * 0.8, "accent"))
        is_last = place == len(bars.bars) - 1
        strips.append(strip_of(*marks, size=SMALL, above=6 if place == 0 else 1, stays=not is_last))
    return strips


def _note(setting: Setting, text: str) -> list[Strip]:
    lines = setting.lines(text, setting.room, size=_NOTE_SIZE)
    last = len(lines) - 1
    return [
        strip_of(
            Words(setting.left, 0, line, _NOTE_SIZE), size=_NOTE_SIZE, above=5 if place == 0 else 0, stays=place < last
        )
        for place, line in enumerate(lines)
    ]


def _signatures(setting: Setting, signatures: Signatures) -> Strip:
    """A line for each label side by side, with room above it for a hand."""
    share = setting.room / max(1, len(signatures.labels))
    marks: list[Stroke | Words] = []
    lines_under = 1
    for place, label in enumerate(signatures.labels):
        left = setting.left + place * share
        room = share - (GAP if place < len(signatures.labels) - 1 else 0)
        under = setting.lines(label, room, size=SMALL)
        marks.append(Stroke(left, 0, left + room, tone="ink"))
        marks += [Words(left, 11 * number, line, SMALL, tone="quiet") for number, line in enumerate(under, start=1)]
        lines_under = max(lines_under, len(under))
    return strip_of(*marks, above=34, below=11 * lines_under - 6)
