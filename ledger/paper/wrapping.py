"""Breaking text into lines, and a width into columns: one arithmetic for terminal columns and for points."""

from __future__ import annotations

import unicodedata
from collections.abc import Callable, Sequence

_JOINER = "\N{ZERO WIDTH JOINER}"
_SKIN_TONES = range(0x1F3FB, 0x1F400)

WidthOf = Callable[[str], float]


def clusters(text: str) -> list[str]:
    """The characters of a text, each with the accents, selectors and joined pictures that belong to it."""
    found: list[str] = []
    for character in text:
        joins = unicodedata.category(character) in ("Mn", "Me", "Mc") or character == _JOINER
        joins = joins or ord(character) in _SKIN_TONES or (bool(found) and found[-1].endswith(_JOINER))
        if joins and found:
            found[-1] += character
        else:
            found.append(character)
    return found


def terminal_columns(text: str) -> int:
    """How many columns of a terminal a text takes: wide characters and pictures two, accents none."""
    return sum(map(_columns_of_cluster, clusters(text)))


def wrap(text: str, room: float, width_of: WidthOf) -> list[str]:
    """Lines no wider than `room`, broken at spaces, and inside a word where it alone is wider. At least one line."""
    lines = [""]
    for word in text.split(" "):
        longer = f"{lines[-1]} {word}" if lines[-1] else word
        if width_of(longer) <= room:
            lines[-1] = longer
        elif lines[-1]:
            lines += _pieces(word, room, width_of)
        else:
            lines[-1:] = _pieces(word, room, width_of)
    return lines


def share_width(naturals: Sequence[float], are_amounts: Sequence[bool], room: float) -> list[float]:
    """Widths for columns that together take `room`: amounts as wide as they are, the texts fairly from the rest.

    Where the amounts leave a text less than a fifth of the room, they are broken over lines as texts are.
    """
    amounts = sum(natural for natural, is_amount in zip(naturals, are_amounts, strict=True) if is_amount)
    if all(are_amounts) or amounts > room * 0.8:
        return _fair(naturals, room)
    texts = [natural for natural, is_amount in zip(naturals, are_amounts, strict=True) if not is_amount]
    shares = iter(_fair(texts, room - amounts))
    return [natural if is_amount else next(shares) for natural, is_amount in zip(naturals, are_amounts, strict=True)]


def _fair(naturals: Sequence[float], room: float) -> list[float]:
    """Everyone's natural width where it fits, and what is left over to the widest; else the wide ones are cut alike."""
    spare = room - sum(naturals)
    widest = max(range(len(naturals)), key=lambda place: naturals[place])
    if spare >= 0:
        return [natural + spare if place == widest else natural for place, natural in enumerate(naturals)]
    left, waiting, cut = room, len(naturals), room
    for natural in sorted(naturals):
        cut = left / waiting
        if natural > cut:
            break
        left, waiting = left - natural, waiting - 1
    return [min(natural, cut) for natural in naturals]


def _columns_of_cluster(cluster: str) -> int:
    if any(unicodedata.east_asian_width(each) in "WF" or each == "\N{VARIATION SELECTOR-16}" for each in cluster):
        return 2
    return 0 if unicodedata.category(cluster[0]) in ("Mn", "Me") else 1


def _pieces(word: str, room: float, width_of: WidthOf) -> list[str]:
    """A word in pieces no wider than the room, each of at least one character."""
    pieces = [""]
    for cluster in clusters(word):
        if pieces[-1] and width_of(pieces[-1] + cluster) > room:
            pieces.append("")
        pieces[-1] += cluster
    return pieces
