"""The letterhead: lines under the workshop's name and a picture beside it, put on a sheet just before it is set."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import Final

from ledger.errors import NotPossible
from ledger.paper.sheet import SMALL_PICTURE_BOX, LetterPicture, Sheet
from ledger.text import read_text

LINES_AT_MOST: Final = 4
LINE_LENGTH: Final = 90


@dataclass(frozen=True)
class Letterhead:
    """lines: address, telephone, mail, permit, as she types them. picture: None where there is none."""

    lines: tuple[str, ...] = ()
    picture: LetterPicture | None = None


NAME_ALONE: Final = Letterhead()


def on_letterhead(sheet: Sheet, letterhead: Letterhead) -> Sheet:
    """The sheet with lines and picture; what already stood under the name stays, below the lines."""
    name, *under = sheet.letterhead
    return replace(sheet, letterhead=(name, *letterhead.lines, *under), picture=letterhead.picture)


def on_small_letterhead(sheet: Sheet, letterhead: Letterhead) -> Sheet:
    """The same for a sheet that is full: a small picture and no lines, so that it takes no more room than the name."""
    return replace(sheet, picture=letterhead.picture, picture_box=SMALL_PICTURE_BOX)


def read_lines(lines: Iterable[str], field: str = "line") -> tuple[str, ...]:
    """The lines as they are kept, empty ones left out. Raises NotUnderstood, and NotPossible for more than four."""
    kept = tuple(read_text(line, field, limit=LINE_LENGTH) for line in lines if line.strip())
    if len(kept) > LINES_AT_MOST:
        raise NotPossible(
            f"There is room for {LINES_AT_MOST} lines under the name.", "Put two of them on one line.", field
        )
    return kept
