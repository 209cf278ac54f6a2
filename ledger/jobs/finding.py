"""What can be found by typing of customers and their jobs: customers and other parties, jobs, gift certificates."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date

from ledger.books.books import Books
from ledger.books.finding import Found, Searched, places_for
from ledger.books.parties import party_code
from ledger.jobs.customers import customer_code
from ledger.jobs.gift_certificates import read_certificates
from ledger.jobs.records import is_before_books

_GONE = ("picked up", "called off")
_NAME = "(select name from party_detail where party = {party} order by id desc limit 1)"


def _parties(books: Books, numbers: Sequence[int]) -> Iterable[tuple[int, Found]]:
    """A customer stands on the Bench with the newest job, anybody else in Money with the newest entry."""
    today = books.today.isoformat()
    for row in books.rows(
        f"select party.id, customer.id as customer, {_NAME.format(party='party.id')} as name, "
        f"(select max(id) from job where job.customer = customer.id and on_date <= ?1) as job, "
        f"(select max(number) from entry where entry.who = party.id and date <= ?1) as entry "
        f"from party left join customer on customer.party = party.id where party.id in ({places_for(numbers)})",
        (today, *numbers),
    ):
        room = "bench" if row["job"] else "money"
        aside = f"newest job {row['job']}" if row["job"] else f"last entry {row['entry']}" if row["entry"] else ""
        is_customer = row["customer"] is not None
        kind = "customer" if is_customer else "party"
        code = customer_code(row["customer"]) if is_customer else party_code(row["id"])
        yield row["id"], Found(kind, code, row["name"], aside=aside, room=room, at=row["job"] or row["entry"])


def _jobs(books: Books, numbers: Sequence[int]) -> Iterable[tuple[int, Found]]:
    for row in books.rows(
        f"select job.id, job.piece, {_NAME.format(party='customer.party')} as name, last.what, last.on_date from job "
        "join customer on customer.id = job.customer left join job_event as last on last.id = "
        "(select max(id) from job_event where job_event.job = job.id and on_date <= ?1) "
        f"where job.id in ({places_for(numbers)})",
        (books.today.isoformat(), *numbers),
    ):
        is_gone = row["what"] in _GONE
        day = date.fromisoformat(row["on_date"]) if is_gone else None
        aside = "gone since" if is_gone else "on the Bench"
        if row["what"] is None and is_before_books(books, row["id"]):
            aside = "gone before the books"
        yield (
            row["id"],
            Found("job", row["id"], f"{row['name']}: {row['piece']}", day, aside=aside, room="bench", at=row["id"]),
        )


def _gifts(books: Books, numbers: Sequence[int]) -> Iterable[tuple[int, Found]]:
    entries = {row["id"]: row["entry"] for row in books.rows("select id, entry from gift_certificate")}
    for each in read_certificates(books):
        if each.id in numbers:
            words = f"{each.code}, {each.holder}" if each.holder else each.code
            room, at = ("open items", None) if each.left_cents else ("money", entries[each.id])
            aside = "left of it" if each.left_cents else "used up"
            yield each.id, Found("gift", each.code, words, each.sold_on, each.left_cents, aside, room, at)


PARTIES = Searched(
    "party",
    "select max(id) from party",
    "select party.id || char(31) || (select group_concat(replace(name || ' ' || coalesce(contact, ''), char(10), ' '), "
    "' ') from party_detail where party_detail.party = party.id) || coalesce(printf(' C-%03d', "
    "(select customer.id from customer where customer.party = party.id)), '') from party where id > ? and id <= ? "
    "order by id desc",
    _parties,
)
JOBS = Searched(
    "job",
    "select max(id) from job",
    f"select job.id || char(31) || {_NAME.format(party='customer.party')} || ' ' || replace(piece, char(10), ' ') "
    "from job join customer on customer.id = job.customer where job.id > ? and job.id <= ? order by job.id desc",
    _jobs,
)
GIFTS = Searched(
    "gift",
    "select max(id) from gift_certificate",
    f"select id || char(31) || code || ' ' || coalesce({_NAME.format(party='gift_certificate.party')}, '') "
    "from gift_certificate where id > ? and id <= ? order by id desc",
    _gifts,
)
