"""Which signs a terminal can show, and ASCII of the same width in place of those that it cannot."""

from __future__ import annotations

import codecs
import sys
import unicodedata
from collections.abc import Mapping
from functools import lru_cache

UTF_8, ASCII = "utf-8", "ascii"
# Wide in a terminal: they take two cells (Unicode Standard Annex 11).
_WIDE = ("W", "F")
_ASCII_FOR = {
    # Frames: a focused one stands doubled, and is told from the others in ASCII too.
    **dict.fromkeys("─━┄┈╌╴╶", "-"),
    **dict.fromkeys("│┃┆┊╎▏▎▍▌▋▊▉▐▕", "|"),
    **dict.fromkeys("═", "="),
    **dict.fromkeys("║╔╗╚╝╠╣╦╩╬", "#"),
    # Curves and bars: what is filled, what is likely, its middle.
    **dict.fromkeys("▁▂▃", "_"),
    **dict.fromkeys("▄▅▆▇█▀■▛▜▙▟▘▝▖▗▔", "#"),
    **dict.fromkeys("░□", "."),
    **dict.fromkeys("▒▓", ":"),
    # Patches and marks.
    **dict.fromkeys("◢▲△", "/"),
    **dict.fromkeys("◤▼▽", "\\"),
    **dict.fromkeys("●•◆", "*"),
    **dict.fromkeys("◐◑✓✔", "+"),
    **dict.fromkeys("○◦◇", "o"),
    **dict.fromkeys("←◀◂", "<"),
    **dict.fromkeys("→▶▸", ">"),
    **dict.fromkeys("↑", "^"),
    **dict.fromkeys("↓", "v"),
    # Typed and printed signs. Spaces and minus signs as locales write them.
    **dict.fromkeys("\u00a0\u2002\u2003\u2007\u2009\u202f", " "),
    **dict.fromkeys("·–—−‐‑", "-"),
    **dict.fromkeys("«»“”„", '"'),
    **dict.fromkeys("‘’‚", "'"),
    "…": "~",
    "×": "x",
    "°": "o",
    "²": "2",
    "³": "3",
    "½": "2",
    "€": "E",
    "£": "L",
    "¥": "Y",
    "¢": "c",
}
_ANY_FRAME, _ANY_BLOCK, _ANY_SHAPE = range(0x2500, 0x2580), range(0x2580, 0x25A0), range(0x25A0, 0x2600)
_LATIN_1 = 0x100
# Terminals that are known to have few signs of their own, by the beginning of their names.
_FEW_SIGNS = ("dumb", "linux", "vt", "ansi", "cons25", "xterm-mono")
_NO, _YES = ("0", "no", "off"), ("1", "yes", "on")
_C_PLACES = ("C", "POSIX")
# What the interpreter itself puts there in the C locale, which is then not what the terminal was said to be.
_PUT_THERE = ("C.UTF-8", "C.utf8")
_ERRORS = "twopurse-signs"


def terminal_encoding(environment: Mapping[str, str], platform: str = sys.platform) -> str:
    """The codec of the terminal, by what the environment says of it; UTF-8 where nothing is said."""
    named = environment.get("PYTHONIOENCODING", "").partition(":")[0]
    if not named and platform != "win32":
        place = _place(environment)
        named = ASCII if place in _C_PLACES else place.partition(".")[2].partition("@")[0]
    try:
        return codecs.lookup(named or UTF_8).name
    except LookupError:
        return UTF_8


def _place(environment: Mapping[str, str]) -> str:
    """The locale that letters go by, in the order of POSIX."""
    everything, letters, usual = (environment.get(each, "") for each in ("LC_ALL", "LC_CTYPE", "LANG"))
    was_put_there = letters in _PUT_THERE and usual in _C_PLACES
    return everything or (usual if was_put_there else letters) or usual


def draws(environment: Mapping[str, str], encoding: str) -> bool:
    """Whether frames, bars and marks are drawn. TWOPURSE_ASCII says it; else the terminal's codec and name do."""
    said = environment.get("TWOPURSE_ASCII", "").strip().casefold()
    if said in _YES or encoding != UTF_8:
        return False
    return said in _NO or not environment.get("TERM", "").startswith(_FEW_SIGNS)


def in_ascii(text: str, encoding: str) -> str:
    """Text without drawn signs, in as many cells as before; a letter that the terminal's codec has is left alone."""
    return text if text.isascii() else "".join(_instead(each, encoding) for each in text)


@lru_cache(4096)
def _instead(sign: str, encoding: str) -> str:
    code = ord(sign)
    if code < _LATIN_1 and _has(encoding, sign):
        return sign
    if sign in _ASCII_FOR:
        return _ASCII_FOR[sign]
    for signs, ascii_sign in ((_ANY_FRAME, "+"), (_ANY_BLOCK, "#"), (_ANY_SHAPE, "*")):
        if code in signs:
            return ascii_sign
    if _has(encoding, sign):
        return sign
    if unicodedata.combining(sign) or unicodedata.category(sign) in ("Mn", "Me", "Cf"):
        return ""
    return "??" if unicodedata.east_asian_width(sign) in _WIDE else "?"


def _has(encoding: str, sign: str) -> bool:
    try:
        sign.encode(encoding)
    except UnicodeEncodeError:
        return False
    return True


def speak(stream: object, encoding: str) -> None:
    """Set a stream to a codec; what it cannot take is written in ASCII instead, and never stops the program."""
    reconfigure = getattr(stream, "reconfigure", None)
    if reconfigure is not None:
        reconfigure(encoding=encoding, errors="backslashreplace" if encoding == UTF_8 else _ERRORS)


def _in_place_of_what_cannot_be_written(error: UnicodeError) -> tuple[str, int]:
    if not isinstance(error, UnicodeEncodeError):
        raise error
    return in_ascii(error.object[error.start : error.end], ASCII), error.end


codecs.register_error(_ERRORS, _in_place_of_what_cannot_be_written)
