"""What a machine cost, in its two figures: each part booked whole, and which of them it counts for."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest

from ledger.actions import add_machine_cost, bring_in, sell_machine, share_machine
from ledger.books.books import Books
from ledger.books.prove import prove
from ledger.errors import NotFound, NotPossible, Refused
from ledger.machine.cost import Cost
from ledger.machine.cost_shares import read_standings
from ledger.machine.payback_record import read_payback
from ledger.machine.record import machine_named, read_costs, share_days, share_on, strike_figure
from tests.workshop import (
    balance_of,
    begin,
    begin_taxed,
    cents,
    crossing_sum,
    job_for,
    lines_of,
    on_day,
    picked_up,
    purse_sums,
    reversed_entry,
    spent,
    written,
)

JANUARY, MARCH = date(2026, 1, 5), date(2026, 3, 10)


@pytest.fixture
def books(tmp_path: Path) -> Iterator[Books]:
    opened = begin_taxed(tmp_path / "books", opening_cents=30_000_00)
    yield opened
    assert prove(opened).findings == ()
    opened.close()


def added(books: Books, amount: str, what: str = "Longarm", paid_from: str | None = "checking", **more: Any) -> int:
    """The number of the entry, 0 for a figure."""
    request = add_machine_cost.CostRequest(cents(amount), what, paid_from=paid_from, **more)
    sealed = add_machine_cost.perform(books, request)[1]
    return sealed.number if sealed is not None else 0


def cost(books: Books, machine: str | None = None, day: date = MARCH) -> Cost:
    wanted = machine_named(books, machine)
    return next(each for each in read_costs(books, day) if each.machine == wanted)


def figures(books: Books, machine: str | None = None) -> tuple[int, int]:
    found = cost(books, machine)
    return found.payback_cents, found.basis_cents


class TestWhatIsBooked:
    def test_paid_from_checking(self, books: Books) -> None:
        entry = added(books, "18500")
        assert lines_of(books, entry) == written("machine +18,500.00", "checking -18,500.00")
        assert lines_of(books, entry, "personal") == []

    def test_the_same_price_twice_is_pointed_out_and_taken(self, books: Books) -> None:
        def repeats(amount: str, **more: Any) -> str | None:
            request = add_machine_cost.CostRequest(cents(amount), "Longarm again", paid_from="checking", **more)
            part = add_machine_cost.preview(books, request).repeats
            return part and part.what

        assert repeats("9250") is None
        added(books, "9250", "Longarm, first half")
        assert repeats("9250") == "Longarm, first half"
        assert (repeats("9250.01"), repeats("9250", kind="table")) == (None, None)
        added(books, "9250", "Longarm, second half")
        assert figures(books) == (18_500_00, 18_500_00)

    def test_paid_by_the_household_as_a_contribution_or_owed_back(self, books: Books) -> None:
        entry = added(books, "900", "Table", "household checking", kind="table")
        assert lines_of(books, entry) == written("machine +900.00", "owner's contributions -900.00")
        assert lines_of(books, entry, "personal") == written("household checking -900.00", "workshop mirror +900.00")
        owed = added(books, "90", "Rulers", "personal card", kind="attachments", owed=True)
        assert lines_of(books, owed) == written("machine +90.00", "owed to owner -90.00")

    def test_on_a_loan_and_without_sales_tax_use_tax_is_owed(self, books: Books) -> None:
        """Row 32 of the postings: 5.3 % of 18,500 is 980.50, state 4.3 and county 1.0."""
        entry = added(books, "18500", loan_cents=15_500_00, untaxed=True)
        assert lines_of(books, entry) == written(
            "machine +19,480.50", "checking -3,000.00", "machine loan -15,500.00", "use tax payable -980.50"
        )
        taxes = books.rows("select cents from use_tax_line where entry = ? order by id", (entry,))
        assert [row[0] for row in taxes] == [795_50, 185_00]
        assert figures(books) == (19_480_50, 19_480_50)
        assert [each.kind for each in cost(books).parts] == ["price", "use tax"]

    def test_all_of_it_lent(self, books: Books) -> None:
        entry = added(books, "500", "Table", "machine loan", kind="table")
        assert lines_of(books, entry) == written("machine +500.00", "machine loan -500.00")

    def test_training_is_an_expense_of_its_category_and_payback_cost_once(self, books: Books) -> None:
        entry = added(books, "300", "Two days with the maker", kind="training")
        assert lines_of(books, entry) == written("classes and dues +300.00", "checking -300.00")
        assert figures(books) == (300_00, 0)
        found = read_payback(books)
        assert (found.cost_cents, found.earned_cents) == (300_00, 0)

    def test_another_machine_given_in_for_it_lowers_what_is_paid_and_the_other_ones_cost(self, books: Books) -> None:
        added(books, "9000", "Old frame")
        share_machine.add(books, share_machine.MachineRequest("Second"))
        entry = added(books, "20000", "New frame", machine="Second", traded_cents=7_000_00, traded="Machine")
        assert lines_of(books, entry) == written("machine +13,000.00", "checking -13,000.00")
        assert figures(books) == (2_000_00, 9_000_00)
        assert figures(books, "second") == (20_000_00, 20_000_00)
        assert cost(books).came_back_cents == 7_000_00

    def test_sold_it_leaves_what_is_not_earned_yet_and_no_gain_is_booked(self, books: Books) -> None:
        added(books, "18500")
        entry = sell_machine.perform(on_day(books, MARCH), sell_machine.SellRequest(7_000_00)).number
        assert lines_of(books, entry) == written("checking +7,000.00", "machine -7,000.00")
        assert figures(books) == (11_500_00, 18_500_00)
        assert read_payback(on_day(books, MARCH)).left_cents == 11_500_00

    def test_sold_for_money_that_the_household_took_it_is_a_draw(self, books: Books) -> None:
        added(books, "18500")
        entry = sell_machine.perform(books, sell_machine.SellRequest(700_00, "household checking")).number
        assert lines_of(books, entry) == written("owner's draws +700.00", "machine -700.00")
        assert (purse_sums(books), crossing_sum(books)) == ({"business": 0, "personal": 0}, 0)


class TestTwoFigures:
    @pytest.mark.parametrize(
        ("kind", "basis"),
        [
            ("price", 100_00),
            ("freight", 100_00),
            ("table", 100_00),
            ("sales tax", 100_00),
            ("attachments", 100_00),
            ("upgrade", 100_00),
            ("training", 0),
        ],
    )
    def test_every_part_is_payback_cost_and_training_no_basis(self, books: Books, kind: Any, basis: int) -> None:
        added(books, "100", kind=kind)
        assert figures(books) == (100_00, basis)

    @pytest.mark.parametrize("kind", ["trade-in", "resale"])
    def test_what_came_back_before_the_books_lowers_the_payback_cost(self, books: Books, kind: Any) -> None:
        added(books, "18500")
        added(books, "1500", "The old one", None, kind=kind)
        assert figures(books) == (17_000_00, 18_500_00)

    def test_a_figure_from_before_the_books_books_nothing_and_counts_from_its_day(self, books: Books) -> None:
        before = balance_of(books, "machine")
        assert added(books, "400", "Training in 2025", None, kind="training", placed_on=date(2025, 11, 3)) == 0
        assert balance_of(books, "machine") == before
        part = cost(books).parts[0]
        assert (part.day, part.placed_on, part.entry) == (date(2025, 11, 3), date(2025, 11, 3), None)
        assert figures(books) == (400_00, 0)

    def test_a_machine_that_was_hers_enters_at_the_lesser_of_cost_and_worth_and_has_cost_what_it_cost(
        self, books: Books
    ) -> None:
        """Row 3 of the postings."""
        sealed = bring_in.perform(books, bring_in.BringInRequest("Longarm", 18_500_00, 9_000_00))
        assert lines_of(books, sealed.number) == written("machine +9,000.00", "owner's contributions -9,000.00")
        assert figures(books) == (18_500_00, 9_000_00)
        added(books, "500", "Old ruler set", None, kind="attachments", worth_cents=700_00)
        assert figures(books) == (19_000_00, 9_500_00)

    def test_the_machine_of_the_first_day_counts_for_both(self, tmp_path: Path) -> None:
        books = begin(tmp_path / "old", machine_price_cents=10_000_00, machine_date=date(2025, 11, 3))
        assert figures(books) == (10_000_00, 10_000_00)
        assert cost(books).placed_on == date(2025, 11, 3)
        books.close()

    def test_interest_is_payback_cost_and_no_basis(self, books: Books) -> None:
        added(books, "18500")
        spent(books, "66.67", "loan interest", "checking")
        assert figures(books) == (18_566_67, 18_500_00)

    def test_an_entry_that_is_undone_takes_its_part_with_it(self, books: Books) -> None:
        entry = added(books, "18500", untaxed=True)
        reversed_entry(books, entry)
        assert figures(books) == (0, 0)
        assert read_payback(books).cost_cents == 0
        assert balance_of(books, "use tax payable") == 0

    def test_a_figure_is_taken_back_once(self, books: Books) -> None:
        added(books, "400", "Training", None, kind="training")
        added(books, "300", "Freight", "checking", kind="freight")
        figure, booked = (each.id for each in cost(books).parts)
        with books.writing() as write:
            assert strike_figure(books, write, figure) == "Training"
        assert figures(books) == (300_00, 300_00)
        for part, error in ((figure, NotPossible), (booked, NotPossible), (99, NotFound)):
            with pytest.raises(error), books.writing() as write:
                strike_figure(books, write, part)


class TestShares:
    def test_unless_she_says_so_the_workshop_has_all_of_it_and_the_first_machine_does_every_job(
        self, books: Books
    ) -> None:
        share_machine.add(books, share_machine.MachineRequest("Second"))
        first, second = machine_named(books, None), machine_named(books, "Second")
        assert [share_on(books, each, "use", MARCH) for each in (first, second)] == [100, 100]
        assert [share_on(books, each, "jobs", MARCH) for each in (first, second)] == [100, 0]

    def test_a_share_holds_from_its_day_on_and_the_last_one_said_counts(self, books: Books) -> None:
        share_machine.add(books, share_machine.MachineRequest("Second"))
        first, second = machine_named(books, None), machine_named(books, "Second")
        for percent, day in (("40", JANUARY), ("30", JANUARY), ("55.5", MARCH)):
            request = share_machine.MachineShareRequest(Decimal(percent), "hours", day, "jobs", "Second")
            share_machine.perform(books, request)
        assert [share_on(books, second, "jobs", day) for day in (date(2026, 1, 4), JANUARY, MARCH)] == [
            0,
            30,
            Decimal("55.5"),
        ]
        assert share_on(books, first, "jobs", MARCH) == Decimal("44.5")
        assert share_days(books, first, "jobs") == (JANUARY, MARCH)

    def test_two_machines_have_costs_of_their_own_and_no_name_twice(self, books: Books) -> None:
        share_machine.add(books, share_machine.MachineRequest("Second"))
        added(books, "18500")
        added(books, "6000", machine="second")
        assert (figures(books)[0], figures(books, "Second")[0]) == (18_500_00, 6_000_00)
        for name in ("SECOND", "machine"):
            with pytest.raises(NotPossible):
                share_machine.add(books, share_machine.MachineRequest(name))


@pytest.mark.parametrize(
    ("more", "field"),
    [
        ({"paid_from": "job income"}, "from"),
        ({"paid_from": "chequing"}, "from"),
        ({"machine": "Third"}, "machine"),
        ({"what": "  "}, "what"),
        ({"loan_cents": 200_00}, "loan"),
        ({"paid_from": None, "loan_cents": 1}, "from"),
        ({"paid_from": None, "untaxed": True}, "from"),
        ({"kind": "resale"}, "from"),
        ({"worth_cents": 1}, "worth"),
        ({"traded_cents": 1, "traded": None}, "machine"),
        ({"owed": True}, "owed"),
    ],
)
def test_what_cannot_be_a_cost_is_refused_and_nothing_is_written(
    books: Books, more: dict[str, Any], field: str
) -> None:
    before = books.value("select count(*) from record")
    request = {"what": "Longarm", "paid_from": "checking"} | more
    with pytest.raises(Refused) as refused:
        add_machine_cost.perform(books, add_machine_cost.CostRequest(cents("100"), **request))
    assert refused.value.field == field
    assert books.value("select count(*) from record") == before


def test_without_a_rate_use_tax_cannot_be_worked_out(tmp_path: Path) -> None:
    books = begin(tmp_path / "untaxed")
    with pytest.raises(NotPossible) as refused:
        added(books, "100", untaxed=True)
    assert refused.value.field == "rate"
    books.close()


def test_each_machine_earns_by_its_share_of_the_jobs_from_the_day_on_which_it_holds(books: Books) -> None:
    share_machine.add(books, share_machine.MachineRequest("Second"))
    added(books, "1000")
    added(books, "600", machine="Second")
    picked_up(books, job_for(books, "300"), "cash")
    share_machine.perform(books, share_machine.MachineShareRequest(Decimal(25), "hours", MARCH, "jobs", "Second"))
    picked_up(on_day(books, MARCH), job_for(on_day(books, MARCH), "100.02"), "cash")
    first, second = read_standings(on_day(books, MARCH))
    assert (first.earned_cents, second.earned_cents) == (375_02, 25_00)  # 75.015 and 25.005 of the second job
    assert (first.left_cents, second.left_cents) == (624_98, 575_00)
    before = read_standings(on_day(books, date(2026, 3, 9)))
    assert [each.earned_cents for each in before] == [300_00, 0]
