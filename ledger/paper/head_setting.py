"""How the head of a sheet is set: the name, the lines under it, the picture at the right edge, and a seam below."""

from __future__ import annotations

from ledger.paper.marks import SMALL, Pixels, Strip, Stroke, Words, height_of
from ledger.paper.setting import GAP, Setting, strip_of
from ledger.paper.sheet import LetterPicture, Sheet

_NAME_SIZE = 21.0
# A picture of few pixels stays small rather than becoming squares: so many to the inch at least.
_LEAST_PIXELS_AN_INCH = 110
_ABOVE_SEAM = 3.0


def set_letterhead(setting: Setting, sheet: Sheet) -> list[Strip]:
    """The name in large letters, what stands under it, and a seam across the page."""
    beside = _beside(setting, sheet)
    room = beside.x - GAP - setting.left if beside else setting.room
    name, *under = sheet.letterhead
    strips = [
        strip_of(Words(setting.left, 0, line, _NAME_SIZE, "bold", "accent"), size=_NAME_SIZE, stays=True)
        for line in setting.lines(name, room, "bold", _NAME_SIZE)
    ]
    strips += [
        strip_of(Words(setting.left, 0, line, SMALL, tone="quiet"), size=SMALL, stays=True)
        for text in under
        for line in setting.lines(text, room, size=SMALL)
    ]
    if beside is not None:
        # It hangs from the top line down past the others, and the seam goes below whatever reaches lower.
        lower = max(0.0, beside.height + _ABOVE_SEAM - height_of(strips))
        strips = [
            Strip(strips[0].height, (*strips[0].marks, beside), stays=True),
            *strips[1:],
            Strip(lower, stays=True),
        ]
    seam = Stroke(setting.left, 6, setting.right, 1.4, "accent", is_stitched=True)
    return [*strips, Strip(16, (seam,), stays=True)]


def _beside(setting: Setting, sheet: Sheet) -> Pixels | None:
    if sheet.picture is None:
        return None
    width, height = fitted(sheet.picture, sheet.picture_box)
    return Pixels(setting.right - width, 0, sheet.picture.png, width, height)


def fitted(picture: LetterPicture, box: tuple[float, float]) -> tuple[float, float]:
    """Width and height in points: as large as the box lets it be, its sides in proportion."""
    scale = min(box[0] / picture.width, box[1] / picture.height, 72 / _LEAST_PIXELS_AN_INCH)
    return picture.width * scale, picture.height * scale
