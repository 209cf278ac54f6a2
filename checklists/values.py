"""The kinds of answer, and the strict way to read each; an answer is kept as the text that its reader gives back."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from typing import Final

from checklists.home_rules import read_area, read_floor_rule, read_hours
from checklists.item import AnswerPart, Item
from ledger.errors import NotUnderstood
from ledger.money import Currency, plain_amount, plain_decimal, read_amount, read_percent
from ledger.periods import parse_date
from ledger.text import name_key, read_text

# Each kind with an answer of that kind, as an example.
KINDS: Final[Mapping[str, str]] = {
    "text": "what they said",
    "yes/no": "yes",
    "amount": "25000.00",
    "percent": "15",
    "date": "2026-03-14",
    "count": "4",
    "day of the month": "20",
    "choice": "",
    "account": "County Bank, ending 4417",
    "area": "180 square feet",
    "floor share": "25 % of the house",
    "hours": "8 am to 6 pm",
}
# In these a comma may stand, so that they cannot be one part of several.
STANDS_ALONE: Final = ("text", "account", "floor share")
MOST_COUNTED = 9999
_HOME_READERS: Final[Mapping[str, Callable[[str, str], object]]] = {
    "area": read_area,
    "floor share": read_floor_rule,
    "hours": read_hours,
}
_COUNT = re.compile(r"[0-9]{1,4}")
_SOCIAL_SECURITY = re.compile(r"(?<![0-9])[0-9]{3}[- ][0-9]{2}[- ][0-9]{4}(?![0-9])")
_CARD = re.compile(r"(?<![0-9])[3-6](?:[ -]?[0-9]){14,15}(?![0-9])")
_LONG_NUMBER = re.compile(r"[0-9](?:[ -]?[0-9]){4}")


def read_values(item: Item, text: str, currency: Currency) -> dict[str, str]:
    """The values of an answer by the names of its parts; several parts stand with commas between.

    A yes/no is `yes` or `no`, an amount and a percent are plain numbers, a date is ISO 8601, a choice is spelled as in
    the list; area, floor share and hours have the forms of `checklists.home_rules`. Raises NotUnderstood, naming the
    part.
    """
    if len(item.parts) == 1:
        return {item.parts[0].name: read_value(item.parts[0], text, currency)}
    given = [each.strip() for each in text.split(",")]
    if len(given) != len(item.parts):
        missing = item.parts[len(given)].name if len(given) < len(item.parts) else item.parts[-1].name
        raise NotUnderstood(
            f"This answer has {len(item.parts)} parts: {form_of(item)}.",
            f"Write them with commas between: {example_of(item)}.",
            missing,
        )
    return {part.name: read_value(part, value, currency) for part, value in zip(item.parts, given, strict=True)}


def read_value(part: AnswerPart, text: str, currency: Currency) -> str:
    """One value as it is kept. Raises NotUnderstood, naming the part."""
    field = part.name
    if part.kind == "amount":
        return plain_amount(read_amount(text, currency, field, zero=True), currency)
    if part.kind == "percent":
        return plain_decimal(read_percent(text, field))
    if part.kind == "date":
        return parse_date(text.strip(), field).isoformat()
    if part.kind in ("count", "day of the month"):
        return _number(text, field, 31 if part.kind == "day of the month" else MOST_COUNTED)
    if part.kind in ("yes/no", "choice"):
        return _one_of(part.choices or ("yes", "no"), text, field)
    if part.kind in _HOME_READERS:
        return str(_HOME_READERS[part.kind](text, field))
    return _account(text, field) if part.kind == "account" else read_open_text(text, field)


def read_open_text(text: str, field: str) -> str:
    """Free text without a Social Security or card number: none is kept anywhere. Raises NotUnderstood."""
    kept = read_text(text, field)
    if _SOCIAL_SECURITY.search(kept) or any(_is_card(found[0]) for found in _CARD.finditer(kept)):
        raise NotUnderstood(
            "This looks like a Social Security or card number, and none is kept in these books.",
            "Leave it out, or keep its last four digits alone.",
            field,
        )
    return kept


def form_of(item: Item) -> str:
    """What an answer consists of, in words: `yes/no`, the choices, or `due day (day of the month)` of several parts."""
    kinds = [" | ".join(part.choices) or part.kind for part in item.parts]
    if len(kinds) == 1:
        return kinds[0]
    return ", ".join(f"{part.name.replace('_', ' ')} ({kind})" for part, kind in zip(item.parts, kinds, strict=True))


def example_of(item: Item) -> str:
    """An answer as it can be typed."""
    return ", ".join(part.choices[0] if part.choices else KINDS[part.kind] for part in item.parts)


def _number(text: str, field: str, most: int) -> str:
    bare = text.strip()
    if not _COUNT.fullmatch(bare) or int(bare) > most or (most == 31 and int(bare) < 1):
        least = 1 if most == 31 else 0
        raise NotUnderstood(
            f"«{_short(text)}» is no whole number from {least} to {most}.", "Write it in digits, such as 4.", field
        )
    return str(int(bare))


def _one_of(choices: tuple[str, ...], text: str, field: str) -> str:
    found = next((each for each in choices if name_key(each) == name_key(text)), None)
    if found is None:
        raise NotUnderstood(f"«{_short(text)}» is none of the answers here.", f"Say {' or '.join(choices)}.", field)
    return found


def _account(text: str, field: str) -> str:
    kept = read_open_text(text, field)
    if _LONG_NUMBER.search(kept):
        raise NotUnderstood(
            "This looks like a whole account number, and none is kept in these books.",
            f"Give the bank and the last four digits, such as {KINDS['account']}.",
            field,
        )
    return kept


def _is_card(text: str) -> bool:
    """Whether the digits pass the check of ISO/IEC 7812-1 (annex B), as every card number does."""
    digits = [int(each) for each in text if each.isdigit()]
    doubled = [sum(divmod(2 * each, 10)) for each in digits[-2::-2]]
    return (sum(digits[-1::-2]) + sum(doubled)) % 10 == 0


def _short(text: str) -> str:
    from ledger.text import shown

    return shown(text)[:40]
