"""What two lines of one shop share, whatever number, date or place the bank puts beside its name."""

from __future__ import annotations

import re
import unicodedata

_WORD = re.compile(r"[^\W\d_]+")
# Words that banks put before or after the name; common practice, no source.
_BANK_WORDS = frozenset(
    {"pos", "purchase", "card", "debit", "credit", "payment", "ach", "online", "web", "recurring", "transaction"}
    | {"checkcard", "visa", "auth", "ref", "des", "id", "co", "ppd", "ccd", "the", "inc", "llc", "ltd", "www", "com"}
    | {"store", "us", "usa"}
)
_MOST_WORDS = 3
_LEAST_LETTERS = 3


def text_key(text: str) -> str:
    """The first words of a line that say who it is, folded; all its words where those are only the bank's."""
    words = _words(text)
    telling = [each for each in words if each not in _BANK_WORDS and len(each) >= _LEAST_LETTERS]
    return " ".join((telling or words)[:_MOST_WORDS])[:200]


def names_it(words: str, who: str) -> bool:
    """Whether a line says a name: each of its telling words, or one that has six letters or more."""
    name = [each for each in _words(who) if len(each) >= _LEAST_LETTERS]
    said = set(_words(words))
    return bool(name) and (all(each in said for each in name) or any(len(each) >= 6 and each in said for each in name))


def _words(text: str) -> list[str]:
    plain = unicodedata.normalize("NFKC", text).casefold().replace("'", "").replace("\u2019", "")
    return _WORD.findall(plain)
