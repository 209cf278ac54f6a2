"""Commands for customers: who they are, and one kept with contact and certificate."""

from __future__ import annotations

import click

from ledger.commands.certificates import keep_customer
from ledger.commands.manners import Answer, GroupWithUsual, Session, answers


class CustomerGroup(GroupWithUsual):
    """`customer NAME ...` keeps one; `customer list` lists them, and `customer keep list` is one of that name."""

    usual = "keep"


@click.group("customer", cls=CustomerGroup)
def customer() -> None:
    """Customers, and their exemption certificates if need be."""


customer.add_command(keep_customer)


@customer.command("list")
@answers
def list_customers(session: Session) -> Answer:
    """Every customer, in the order in which they came."""
    from ledger.jobs.customers import read_customers

    with session.books() as books:
        customers = [
            {
                "customer": each.customer.name,
                "code": each.customer.code,
                "contact": each.customer.party.contact,
                "since": each.since.isoformat(),
                "jobs": each.jobs,
            }
            for each in read_customers(books)
        ]
        lines = [
            f"{each['code']}  {each['since']}  {each['jobs']:>4} jobs  {each['customer']}"
            + (f", {each['contact']}" if each["contact"] else "")
            for each in customers
        ]
        return Answer({"customers": customers}, lines or ["There is no customer yet."])


COMMANDS = (customer,)
