"""What pages are made of: words and strokes, and the strips that carry them down a page. Lengths in points."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any, Literal

from ledger.paper.fonts import Face

Tone = Literal["ink", "quiet", "accent", "pale"]
BODY, SMALL = 9.5, 8.0


@dataclass(frozen=True)
class Words:
    """Text on a base line `down` from the top. x is its left edge, or its right one if `ends_at_x`."""

    x: float
    down: float
    text: str
    size: float = BODY
    face: Face = "regular"
    tone: Tone = "ink"
    ends_at_x: bool = False


@dataclass(frozen=True)
class Stroke:
    """A level line. is_stitched: dashes, as a seam has them."""

    x: float
    down: float
    to_x: float
    thickness: float = 0.5
    tone: Tone = "pale"
    is_stitched: bool = False


@dataclass(frozen=True)
class Drawn:
    """A drawing of the PDF library; its upper left corner."""

    x: float
    down: float
    drawing: Any
    height: float


@dataclass(frozen=True)
class Pixels:
    """A picture in the PNG format; its upper left corner, and the size at which it is drawn."""

    x: float
    down: float
    png: bytes
    width: float
    height: float


Mark = Words | Stroke | Drawn | Pixels
Page = tuple[Mark, ...]


@dataclass(frozen=True)
class Strip:
    """A band of a page; its marks are placed from its own top. stays: no page ends between it and the next one.

    heads: the strips that come before it where a page begins with it.
    """

    height: float
    marks: tuple[Mark, ...] = ()
    stays: bool = False
    heads: tuple[Strip, ...] = ()


def height_of(strips: Sequence[Strip]) -> float:
    return sum(strip.height for strip in strips)
