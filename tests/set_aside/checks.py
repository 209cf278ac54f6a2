"""What must hold of a set-aside in any books: it agrees with the accounts to the cent, and every figure adds up."""

from __future__ import annotations

from ledger.books.balances import balance
from ledger.books.books import Books
from ledger.set_aside.owed import ACCOUNT_OF, SetAside, read_set_aside
from ledger.set_aside.part import Part, added
from ledger.set_aside.parts import named_parts, parts_of

DEEPEST = 8


def check_set_aside(books: Books) -> SetAside:
    """The set-aside of today, after everything that must hold of it was held against the books."""
    found = read_set_aside(books)
    check_accounts(books, found)
    check_sums(found)
    for part in (*parts_of(books, found), *named_parts(books, found).values()):
        check_part(part, [])
    return found


def check_accounts(books: Books, found: SetAside) -> None:
    for name, role in ACCOUNT_OF.items():
        standing = -balance(books, role, books.today)
        assert getattr(found.owed, name) == max(0, standing), name
        assert found.on_the_other_side.get(name, 0) == max(0, -standing), name
    money = [balance(books, role, books.today) for role in ("checking", "cash_box", "tax_savings")]
    assert found.money.total_cents == sum(money)
    assert found.held_cents == money[-1]


def check_sums(found: SetAside) -> None:
    owed, money = found.owed.total_cents, found.money.total_cents
    assert owed == sum(cents for _, cents in found.owed.items())
    assert all(cents >= 0 for _, cents in found.owed.items())
    assert 0 <= found.free_cents <= max(0, money)
    assert found.free_cents - found.short_cents == money - owed
    assert not (found.free_cents and found.short_cents)
    assert found.to_move_cents == max(0, owed - found.held_cents)
    own = found.owed.self_employment + found.owed.additional_medicare + found.owed.income_tax
    assert own == sum(each.left.total_cents for each in found.years)


def check_part(part: Part, above: list[str]) -> None:
    """The summands of every part come to it, all the way down."""
    place = [*above, part.words]
    assert len(place) <= DEEPEST, place
    parts = part.opened()
    if any(each.adds for each in parts) and part.cents is not None:
        assert added(parts) == part.cents, place
    for each in parts:
        check_part(each, place)
