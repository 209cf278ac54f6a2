"""The six questions of the first minutes: what they ask, and how their answers are read."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import replace
from decimal import Decimal

from checklists.not_yet_known import Unknown
from ledger.actions import begin
from ledger.errors import NotUnderstood, Refused
from ledger.money import Currency, currency_from_code, read_percent
from ledger.screens.forms.field import Asked
from ledger.screens.reading import typed_choice
from ledger.text import read_name

NOT_YET = "not yet known"
NOT_HERE = "not here yet"
NOT_YET_KNOWN = ("", "?", NOT_YET, "unknown")
USUAL_PLACE = "USD en_US"
_PLACES = (USUAL_PLACE, "CAD en_CA", "CAD fr_CA", "GBP en_GB", "EUR de_DE", "EUR fr_FR", "AUD en_AU", "NZD en_NZ")
_BY_NUMBER: dict[str, begin.Owned] = {"1": "sole proprietor", "2": "one-owner LLC", "3": "something else"}
_RATE = re.compile(r"\s*(?P<name>[^\d]*?)\s*(?P<percent>\d+(?:\.\d+)?)\s*%?\s*")

QUESTIONS = (
    Asked("name", "1 Workshop", hint="such as Lantern Quilting"),
    Asked("place", "2 Money and place", value=USUAL_PLACE, known=_PLACES),
    Asked("machine_price", "3 Machine cost", hint="such as 18,500", known=(NOT_YET, NOT_HERE)),
    Asked("opening", "4 In the bank", hint="such as 1,200.50", known=(NOT_YET,)),
    Asked("rates", "5 Sales tax", hint="such as state 4.3", known=(NOT_YET,)),
    Asked("owned", "6 Owned as", hint="1, 2 or 3", known=(*begin.OWNED, NOT_YET)),
)
# What is said of the question that is being answered.
ABOUT: Mapping[str, str] = {
    "name": "The name of your workshop, as it stands on your receipts. It stays as you choose it here.",
    "place": "The currency, and the place that says how amounts and dates are written: USD en_US is the dollar in the "
    "United States. Taken from this computer; both stay as you choose them here.",
    "machine_price": "All that you paid for the machine up to today. «not here yet» if you have none; more of the cost "
    "can be entered later.",
    "opening": "What is in the workshop's own bank account this morning. What is in your household's is no part of it.",
    "rates": "The rates where you are, such as: state 4.3, county 1.0. What is taxed is asked later, in Set-up. "
    "Collect none without a permit: your state's revenue office gives it.",
    "owned": "1 by you alone, a sole proprietor.  2 an LLC with one owner, taxed as one.  3 anything else.",
}
UNKNOWN_WORDS: Mapping[Unknown | str, str] = {
    "machine_price": "what the machine cost",
    "opening": "what is in the bank",
    "rates": "the sales tax rates",
    "owned": "how it is owned",
}


def questions(environment: Mapping[str, str]) -> tuple[Asked, ...]:
    """The questions, with the currency and the place that this computer is set to."""
    here = place_of(environment)
    return tuple(replace(each, value=here) if each.name == "place" else each for each in QUESTIONS)


def place_of(environment: Mapping[str, str]) -> str:
    """`USD en_US` from what the system says of its language and place; that one too where it says nothing of use."""
    from babel import Locale, UnknownLocaleError
    from babel.numbers import get_territory_currencies

    said = next((environment[key] for key in ("LC_ALL", "LC_MONETARY", "LANG") if environment.get(key)), "")
    try:
        locale = Locale.parse(said.partition(".")[0].partition("@")[0])
        currencies = get_territory_currencies(locale.territory) if locale.territory else []
        if not currencies:
            return USUAL_PLACE
        return f"{currency_from_code(currencies[0], 'place').code} {begin.known_locale(str(locale), 'place')}"
    except (UnknownLocaleError, ValueError, TypeError, Refused):
        return USUAL_PLACE


def is_unknown(text: str) -> bool:
    return text.casefold() in NOT_YET_KNOWN


def read_place(text: str) -> tuple[Currency, str]:
    words = text.split()
    if len(words) != 2:
        raise NotUnderstood("Give the currency, then the place.", "Such as USD en_US.", "place")
    return currency_from_code(words[0], "place"), begin.known_locale(words[1], "place")


def read_owned(text: str) -> begin.Owned | None:
    """None where it is not known yet. Raises NotUnderstood."""
    if is_unknown(text):
        return None
    if text in _BY_NUMBER:
        return _BY_NUMBER[text]
    try:
        known = {each.casefold(): each for each in begin.OWNED}
        return known[typed_choice(text, tuple(known), "owned", "")]
    except NotUnderstood:
        raise NotUnderstood("How is it owned?", "Type 1, 2 or 3.", "owned") from None


def read_rates(text: str) -> tuple[tuple[str, Decimal], ...]:
    """Jurisdictions and percents from `state 4.3, county 1.0`; one percent alone is called state."""
    if is_unknown(text):
        return ()
    parts = text.split(",")
    rates = []
    for part in parts:
        found = _RATE.fullmatch(part)
        if found is None or (len(parts) > 1 and not found["name"]):
            raise NotUnderstood("This is no rate.", "Such as: state 4.3, county 1.0", "rates")
        rates.append((read_name(found["name"] or "state", "rates"), read_percent(found["percent"], "rates")))
    return tuple(rates)
