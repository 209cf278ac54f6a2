"""Pickups of every kind, each in books of its own, for the tests of receipts to print."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import replace
from datetime import date
from decimal import Decimal
from pathlib import Path

from ledger.actions import gift, pick_up
from ledger.actions.pick_up import PickedUp
from ledger.books.balances import read_accounts
from ledger.books.books import Books
from ledger.jobs.pickup import Barter, Sending
from ledger.money import Currency
from tests.workshop import (
    add_customer,
    add_rate,
    add_to_price_list,
    answer,
    begin,
    begin_taxed,
    deposit,
    job_for,
    picked_up,
    pickup_request,
)

Pickup = tuple[Books, PickedUp]
DIGEST = re.compile(r"\b[0-9a-f]{12}\b")


def plain(folder: Path) -> Pickup:
    books = begin_taxed(folder)
    _price_list(books)
    job = job_for(
        books, lines=["Edge-to-edge", "Wool batting", "Binding by hand"], width="56", promised=date(2026, 2, 1)
    )
    deposit(books, job, "50.00")
    return books, picked_up(books, job, "cash", tendered="150.00")


def in_several_ways_with_everything_on_it(folder: Path) -> Pickup:
    """Minimum, rush, discount, tip, two ways of paying, and a part that stays owed."""
    books = begin_taxed(folder)
    _price_list(books)
    lines: list[str | tuple[str, str]] = ["Edge-to-edge", ("Mending", "1.5"), ("Label", "3"), "Hanging sleeve"]
    job = job_for(books, lines=lines, rush_percent=Decimal(20), minimum_cents=300_00)
    paid = ("check=200.00", "card=100.00", "owed")
    return books, picked_up(books, job, *paid, number="1021", fee="3.20", discount="25.00", tip="10.00")


def with_tax_in_the_prices(folder: Path) -> Pickup:
    """One price has its tax in it, the other has not; a discount, and a card."""
    books = begin_taxed(folder)
    add_to_price_list(books, "Edge-to-edge", "area", "0.02", includes_tax=True)
    add_to_price_list(books, "Binding", "length", "0.30")
    return books, picked_up(books, job_for(books, lines=["Edge-to-edge", "Binding"]), "card", discount="12.00")


def of_an_exempt_customer(folder: Path) -> Pickup:
    books = begin_taxed(folder)
    _price_list(books)
    add_customer(books, "Quilts for Kids", exempt="charity", number="KS-4711")
    job = job_for(books, lines=["Edge-to-edge"], customer="Quilts for Kids")
    return books, picked_up(books, job, "transfer", number="E-77")


def of_a_class_that_nobody_was_asked_about(folder: Path) -> Pickup:
    books = begin(folder)
    add_rate(books, "Kansas state", "6.5")
    answer(books, "goods", True)
    _price_list(books)
    return books, picked_up(books, job_for(books, lines=["Edge-to-edge", "Wool batting"]), "cash")


def given_away(folder: Path) -> Pickup:
    books = begin_taxed(folder)
    return books, picked_up(books, job_for(books, "85.00"), discount="85.00")


def with_a_deposit_above_what_is_due(folder: Path) -> Pickup:
    books = begin_taxed(folder)
    job = job_for(books, "40.00")
    deposit(books, job, "100.00")
    return books, picked_up(books, job)


def paid_with_a_certificate_and_with_goods(folder: Path) -> Pickup:
    """A certificate that is used up and one that is not, fabric for a part, a coupon."""
    books = begin_taxed(folder)
    codes = [gift.perform(books, gift.GiftRequest(cents, "cash"))[1] for cents in (30_00, 100_00)]
    fabric = Barter(read_accounts(books)["backing"], 25_00, "six yards of backing")
    request = pickup_request(job_for(books, "120.00"), discount="12.00")
    request = replace(request, gifts=tuple(codes), barter=fabric, coupon="guild show 2026")
    return books, pick_up.perform(books, request)


def sent_by_post_with_a_deposit_handed_back(folder: Path) -> Pickup:
    books = begin_taxed(folder)
    job = job_for(books, "40.00")
    deposit(books, job, "100.00")
    parcel = Sending(None, "Prairie Parcel", "PP 4711 0815", 400_00)
    return books, pick_up.perform(books, replace(pickup_request(job), deposit_back="check", sending=parcel))


def in_yen(folder: Path) -> Pickup:
    books = begin_taxed(folder, currency=Currency("JPY", 0), locale="ja_JP", units="cm", name="Tanaka キルト工房")
    add_to_price_list(books, "ロングアーム", "area", "0.3")
    add_to_price_list(books, "Binding", "length", "12")
    job = job_for(
        books, lines=["ロングアーム", "Binding"], customer="山田 花子", width="152.4", length="190", value=50000
    )
    return books, picked_up(books, job, "cash")


def in_euro(folder: Path) -> Pickup:
    """Prices with the tax in them, as they are where one rate holds for all."""
    books = begin(folder, currency=Currency("EUR", 2), locale="de_DE", units="cm", name="Quiltwerkstatt Köln")
    add_rate(books, "USt", "19", level="state")
    answer(books, "work", True)
    add_to_price_list(books, "Flächenquilten", "area", "0.0045", includes_tax=True)
    add_to_price_list(books, "Änderung", "hour", "38.50", includes_tax=True)
    lines: list[str | tuple[str, str]] = ["Flächenquilten", ("Änderung", "0.75")]
    return books, picked_up(
        books, job_for(books, lines=lines, customer="Jörg Öztürk", width="152.5", length="190"), "card"
    )


def with_long_names(folder: Path) -> Pickup:
    books = begin_taxed(
        folder, name="The Very Long-Standing Workshop for Quilting and Mending of Cedar Falls and Round About"
    )
    name = "Edge-to-edge quilting with a pantograph of feathers, stars, leaves and loops, in variegated thread"
    add_to_price_list(books, name, "yard", "1234.5678", minimum_cents=5000_00)
    add_to_price_list(books, "Longarm time", "yard", "987.654321")
    customer = "Maximiliane-Charlotte von Hohenfels-Wittgenstein-Berleburg and Bartholomew Featherstonehaugh"
    job = job_for(books, lines=[name, "Longarm time"], customer=customer, width="80")
    return books, picked_up(books, job, "check", number="A very long reference of a transfer 0123456789")


PICKUPS: dict[str, Callable[[Path], Pickup]] = {
    each.__name__: each
    for each in (
        plain,
        in_several_ways_with_everything_on_it,
        with_tax_in_the_prices,
        of_an_exempt_customer,
        of_a_class_that_nobody_was_asked_about,
        given_away,
        with_a_deposit_above_what_is_due,
        paid_with_a_certificate_and_with_goods,
        sent_by_post_with_a_deposit_handed_back,
        in_yen,
        in_euro,
        with_long_names,
    )
}


def masked(text: str) -> str:
    """A receipt with its digest hidden, which covers account numbers too and so changes with the chart."""
    return DIGEST.sub("x" * 12, text)


def _price_list(books: Books) -> None:
    add_to_price_list(books, "Edge-to-edge", "area", "0.02")
    add_to_price_list(books, "Wool batting", "inch", "0.35", "goods")
    add_to_price_list(books, "Binding by hand", "length", "0.30")
    add_to_price_list(books, "Mending", "hour", "32.00", minimum_cents=60_00)
    add_to_price_list(books, "Label", "each", "4.00", "goods")
    add_to_price_list(books, "Hanging sleeve", "flat", "25.00")
