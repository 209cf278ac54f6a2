"""Jobs taken in and sold at the desk, and what an entry holds, for the commands that end a job."""

from __future__ import annotations

from decimal import Decimal

from tests.commands.desk import Desk
from tests.commands.workshop import QUILT


def add_prices(desk: Desk) -> Desk:
    """Quilting at 100.00, taxed at 4.3 and 1.0 percent; a parcel at 10.00, which is not taxed."""
    desk.data("price", "quilting", "--by", "flat", "--rate", "100", "--class", "work")
    desk.data("price", "parcel", "--by", "flat", "--rate", "10", "--class", "delivery")
    return desk


def take_in(desk: Desk, *lines: str, customer: str = "Ada Brook") -> str:
    words = [word for line in lines or ("quilting",) for word in ("--line", line)]
    return str(desk.data("job", "new", "--customer", customer, "--piece", "Log cabin", *QUILT, *words)["job"])


def sell(desk: Desk, *paid: str, customer: str = "Ada Brook") -> str:
    """The number of a job that went home today for 100.00 and 5.30 of tax."""
    job = take_in(desk, customer=customer)
    desk.data("pickup", job, *paid)
    return job


def entry(desk: Desk, number: int) -> dict[str, str]:
    """Account to amount of an entry; an account that stands twice is added up."""
    entries = desk.data("entries", on="2027-12-31")["entries"]
    found = next(each for each in entries if each["number"] == number)
    sums: dict[str, Decimal] = {}
    for each in found["postings"]:
        sums[each["account"]] = sums.get(each["account"], Decimal(0)) + Decimal(each["amount"])
    return {account: str(amount) for account, amount in sums.items()}


def checks(desk: Desk, on: str = "2027-12-31") -> None:
    assert [each["name"] for each in desk.data("quarter", "2026", on=on)["checks"] if not each["ok"]] == []
    assert desk.data("prove", on=on)["ok"] is True
