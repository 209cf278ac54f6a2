"""Bank reconciliation over plain items: what adds up, and what may be behind a difference."""

from __future__ import annotations

from datetime import date

from ledger.bank.agreeing import BankItem, BookItem, Reconciliation, covered_digest, explanations

DAY = date(2026, 1, 31)


def item(entry: int, cents: int, is_open: bool = False, seal: str = "a") -> BookItem:
    return BookItem(entry, 1, DAY, cents, "x", seal, is_open)


def held(ending: int, *items: BookItem, to_enter: tuple[BankItem, ...] = ()) -> Reconciliation:
    return Reconciliation("checking", DAY, ending, items, to_enter)


def test_what_the_bank_has_not_seen_is_added_and_taken_off() -> None:
    found = held(400_00, item(1, 500_00), item(2, -100_00), item(3, -30_00, True), item(4, 70_00, True))
    assert (found.in_transit_cents, found.outstanding_cents) == (70_00, 30_00)
    assert (found.adjusted_cents, found.balance_cents, found.difference_cents) == (440_00, 440_00, 0)
    assert found.agrees


def test_a_line_that_is_not_entered_keeps_it_from_agreeing_whatever_the_difference() -> None:
    assert not held(500_00, item(1, 500_00), to_enter=(BankItem(1, DAY, -10_00, "Charge"),)).agrees


def test_a_digit_that_is_wrong_is_pointed_at() -> None:
    found = held(1_000_00, item(1, 399_60), item(2, 594_40, True), to_enter=(BankItem(7, DAY, 600_40, "Deposit"),))
    assert "Entry 2 and line 7" in next(explanations(found))


def test_an_open_entry_of_just_the_difference_is_pointed_at() -> None:
    found = held(500_00, item(1, 500_00), item(2, -42_01, True), item(3, -8_00, True))
    off = held(500_00 - 42_01, *found.items)
    assert any("Entry 2 has just that amount" in each for each in explanations(off))


def test_an_entry_on_the_wrong_side_is_pointed_at() -> None:
    found = held(480_00, item(1, 500_00), item(2, 10_00), item(3, -10_00))
    assert any("Twice entry 2" in each for each in explanations(found))


def test_a_difference_that_nine_divides_hints_at_two_digits() -> None:
    found = held(500_00 + 27, item(1, 500_00))
    assert list(explanations(found)) == ["The difference can be divided by nine: two digits may be swapped somewhere."]


def test_the_digest_covers_each_posting_its_seal_and_what_was_open() -> None:
    one = held(500_00, item(1, 500_00), item(2, -5_00, True))
    others = [
        held(500_01, *one.items),
        held(500_00, item(1, 500_00), item(2, -5_00)),
        held(500_00, item(1, 500_00, seal="b"), item(2, -5_00, True)),
        held(500_00, *one.items, item(3, 1_00)),
    ]
    assert len({covered_digest(each) for each in (one, *others)}) == 5
    assert covered_digest(one) == covered_digest(held(500_00, *one.items))
