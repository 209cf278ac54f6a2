"""The rules on a workshop at home as the books have them, each with whom it was heard from, and how she works."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final, TypeVar

from checklists import choices
from checklists.fit import Heard, HomeRules, Practice, Rooms, Told
from checklists.home_rules import read_area, read_floor_rule, read_hours
from checklists.progress import KeptAnswer
from checklists.records import read_answers, read_catalogue_of
from ledger.books.books import Books
from ledger.money import read_amount

Rule = TypeVar("Rule")
# The items whose answers are rules: what each is about, and the choice that holds it.
RULES: Final = {
    "floor_share": ("floor share", choices.FLOOR_SHARE),
    "visits_a_day": ("visits a day", choices.VISITS_A_DAY),
    "customer_hours": ("hours of customers", choices.CUSTOMER_HOURS),
    "people_working": ("people who live elsewhere", choices.PEOPLE_WORKING),
    "sign_size": ("sign", choices.SIGN_SIZE),
    "insurance_limit": ("insurance limit", choices.INSURANCE_LIMIT),
}


@dataclass(frozen=True)
class NotTold:
    """A rule that she was told nothing of. does_not_apply: she was told that there is none."""

    rule: str
    item: str
    ask: str
    does_not_apply: bool


def read_home_rules(books: Books) -> HomeRules:
    """What she was told by the end of today."""
    told = _Told(books)
    return HomeRules(
        floor=told.heard("floor_share", read_floor_rule),
        visits_a_day=told.heard("visits_a_day", int),
        hours=told.heard("customer_hours", read_hours),
        people=told.heard("people_working", int),
        sign=told.heard("sign_size", read_area),
        insured_cents=told.heard("insurance_limit", lambda value: read_amount(value, books.currency, zero=True)),
    )


def read_not_told(books: Books) -> tuple[NotTold, ...]:
    """The rules that no answer has given her so far."""
    told = _Told(books)
    return tuple(
        NotTold(rule, item, told.decides(item), told.latest_state(item) == "does not apply")
        for item, (rule, key) in RULES.items()
        if choices.held_choice(books, key, books.today) is None
    )


def read_rooms(books: Books) -> Rooms | None:
    """Her rooms as she measured them by the end of today, None where she has not."""
    sizes = [
        choices.held_choice(books, key, books.today)
        for key in (
            choices.WORKSHOP_AREA,
            choices.FLOOR_AREA,
            choices.HOUSE_AREA,
            choices.GARAGE_WORKSHOP_AREA,
            choices.GARAGE_AREA,
        )
    ]
    return None if None in sizes else Rooms(*(read_area(size) for size in sizes if size is not None))


def read_practice(books: Books) -> Practice | None:
    """How she says she works, None where she has not said it."""
    people, sign, hours = (
        choices.held_choice(books, key, books.today)
        for key in (choices.PEOPLE_HERE, choices.OWN_SIGN, choices.OWN_HOURS)
    )
    if people is None or sign is None or hours is None:
        return None
    return Practice(int(people), read_area(sign), read_hours(hours))


class _Told:
    """The answers and the list, read once for all rules."""

    def __init__(self, books: Books) -> None:
        self.books = books
        self.answers = read_answers(books)
        self.asks = {item.id: item.ask for item in read_catalogue_of(books)}

    def heard(self, item: str, read: Callable[[str], Rule]) -> Heard[Rule] | None:
        """The rule of an item, None where none holds today."""
        value = choices.held_choice(self.books, RULES[item][1], self.books.today)
        if value is None:
            return None
        answer = self.latest_done(item)
        if answer is None:
            return Heard(read(value), Told(item, self.decides(item)))
        told = Told(item, self.decides(item), answer.asked, answer.on, answer.reference, answer.expires)
        return Heard(read(value), told)

    def decides(self, item: str) -> str:
        return self.asks.get(item, "whoever told you")

    def latest_done(self, item: str) -> KeptAnswer | None:
        return next((each for each in reversed(self.answers) if each.item == item and each.state == "done"), None)

    def latest_state(self, item: str) -> str:
        return next((each.state for each in reversed(self.answers) if each.item == item), "open")
