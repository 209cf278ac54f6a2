"""Customers: parties whose pieces come into the house."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from ledger.books.books import Books
from ledger.books.parties import Party, ensure_party, find_party, read_party
from ledger.books.transaction import Writing
from ledger.errors import unknown_name


@dataclass(frozen=True)
class Customer:
    id: int
    party: Party

    @property
    def name(self) -> str:
        return self.party.name

    @property
    def code(self) -> str:
        """What stands for the name in a packet that leaves names out."""
        return customer_code(self.id)


@dataclass(frozen=True)
class ListedCustomer:
    """jobs: how many they have brought, called off or not."""

    customer: Customer
    since: date
    jobs: int


def customer_code(customer: int) -> str:
    """`C-012`: what stands for the name of the customer with that number."""
    return f"C-{customer:03d}"


def ensure_customer(books: Books, write: Writing, name: str, contact: str | None = None) -> Customer:
    """The customer of that name, added if need be. Raises NotUnderstood for a name that cannot be one."""
    party = ensure_party(books, write, name, contact, "name")
    row = books.row("select id from customer where party = ?", (party,))
    customer = row["id"] if row else write.add("customer", party=party, since=books.today.isoformat())
    return Customer(customer, read_party(books, party))


def customer_named(books: Books, name: str) -> Customer:
    """Raises NotFound, offering the three nearest."""
    party = find_party(books, name)
    customer = books.value("select id from customer where party = ?", (party.id,)) if party else None
    if party is None or customer is None:
        raise unknown_name("customer", name, customer_names(books), "customer")
    return Customer(customer, party)


def read_customer(books: Books, customer: int) -> Customer:
    party = books.value("select party from customer where id = ?", (customer,))
    return Customer(customer, read_party(books, party))


def customer_names(books: Books) -> list[str]:
    """Every customer, in the order in which they came."""
    return [read_party(books, row["party"]).name for row in books.rows("select party from customer order by id")]


def read_customers(books: Books) -> tuple[ListedCustomer, ...]:
    """Every customer by today with what there is to say, in the order in which they came."""
    rows = books.rows(
        "select id, since, (select count(*) from job where job.customer = customer.id and on_date <= ?1) as jobs "
        "from customer where since <= ?1 order by id",
        (books.today.isoformat(),),
    )
    return tuple(
        ListedCustomer(read_customer(books, row["id"]), date.fromisoformat(row["since"]), row["jobs"]) for row in rows
    )
