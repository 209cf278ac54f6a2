"""The account of one customer over a period: what was owed before, what moved it, and the running balance."""

from __future__ import annotations

from ledger.books.books import Books
from ledger.jobs.account_sheet import read_account
from ledger.jobs.customers import Customer
from ledger.quarter.span import Span
from ledger.quarter.table import Field, PacketTable, Row


def customer_table(books: Books, customer: Customer, span: Span) -> PacketTable:
    """What the customer came to owe and paid in the period, as far as it has come."""
    lines = read_account(books, customer).lines
    balance = sum(each.cents for each in lines if each.day < span.start)
    rows: list[Row] = [(None, None, None, "owed before", None, balance)]
    for each in lines:
        if span.start <= each.day <= span.end:
            balance += each.cents
            rows.append((each.day, each.entry, each.job, each.text, each.cents, balance))
    fields = (
        *(Field("Day", "day"), Field("Entry", "count"), Field("Job", "count"), Field("What")),
        *(Field("Amount", "amount"), Field("Owed", "amount")),
    )
    return PacketTable("customer account", f"Account of {customer.name}, {span.label}", fields, tuple(rows))
