"""`customer list` lists the customers; a customer of that name can still be kept."""

from __future__ import annotations

from tests.commands.desk import Desk


def test_customers_are_listed_in_the_order_in_which_they_came(desk: Desk) -> None:
    customers = desk.data("customer", "list")["customers"]
    assert [each["code"] for each in customers] == [f"C-{number:03d}" for number in range(1, len(customers) + 1)]
    assert customers[0] == {"customer": "Ada Brook", "code": "C-001", "contact": None, "since": "2026-01-12", "jobs": 1}
    assert [each["jobs"] for each in customers if each["customer"] == "Cara"] == [2]


def test_no_customer_is_made_by_asking_for_the_list_and_one_called_so_is_kept_by_saying_keep(desk: Desk) -> None:
    before = len(desk.data("customer", "list")["customers"])
    assert desk.data("customer", "keep", "list", "--contact", "555 0100")["customer"] == "list"
    customers = desk.data("customer", "list")["customers"]
    assert len(customers) == before + 1
    assert (customers[-1]["customer"], customers[-1]["contact"]) == ("list", "555 0100")


def test_the_name_alone_keeps_a_customer_as_before(desk: Desk) -> None:
    assert desk.data("customer", "Dora", "--contact", "dora@example.org")["contact"] == "dora@example.org"
    assert desk.data("customer", "Dora")["code"] == desk.data("customer", "list")["customers"][-1]["code"]


def test_books_without_a_customer_say_so(empty_desk: Desk) -> None:
    empty_desk.data("new", "--name", "Lantern")
    assert empty_desk.data("customer", "list") == {"customers": []}
