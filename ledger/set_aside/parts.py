"""The set-aside as lines, each opened into its parts down to the entries."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from functools import partial

from ledger.books.books import Books
from ledger.set_aside.account_parts import balance_parts, certificate_parts, deposit_parts
from ledger.set_aside.owed import ACCOUNT_OF, WORDS, SetAside
from ledger.set_aside.part import Part
from ledger.set_aside.tax_parts import LINES, tax_parts

_ALWAYS = ("sales_tax", "self_employment", "income_tax")
_MONEY = (("Checking", "checking"), ("Cash box", "cash_box"), ("Tax savings", "tax_savings"))


def parts_of(books: Books, found: SetAside) -> tuple[Part, ...]:
    """The lines of the room: what is owed, then the money, then what follows from both."""
    owed = found.owed.total_cents
    return (
        *(part for name, part in owed_parts(books, found).items() if part.cents or name in _ALWAYS),
        Part("Owed to others", owed, opens=partial(_all_owed, books, found)),
        *money_parts(books, found),
        Part("Money", found.money.total_cents, opens=partial(money_parts, books, found)),
        *_on_its_way(books, found),
        Part("To move to tax savings", found.to_move_cents, opens=partial(_to_move, books, found)),
        _free(books, found),
    )


def owed_parts(books: Books, found: SetAside) -> dict[str, Part]:
    """Every figure that is owed, by its name."""
    words = dict(WORDS)
    if found.is_before_income_tax:
        words["income_tax"] += ", not known"
    return {name: Part(words[name], cents, opens=_opened(books, found, name)) for name, cents in found.owed.items()}


def named_parts(books: Books, found: SetAside) -> dict[str, Part]:
    """Every figure by the name that commands give it."""
    savings = balance_parts(books, "tax_savings", found.on)
    return {
        **owed_parts(books, found),
        "owed": Part("Owed to others", found.owed.total_cents, opens=partial(_all_owed, books, found)),
        "money": Part("Money", found.money.total_cents, opens=partial(money_parts, books, found)),
        "held": Part("Held in tax savings", found.held_cents, opens=lambda: savings),
        "to_move": Part("To move to tax savings", found.to_move_cents, opens=partial(_to_move, books, found)),
        "free_to_draw": Part("Free to draw", 0) if found.short_cents else _free(books, found),
        "short": _free(books, found) if found.short_cents else Part("Short by", 0),
    }


def money_parts(books: Books, found: SetAside) -> Sequence[Part]:
    return tuple(
        Part(words, getattr(found.money, f"{role}_cents"), opens=partial(balance_parts, books, role, found.on))
        for words, role in _MONEY
    )


def _opened(books: Books, found: SetAside, name: str) -> Callable[[], Iterable[Part]]:
    if name in LINES:
        return lambda: tuple(tax_parts(books, found.years, name, found.on))
    if name in found.on_the_other_side:
        return lambda: (Part("Paid ahead: nothing is owed", 0),)
    if name == "possible_sales_tax":
        return lambda: tuple(_possible(found))
    if name == "due_soon":
        return lambda: tuple(_due_soon(found))
    if name == "deposits":
        return lambda: tuple(deposit_parts(books, found.on))
    if name == "gift_certificates":
        return lambda: tuple(certificate_parts(books))
    return partial(balance_parts, books, ACCOUNT_OF[name], found.on, sign=-1)


def _possible(found: SetAside) -> Iterator[Part]:
    for each in found.possible:
        yield Part(f"{each.day}  {each.entry}  {each.text}", each.tax_cents, each.entry)
    yield Part("As if taxed: ask your state's revenue office about each class.", None)


def _due_soon(found: SetAside) -> Iterator[Part]:
    for each in found.due_soon:
        yield Part(f"{each.day}  {each.what}" + (f": {each.note}" if each.note else ""), each.cents, each.entry)
    yield Part(f"Due within {found.due_within_days} days; a bill by what the last one came to.", None)


def _on_its_way(books: Books, found: SetAside) -> Iterator[Part]:
    if found.money.card_money_cents:
        opens = partial(balance_parts, books, "card_settlements", found.on)
        yield Part("Card money, not counted", found.money.card_money_cents, adds=False, opens=opens)


def _all_owed(books: Books, found: SetAside) -> Sequence[Part]:
    return tuple(part for part in owed_parts(books, found).values() if part.cents)


def _to_move(books: Books, found: SetAside) -> Iterator[Part]:
    yield Part("Owed to others", found.owed.total_cents, opens=partial(_all_owed, books, found))
    yield Part("Held in tax savings", -found.held_cents)
    if found.held_cents > found.owed.total_cents:
        yield Part("More is held than is owed", found.held_cents - found.owed.total_cents)


def _free(books: Books, found: SetAside) -> Part:
    """Free to draw, or short by how much; both are the money beside what is owed."""
    if found.short_cents:
        return Part("Short by", found.short_cents, opens=partial(_difference, books, found, -1))
    label = "Free before income tax" if found.is_before_income_tax else "Free to draw"
    return Part(label, found.free_cents, opens=partial(_difference, books, found, 1))


def _difference(books: Books, found: SetAside, sign: int) -> Iterator[Part]:
    for each in money_parts(books, found):
        yield Part(each.words, sign * (each.cents or 0))
    for each in _all_owed(books, found):
        yield Part(each.words, -sign * (each.cents or 0))
