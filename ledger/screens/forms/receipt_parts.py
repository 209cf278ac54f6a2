"""Further categories on a receipt, typed in one field: `batting 12.50; needles 3+4`."""

from __future__ import annotations

import re
from collections.abc import Sequence

from textual.suggester import Suggester

from ledger.errors import NotUnderstood
from ledger.money import Currency
from ledger.screens.reading import typed_amount
from ledger.text import shown

# Between two parts: a semicolon, or a comma before a word; a comma inside a number is none.
_BETWEEN = re.compile(r";|,\s+(?=[^\W\d])")
_PART = re.compile(r"(.*?\S)[\s=]+([0-9][0-9.,'+]*)")


def typed_parts(
    text: str, categories: Sequence[str], currency: Currency, locale: str, field: str
) -> tuple[tuple[str, int], ...]:
    """Names of categories with their cents. The first letters of a name are enough. Raises NotUnderstood."""
    parts = []
    for each in _BETWEEN.split(text):
        if not each.strip():
            continue
        found = _PART.fullmatch(each.strip())
        if found is None:
            raise NotUnderstood(
                f"«{shown(each.strip())[:30]}» has no amount.", "Write it like batting 12.50; needles 3.", field
            )
        name, amount = found[1], found[2]
        parts.append((_completed(name, categories) or name, typed_amount(amount, currency, locale, field)))
    return tuple(parts)


class PartSuggester(Suggester):
    """Completes the name of the part that is being typed."""

    def __init__(self, categories: Sequence[str]) -> None:
        super().__init__(case_sensitive=True)
        self.categories = [shown(each) for each in categories]

    async def get_suggestion(self, value: str) -> str | None:
        begun = _BETWEEN.split(value)[-1].lstrip()
        found = _completed(begun, self.categories) if begun else None
        return value + found[len(begun) :] if found else None


def _completed(begun: str, categories: Sequence[str]) -> str | None:
    typed = begun.casefold()
    exact = next((each for each in categories if each.casefold() == typed), None)
    return exact or next((each for each in categories if each.casefold().startswith(typed)), None)
