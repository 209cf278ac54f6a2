"""What stands on a sheet of paper, from the letterhead down. Text here is as it was written; setting it cleans it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, Final

MARGIN: Final = 54.0
# Width and height, in points, into which a picture beside the name is fitted.
PICTURE_BOX: Final = (165.0, 64.0)
SMALL_PICTURE_BOX: Final = (90.0, 29.0)


@dataclass(frozen=True)
class LetterPicture:
    """A picture beside the workshop's name. png: opaque pixels without anything beside them. Sizes in pixels."""

    png: bytes
    width: int
    height: int


@dataclass(frozen=True)
class Title:
    """What the sheet is. beside: what belongs to it and stands at the other edge, such as the day."""

    text: str
    beside: str = ""


@dataclass(frozen=True)
class Facts:
    """Pairs of label and value; on a wide page the second group stands beside the first."""

    first: tuple[tuple[str, str], ...]
    second: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True)
class Heading:
    """The heading of what follows on the sheet."""

    text: str


@dataclass(frozen=True)
class Column:
    """A column of a table. is_amount: set against the right edge, and never broken over two lines."""

    head: str
    is_amount: bool = False


@dataclass(frozen=True)
class Row:
    """A row of a table: a cell for each column, and small lines under the first cell. is_sum: it stands out."""

    cells: tuple[str, ...]
    details: tuple[str, ...] = ()
    is_sum: bool = False


@dataclass(frozen=True)
class Table:
    columns: tuple[Column, ...]
    rows: tuple[Row, ...]


@dataclass(frozen=True)
class Total:
    """A label and its amount at the right edge, with small lines under the label. is_sum: it stands out."""

    label: str
    amount: str
    details: tuple[str, ...] = ()
    is_sum: bool = False


@dataclass(frozen=True)
class Totals:
    totals: tuple[Total, ...]


@dataclass(frozen=True)
class Notes:
    """Sentences, each a paragraph of its own."""

    texts: tuple[str, ...]


@dataclass(frozen=True)
class Signatures:
    """A line to write on for each label."""

    labels: tuple[str, ...]


@dataclass(frozen=True)
class Questions:
    """Questions to be put to somebody, each with a line to write the answer on: beside it, or under it in two columns.

    groups: headings, each with its questions. size: that of the letters. room: the height for an answer, of which a
    question beside it may take its part. Both in points. goes_on: in columns, an answer begins on the last line of its
    question where that is short.
    """

    groups: tuple[tuple[str, tuple[str, ...]], ...]
    size: float = 9.0
    room: float = 30.0
    in_columns: bool = False
    goes_on: bool = False


@dataclass(frozen=True)
class Bar:
    """A label, a size that is set against those of the other bars, and the size in words. A size may be below zero."""

    label: str
    size: int
    words: str


@dataclass(frozen=True)
class Bars:
    """A bar beside each label, all to one scale. of: what a full bar is, the largest size where it is nothing."""

    bars: tuple[Bar, ...]
    of: int = 0

    def share(self, bar: Bar) -> float:
        """How much of a full bar it fills, from 0 to 1: a drawing's length, no figure. Below zero it is empty."""
        full = self.of or max((each.size for each in self.bars), default=0)
        return min(1.0, max(0.0, bar.size / full)) if full > 0 else 0.0


@dataclass(frozen=True)
class Picture:
    """A drawing of the PDF library, and what it shows in words, for a sheet of text. Sizes in points."""

    drawing: Any
    height: float
    words: tuple[str, ...]


Block = Title | Facts | Heading | Table | Totals | Bars | Picture | Notes | Signatures | Questions


@dataclass(frozen=True)
class Sheet:
    """A whole sheet. letterhead: whose it is, and lines under the name. about: what a file of it is called inside.

    foot and digits stand at the foot of every page, digits in letters of one width, where no page can do without them.
    margin: on every side of a page, in points. picture: stands beside the letterhead, fitted into picture_box.
    """

    letterhead: tuple[str, ...]
    about: str
    blocks: tuple[Block, ...]
    foot: str = ""
    digits: str = ""
    margin: float = MARGIN
    picture: LetterPicture | None = None
    picture_box: tuple[float, float] = PICTURE_BOX
