"""The fields of the uniform exemption certificate, and its reasons by letter.

Streamlined Sales Tax Governing Board, Form F0003 (revised 21 December 2021): purchaser, address, seller, one purchase
or all of them, type of business, reason A to M, number and state, signature, name, title and day. Purchaser and seller
are the customer and the workshop; reason, number and state stand with the certificate itself.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import date
from typing import Final

from ledger.errors import NotUnderstood
from ledger.text import name_key, read_text

REASONS: Final = {
    "A": "federal government",
    "B": "state or local government",
    "C": "tribal government",
    "D": "foreign diplomat",
    "E": "charitable organization",
    "F": "religious organization",
    "G": "resale",
    "H": "agricultural production",
    "I": "industrial production",
    "J": "direct pay permit",
    "K": "direct mail",
    "L": "other",
    "M": "educational organization",
}
_LETTER = re.compile(r"([A-Za-z])(?:\s*:\s*(.*))?")


@dataclass(frozen=True)
class Reason:
    """letter: that of the uniform form, None for words of her own."""

    words: str
    letter: str | None


@dataclass(frozen=True)
class CertificateForm:
    """address: of the buyer. single_purchase: the invoice or order it is for; None for a blanket, for all purchases.

    business: its type. letter: that of the reason.
    """

    address: str | None = None
    single_purchase: str | None = None
    business: str | None = None
    signed_by: str | None = None
    title: str | None = None
    signed_on: date | None = None
    letter: str | None = None

    def texts(self) -> dict[str, str | None]:
        """The fields that are free text, by name."""
        return {
            "address": self.address,
            "single_purchase": self.single_purchase,
            "business": self.business,
            "signed_by": self.signed_by,
            "title": self.title,
        }


def read_reason(text: str) -> Reason:
    """A reason in words, as a letter of the form, or as a letter with words after a colon. Raises NotUnderstood."""
    kept = read_text(text, "exempt")
    found = _LETTER.fullmatch(kept)
    if found is None and name_key(kept) != REASONS["L"]:
        letter = next((each for each, words in REASONS.items() if name_key(words) == name_key(kept)), None)
        return Reason(kept, letter)
    letter, words = (found[1].upper(), (found[2] or "").strip()) if found is not None else ("L", "")
    if letter not in REASONS:
        raise NotUnderstood(f"The form has no reason {letter}.", "Give a letter from A to M, or the words.", "exempt")
    if letter == "L" and not words:
        raise NotUnderstood("Reason L is explained.", "Say it in words, such as «L: lottery prizes».", "exempt")
    return Reason(words or REASONS[letter], letter)
