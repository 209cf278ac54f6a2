"""Text from a person or a file: made safe on the way in, and again where it is shown; how names are compared."""

from __future__ import annotations

import re
import unicodedata

from ledger.errors import NotUnderstood

REMOVED = "\N{REPLACEMENT CHARACTER}"
NAME_LENGTH = 120
TEXT_LENGTH = 500

_JOINER = "\N{ZERO WIDTH JOINER}"
# Controls, format (bidi, zero width, tags), surrogates, private use, unassigned, line and paragraph separators.
_UNSAFE = {"Cc", "Cf", "Cs", "Co", "Cn", "Zl", "Zp"}
# Letters and marks that nobody can see: the rest of Unicode's property Default_Ignorable_Code_Point.
_INVISIBLE = frozenset("\u034f\u115f\u1160\u17b4\u17b5\u3164\uffa0").union(
    map(chr, (*range(0x180B, 0x1810), *range(0xFE00, 0xFE10), *range(0xE0100, 0xE01F0)))
)
_PICTURE_SELECTORS = "\ufe0e\ufe0f"
# Beside symbols, what a selector turns into a picture: keycaps and four punctuation marks.
_BECOMES_PICTURE = "#*0123456789\u203c\u2049\u2139\u3030"
_ACCENTS = re.compile("[\u0300-\u036f]+")
_SPACES = re.compile(r"\s+")


def clean(text: str, *, keep_lines: bool = False) -> str:
    """NFC text in which every run of characters that a terminal might obey, or nobody could see, is one mark.

    Tabs become spaces, and so do line breaks unless `keep_lines`. The joiner inside an emoji stays.
    """
    if text.isascii() and text.isprintable():
        return text  # as most texts are, in lists of thousands
    spaced = text.replace("\r\n", "\n").replace("\t", " ")
    composed = unicodedata.normalize("NFC", spaced if keep_lines else spaced.replace("\n", " "))
    kept: list[str] = []
    for place, character in enumerate(composed):
        if _is_safe(composed, place) or (keep_lines and character == "\n"):
            kept.append(character)
        elif not kept or kept[-1] != REMOVED:
            kept.append(REMOVED)
    return "".join(kept)


def shown(text: str) -> str:
    """Text fit for one line of a terminal, a receipt or a message."""
    return clean(text)


def read_text(text: str, field: str | None = None, *, limit: int = TEXT_LENGTH, keep_lines: bool = False) -> str:
    """Free text as it is kept: cleaned, trimmed, not empty, of at most `limit` characters. Raises NotUnderstood."""
    kept = clean(text, keep_lines=keep_lines).strip()
    if not kept.replace(REMOVED, "").strip():
        raise NotUnderstood("The text is empty.", "Write a few words.", field)
    if len(kept) > limit:
        raise NotUnderstood(f"The text is {len(kept)} characters long.", f"Keep it to {limit}.", field)
    return kept


def read_name(text: str, field: str | None = None) -> str:
    """A name as it is kept: NFC, trimmed, single-spaced. Raises NotUnderstood.

    A name has a letter or digit, holds nothing that cannot be seen and no `=`, which separates a name from its value.
    """
    name = _SPACES.sub(" ", unicodedata.normalize("NFC", text)).strip()
    if clean(name) != name:
        raise NotUnderstood(
            f"The name «{shown(text)[:40]}» holds characters that cannot be shown.",
            "Type it with letters alone.",
            field,
        )
    if not any(character.isalnum() for character in name):
        raise NotUnderstood(f"The name «{shown(text)[:40]}» has no letter or digit.", "Type a name.", field)
    if "=" in name:
        raise NotUnderstood("A name cannot hold an equals sign.", "Type it without.", field)
    if len(name) > NAME_LENGTH:
        raise NotUnderstood(f"The name is {len(name)} characters long.", f"Keep it to {NAME_LENGTH}.", field)
    return name


def name_key(name: str) -> str:
    """What two spellings of one name share: NFC, trimmed, single-spaced, case folded."""
    spaced = _SPACES.sub(" ", unicodedata.normalize("NFC", name)).strip()
    return unicodedata.normalize("NFC", spaced.casefold())


def folded(text: str) -> str:
    """Text as it is looked for: case folded and without accents, so that «zoe» finds «Zoë»."""
    lower = text.casefold()
    if lower.isascii():
        return lower
    return _ACCENTS.sub("", unicodedata.normalize("NFKD", lower))


def _is_safe(text: str, place: int) -> bool:
    character = text[place]
    if character == _JOINER:
        return _is_picture(text, place - 1) and _is_picture(text, place + 1)
    if character in _PICTURE_SELECTORS:
        return place > 0 and (_is_symbol(text[place - 1]) or text[place - 1] in _BECOMES_PICTURE)
    return unicodedata.category(character) not in _UNSAFE and character not in _INVISIBLE


def _is_picture(text: str, place: int) -> bool:
    # A variation selector or a skin tone may stand between an emoji and the joiner.
    if not 0 <= place < len(text):
        return False
    character = text[place]
    if character in _PICTURE_SELECTORS:
        return _is_picture(text, place - 1)
    return _is_symbol(character) or 0x1F3FB <= ord(character) <= 0x1F3FF


def _is_symbol(character: str) -> bool:
    # Mathematical symbols are pictures from the arrows on; before stand + < = > and the like.
    category = unicodedata.category(character)
    return (category == "So" and character != REMOVED) or (category == "Sm" and character >= "\u2190")
