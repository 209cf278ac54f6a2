"""The text of a bank's file, whatever it was written in: UTF-8 with or without its mark, UTF-16, or Windows-1252."""

from __future__ import annotations

import codecs

from ledger.errors import NotUnderstood

_MARKS = (
    (codecs.BOM_UTF8, "utf-8-sig"),
    (codecs.BOM_UTF16_LE, "utf-16"),
    (codecs.BOM_UTF16_BE, "utf-16"),
)


def text_of(content: bytes, encoding: str | None = None) -> str:
    """The text of a file. Raises NotUnderstood where it is none, or not in the encoding that was named."""
    tried = [encoding] if encoding is not None else _encodings(content)
    for each in tried:
        try:
            text = content.decode(each)
        except (UnicodeDecodeError, LookupError):
            continue
        if "\0" in text:
            raise NotUnderstood("The file holds characters that no text has.", "Ask the bank for another one.", "file")
        return text.removeprefix("\ufeff")
    raise NotUnderstood(
        "The file is no text in an encoding that banks use.", "Ask the bank for OFX, or for CSV in UTF-8.", "file"
    )


def _encodings(content: bytes) -> list[str]:
    marked = [name for mark, name in _MARKS if content.startswith(mark)]
    if marked:
        return marked
    # Without a mark, UTF-16 shows by its zeros: every second byte of plain letters.
    for place, name in ((1, "utf-16-le"), (0, "utf-16-be")):
        sample = content[place:200:2]
        if len(content) % 2 == 0 and sample and sample.count(0) > len(sample) * 3 // 4:
            return [name]
    return ["utf-8", "cp1252"]


def is_ofx(content: bytes) -> bool:
    """Whether a file says of itself that it is OFX, of whichever version."""
    beginning = content[:2000].replace(b"\0", b"").upper()
    return b"OFXHEADER" in beginning or b"<OFX>" in beginning
