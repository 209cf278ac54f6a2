"""Charges for delivery: what the rules of states say, entered as answers, with the figures that they give.

How sure: S seen in the source's own text (a stored copy). The slips are ours unless the source has figures of its own.
Nothing here says what any state holds today.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest

from ledger.actions import pick_up
from ledger.books.books import Books
from ledger.jobs.pickup import Sending
from ledger.taxes import rules
from tests.actions.endings import slip_of, tax_of
from tests.workshop import add_rate, add_to_price_list, answer, begin, job_for, picked_up, pickup_request

pytestmark = pytest.mark.published

PARCEL = Sending(None, "Prairie Parcel", "PP 4711", 400_00)


@pytest.fixture
def books(tmp_path: Path) -> Iterator[Books]:
    opened = begin(tmp_path / "books")
    yield opened
    opened.close()


def price_list(books: Books, **lines: tuple[str, str]) -> None:
    """Flat lines by name: amount and class."""
    for name, (amount, class_name) in lines.items():
        add_to_price_list(books, name, "flat", amount, class_name)


def sent(books: Books, *lines: str, to: str | None = None) -> int:
    """The number of a job with these lines that went home by post."""
    job = job_for(books, lines=lines)
    request = replace(pickup_request(job, "cash"), sending=replace(PARCEL, place=to))
    pick_up.perform(books, request)
    return job.id


def split(books: Books, class_name: str, day: date | None = None) -> None:
    with books.writing() as write:
        rules.answer_class(books, write, class_name, True, "the revenue office", day or books.today, is_split=True)


class TestMaine:
    """S: Maine Revenue Services, Sales Tax frequently asked questions, no. 13, and 36 M.R.S. 1752(14)(B)(7).

    Not taxed if it is sent straight to the buyer, by common or contract carrier or mail, and on its own line; "shipping
    and handling" in one line is part of the sale price. 5.5 percent: 36 M.R.S. 1811, from memory.
    """

    @pytest.fixture
    def maine(self, books: Books) -> Books:
        add_rate(books, "Maine state", "5.5")
        answer(books, "goods", True)
        answer(books, "delivery", False)
        answer(books, "shipping and handling", True)
        price_list(
            books,
            Kit=("80.00", "goods"),
            Postage=("12.00", "delivery"),
            Handling=("12.00", "shipping and handling"),
        )
        return books

    def test_postage_on_its_own_line_is_not_taxed(self, maine: Books) -> None:
        job = sent(maine, "Kit", "Postage")
        assert slip_of(maine, job) == {("goods", "taxed"): 80_00, ("delivery", "not taxed"): 12_00}
        assert tax_of(maine, job) == [("5.5", 80_00, 4_40)]

    def test_shipping_and_handling_in_one_line_is(self, maine: Books) -> None:
        assert tax_of(maine, sent(maine, "Kit", "Handling")) == [("5.5", 92_00, 5_06)]


class TestOhio:
    """S: Ohio Administrative Code 5703-9-52 (B) and (C), 5703-9-39.

    A delivery charge over taxable and exempt property may be split by price; the part for the taxable is taxed. One
    that is not split is taxed whole if any of the property is. What the seller has to send out of the state is not
    taxed there. 5.75 percent: Ohio Revised Code 5739.02, from memory.
    """

    @pytest.fixture
    def ohio(self, books: Books) -> Books:
        add_rate(books, "Ohio state", "5.75")
        answer(books, "goods", True)
        answer(books, "patterns", False)
        price_list(books, Kit=("75.00", "goods"), Pattern=("25.00", "patterns"), Parcel=("10.00", "delivery"))
        return books

    def test_split_by_price_three_quarters_of_it_are_taxed(self, ohio: Books) -> None:
        split(ohio, "delivery")
        job = sent(ohio, "Kit", "Pattern", "Parcel")
        assert slip_of(ohio, job) == {
            ("goods", "taxed"): 75_00,
            ("patterns", "not taxed"): 25_00,
            ("delivery", "taxed"): 7_50,
            ("delivery", "not taxed"): 2_50,
        }
        # 82.50 at 5.75 percent is 4.74375
        assert tax_of(ohio, job) == [("5.75", 82_50, 4_74)]

    def test_all_of_it_with_taxable_property_alone_and_none_of_it_with_exempt(self, ohio: Books) -> None:
        split(ohio, "delivery")
        assert tax_of(ohio, sent(ohio, "Kit", "Parcel")) == [("5.75", 85_00, 4_89)]
        assert tax_of(ohio, sent(ohio, "Pattern", "Parcel")) == []

    def test_not_split_it_is_taxed_whole(self, ohio: Books) -> None:
        answer(ohio, "delivery", True)
        # 85.00 at 5.75 percent is 4.8875
        assert tax_of(ohio, sent(ohio, "Kit", "Pattern", "Parcel")) == [("5.75", 85_00, 4_89)]

    def test_sent_out_of_the_state_it_is_not_taxed_there(self, ohio: Books) -> None:
        split(ohio, "delivery")
        with ohio.writing() as write:
            rules.choose_sourcing(ohio, write, "destination", "the revenue office")
        assert tax_of(ohio, sent(ohio, "Kit", "Parcel", to="Covington, Kentucky")) == []


class TestWisconsin:
    """S: Wisconsin Administrative Code Tax 11.94, its own example: clothing 100.00, delivery 10.00, 5 percent."""

    def test_the_delivery_of_taxed_property_is_taxed(self, books: Books) -> None:
        add_rate(books, "Wisconsin state", "5")
        answer(books, "goods", True)
        answer(books, "delivery", True)
        price_list(books, Clothing=("100.00", "goods"), Delivery=("10.00", "delivery"))
        job = job_for(books, lines=["Clothing", "Delivery"])
        slip = picked_up(books, job, "cash").settlement.slip
        assert (slip.charge_cents, slip.tax_cents, slip.total_cents) == (110_00, 5_50, 115_50)


class TestSouthDakota:
    """S: Administrative Rules of South Dakota 64:06:01:70: over exempt and taxable property it must be split.

    By price or by weight; this workshop knows prices. 4.2 percent: SDCL 10-45-2, from memory.
    """

    def test_two_thirds_of_it_are_taxed(self, books: Books) -> None:
        add_rate(books, "South Dakota state", "4.2")
        answer(books, "goods", True)
        answer(books, "work", False)
        split(books, "delivery")
        price_list(books, Kit=("60.00", "goods"), Quilting=("30.00", "work"), Parcel=("9.99", "delivery"))
        job = sent(books, "Kit", "Quilting", "Parcel")
        assert slip_of(books, job)[("delivery", "taxed")] == 6_66
        assert tax_of(books, job) == [("4.2", 66_66, 2_80)]


def test_taxed_at_the_destination_the_rates_of_that_place_count(books: Books) -> None:
    """S: Streamlined Sales and Use Tax Agreement, section 310 A 2, as enacted in N.D. Cent. Code 57-39.4-11 (from
    memory): what is received away from the seller's place is sourced to where the buyer receives it. Figures are ours.
    """
    add_rate(books, "Kansas state", "6.5")
    answer(books, "work", True)
    with books.writing() as write:
        rules.choose_sourcing(books, write, "destination", "the revenue office")
        for name, percent in (("Kansas state, Salina", "6.5"), ("Salina city", "2.75")):
            rules.add_rate(books, write, name, Decimal(percent), books.today, place="Salina")
    price_list(books, Quilting=("112.00", "work"))
    assert tax_of(books, sent(books, "Quilting", to="Salina")) == [("6.5", 112_00, 7_28), ("2.75", 112_00, 3_08)]
    fetched = job_for(books, lines=["Quilting"])
    picked_up(books, fetched, "cash")
    assert tax_of(books, fetched) == [("6.5", 112_00, 7_28)]
