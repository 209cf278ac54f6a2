"""The shipped letters: DejaVu Sans, its bold and its fixed width. How wide a text is, and what they cannot draw."""

from __future__ import annotations

import unicodedata
from functools import cache
from typing import TYPE_CHECKING, Literal, Protocol

from ledger.paper.wrapping import clusters
from ledger.text import REMOVED, shown

if TYPE_CHECKING:
    from reportlab.pdfbase.ttfonts import TTFont

Face = Literal["regular", "bold", "digits"]
_FILES: dict[Face, str] = {"regular": "DejaVuSans", "bold": "DejaVuSans-Bold", "digits": "DejaVuSansMono"}


class Letters(Protocol):
    """What the setting of pages asks of letters. Widths and sizes in points."""

    def width_of(self, text: str, face: Face, size: float) -> float: ...

    def drawable(self, text: str, face: Face) -> str: ...


class ShippedLetters:
    """The letters in ledger/paper/fonts. A face is read when it is first used: 11 to 27 ms, reportlab itself 140."""

    def width_of(self, text: str, face: Face, size: float) -> float:
        """The width of a drawable text."""
        widths: dict[int, float] = _font(face).face.charWidths
        return sum(widths[ord(each)] for each in text) * size / 1000

    def drawable(self, text: str, face: Face) -> str:
        """Text made safe, in which what the face lacks is a plainer form of it, or one mark for a run of it."""
        kept: list[str] = []
        for cluster in clusters(shown(text)):
            drawn = _drawn(cluster, face)
            if drawn != REMOVED or not kept or kept[-1] != REMOVED:
                kept.append(drawn)
        return "".join(kept)


def font_name(face: Face) -> str:
    """The name under which the drawing library knows a face, registered by then."""
    _font(face)
    return _FILES[face]


@cache
def _font(face: Face) -> TTFont:
    from importlib.resources import files

    from reportlab.pdfbase import pdfmetrics
    from reportlab.pdfbase.ttfonts import TTFont

    with (files("ledger.paper") / "fonts" / f"{_FILES[face]}.ttf").open("rb") as file:
        font = TTFont(_FILES[face], file)
    pdfmetrics.registerFont(font)
    return font


def _drawn(cluster: str, face: Face) -> str:
    known = _font(face).face.charToGlyph
    for form in (cluster, unicodedata.normalize("NFKC", cluster)):
        if all(ord(each) in known for each in form):
            return form
    return REMOVED
