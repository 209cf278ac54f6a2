"""Which line is which posting: certain, doubtful or new, over plain dataclasses."""

from __future__ import annotations

from datetime import date, timedelta

from hypothesis import given
from hypothesis import strategies as st

from ledger.bank.matching import Found, OpenLine, OpenPosting, match

DAY = date(2026, 1, 15)


def line(
    number: int, cents: int, words: str = "x", day: int = 15, check: str = "", repeats: int | None = None
) -> OpenLine:
    return OpenLine(number, date(2026, 1, day), cents, words, check, repeats)


def posting(
    entry: int, cents: int, who: str = "", day: int = 14, number: str = "", place: int = 1, text: str = ""
) -> OpenPosting:
    return OpenPosting(entry, place, date(2026, 1, day), cents, who, number, text)


def entries_of(found: Found) -> list[int]:
    return [each.entry for each in found.certain]


def candidates_of(found: Found) -> list[list[int]]:
    return [[each.entry for each in candidate] for candidate in found.candidates]


def test_one_line_and_one_posting_of_its_amount_go_together() -> None:
    (found,) = match([line(1, -20_00)], [posting(5, -20_00), posting(6, -20_01)])
    assert entries_of(found) == [5]


def test_another_amount_is_never_matched() -> None:
    (found,) = match([line(1, 600_40)], [posting(5, 594_40)])
    assert (entries_of(found), candidates_of(found)) == ([], [])


def test_days_too_far_apart_do_not_fit() -> None:
    lines = [line(1, -20_00, day=15)]
    assert entries_of(match(lines, [posting(5, -20_00, day=5)])[0]) == [5]
    assert entries_of(match(lines, [posting(5, -20_00, day=4)])[0]) == []
    assert entries_of(match(lines, [posting(5, -20_00, day=18)])[0]) == [5]
    assert entries_of(match(lines, [posting(5, -20_00, day=19)])[0]) == []


def test_a_check_number_settles_it_months_later() -> None:
    late = OpenLine(1, date(2026, 6, 1), 50_00, "Check", "1021")
    (found,) = match([late], [posting(5, 50_00, number="1021"), posting(6, 50_00, number="1022")])
    assert entries_of(found) == [5]


def test_another_check_number_does_not_fit() -> None:
    (found,) = match([line(1, 50_00, check="1")], [posting(5, 50_00, number="2")])
    assert (entries_of(found), candidates_of(found)) == ([], [])


def test_the_name_decides_between_equal_amounts() -> None:
    lines = [line(1, -20_00, "MILL OUTLET 0043"), line(2, -20_00, "SQ CORNERSHOP")]
    found = match(lines, [posting(5, -20_00, "Corner shop"), posting(6, -20_00, "Mill outlet")])
    assert [entries_of(each) for each in found] == [[6], [5]]


def test_equal_amounts_that_nothing_tells_apart_are_doubtful_with_the_nearest_first() -> None:
    (found,) = match([line(1, -20_00)], [posting(5, -20_00, "A", day=8), posting(6, -20_00, "B", day=14)])
    assert (entries_of(found), candidates_of(found)) == ([], [[6], [5]])


def test_two_equal_coffees_and_two_equal_receipts_go_together_by_their_days() -> None:
    lines = [line(1, -4_50, "Coffee", 14), line(2, -4_50, "Coffee", 13)]
    found = match(lines, [posting(5, -4_50, "Bean", 12), posting(6, -4_50, "Bean", 13)])
    assert [entries_of(each) for each in found] == [[6], [5]]


def test_two_equal_lines_and_one_receipt_are_doubtful_both() -> None:
    lines = [line(1, -4_50, "Coffee", 14), line(2, -4_50, "Coffee", 14)]
    found = match(lines, [posting(5, -4_50, "Bean", 13)])
    assert [(entries_of(each), candidates_of(each)) for each in found] == [([], [[5]])] * 2


def test_checks_paid_in_together_are_one_line() -> None:
    checks = [posting(5, 50_00, number="11"), posting(6, 30_00, number="12"), posting(7, 25_00, number="13")]
    (found,) = match([line(1, 80_00, "Deposit")], checks)
    assert entries_of(found) == [5, 6]


def test_two_ways_to_make_a_deposit_up_are_none() -> None:
    checks = [posting(entry, 40_00, number=str(entry)) for entry in (5, 6, 7)]
    (found,) = match([line(1, 80_00, "Deposit")], checks)
    assert (entries_of(found), candidates_of(found)) == ([], [])


def test_payments_without_check_numbers_are_only_proposed_as_a_bundle() -> None:
    (found,) = match([line(1, 80_00, "Deposit")], [posting(5, 50_00), posting(6, 30_00)])
    assert (entries_of(found), candidates_of(found)) == ([], [[5, 6]])


def test_the_two_postings_of_one_entry_are_one_line_or_two() -> None:
    both = [posting(5, -145_27, place=2), posting(5, -12_00, place=4)]
    assert entries_of(match([line(1, -157_27)], both)[0]) == [5, 5]
    assert [entries_of(each) for each in match([line(1, -145_27), line(2, -12_00)], both)] == [[5], [5]]


def test_a_line_that_may_be_there_twice_is_never_matched_by_itself() -> None:
    (found,) = match([line(2, -20_00, repeats=1)], [posting(5, -20_00)])
    assert (entries_of(found), candidates_of(found)) == ([], [[5]])


OFFSETS, AMOUNTS, NAMES = (
    st.integers(0, 30),
    st.sampled_from([-20_00, -4_50, 50_00, 80_00]),
    st.sampled_from(["", "Bean"]),
)


@given(
    st.lists(st.tuples(OFFSETS, AMOUNTS, NAMES), max_size=8), st.lists(st.tuples(OFFSETS, AMOUNTS, NAMES), max_size=8)
)
def test_no_posting_is_settled_twice_and_sums_agree_whatever_stands_there(
    said: list[tuple[int, int, str]], entered: list[tuple[int, int, str]]
) -> None:
    lines = [OpenLine(number, DAY + timedelta(days=off), cents, name) for number, (off, cents, name) in enumerate(said)]
    postings = [
        OpenPosting(number, 1, DAY + timedelta(days=off), cents, name)
        for number, (off, cents, name) in enumerate(entered, start=1)
    ]
    found = match(lines, postings)
    assert [each.line for each in found] == lines
    settled = [(each.entry, each.line) for every in found for each in every.certain]
    assert len(settled) == len(set(settled))
    for every in found:
        for candidate in (every.certain, *every.candidates):
            assert not candidate or sum(each.cents for each in candidate) == every.line.cents


@given(st.permutations(range(6)), st.permutations(range(6)))
def test_the_order_of_lines_and_postings_makes_no_difference(one: list[int], other: list[int]) -> None:
    lines = [line(number, -10_00 - number % 3, "Bean" if number < 3 else "x", 10 + number) for number in range(6)]
    postings = [posting(number, -10_00 - number % 3, "Bean" if number % 2 else "", 9 + number) for number in range(6)]
    usual = {each.line.id: entries_of(each) for each in match(lines, postings)}
    found = match([lines[place] for place in one], [postings[place] for place in other])
    assert {each.line.id: entries_of(each) for each in found} == usual
