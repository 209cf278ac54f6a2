"""What the books keep of the machines: each part of what they cost, and their share of the use and of the jobs."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from typing import Literal

from ledger.books.balances import balance
from ledger.books.books import Books, Row
from ledger.books.transaction import Writing
from ledger.errors import NotFound, NotPossible, unknown_name
from ledger.machine.cost import FIRST_MACHINE, Cost, Kind, Machine, Part, basis_of, cost_of
from ledger.money import plain_decimal
from ledger.text import name_key, read_name, read_text

ShareOf = Literal["use", "jobs"]


def add_cost(
    books: Books,
    write: Writing,
    what: str,
    cents: int,
    on: date,
    entry: int | None = None,
    *,
    kind: Kind = "price",
    machine: int | None = None,
    placed_on: date | None = None,
    worth_cents: int | None = None,
) -> None:
    """A part of the payback cost: a figure that stays, whatever the machine account shows.

    placed_on: the day of business use, `on` unless given. worth_cents: on that day, where it was hers first.
    """
    write.add(
        "machine_cost",
        what=what,
        cents=cents,
        on_date=on.isoformat(),
        entry=entry,
        machine=machine,
        kind=kind,
        placed_on=placed_on.isoformat() if placed_on is not None else None,
        basis_cents=basis_of(kind, cents, worth_cents),
    )


def strike_figure(books: Books, write: Writing, number: int) -> str:
    """Take a figure from before the books back; what it was. Raises NotFound, and NotPossible for what was booked."""
    row = books.row("select * from machine_cost where id = ?", (number,))
    if row is None:
        raise NotFound(f"There is no part {number}.", "See them with «twopurse machine list».", "part")
    if row["entry"] is not None:
        raise NotPossible(
            f"Part {number} was booked with entry {row['entry']}.", "Undo that with «twopurse reverse».", "part"
        )
    left = books.value(
        "select sum(cents) from machine_cost where entry is null and what = ? and on_date = ? and kind is ? "
        "and machine is ?",
        (row["what"], row["on_date"], row["kind"], row["machine"]),
    )
    if row["cents"] * left <= 0:
        raise NotPossible(f"Part {number} was taken back already.", "There is nothing left of it.", "part")
    values = {name: row[name] for name in ("what", "on_date", "machine", "kind", "placed_on")}
    basis = row["basis_cents"]
    basis = -basis if basis is not None else None
    write.add("machine_cost", **values, cents=-row["cents"], entry=None, basis_cents=basis)
    return str(row["what"])


def read_parts(books: Books, on: date) -> tuple[Part, ...]:
    """Every part that was there by a day, in the order of their days; what was undone is in none."""
    rows = books.rows(
        "select machine_cost.*, (select coalesce(sum(posting.cents), 0) from posting "
        "join account on account.id = posting.account where posting.entry = machine_cost.entry and role = 'machine') "
        "as booked from machine_cost left join entry on entry.number = machine_cost.entry "
        "where on_date <= ?1 and (entry.reverses is null) and not exists "
        "(select 1 from entry as mirror where mirror.reverses = machine_cost.entry) order by on_date, machine_cost.id",
        (on.isoformat(),),
    )
    return tuple(map(_part, rows))


def _part(row: Row) -> Part:
    day = date.fromisoformat(row["on_date"])
    basis = row["basis_cents"]
    if basis is None:  # from before parts had one: what the books put on the machine account
        basis = row["cents"] if row["entry"] is None else row["booked"]
    return Part(
        id=row["id"],
        machine=row["machine"],
        kind=row["kind"] or "price",
        what=row["what"],
        cents=row["cents"],
        basis_cents=basis,
        day=day,
        placed_on=date.fromisoformat(row["placed_on"]) if row["placed_on"] else day,
        entry=row["entry"],
    )


def read_costs(books: Books, on: date) -> tuple[Cost, ...]:
    """Each machine's cost at the end of a day; interest that is on no other's loan is the first one's."""
    parts = read_parts(books, on)
    interest = {row["machine"]: row["cents"] for row in books.rows(_INTEREST, (on.isoformat(),) * 2)}
    rest = balance(books, "loan_interest", on) - sum(cents for machine, cents in interest.items() if machine)
    return tuple(
        cost_of(each, parts, rest if each.id is None else interest.get(each.id, 0)) for each in read_machines(books)
    )


_INTEREST = (
    "select loan.machine as machine, sum(loan_event.interest_cents) as cents from loan_event "
    "join loan on loan.id = loan_event.loan join entry on entry.number = loan_event.entry where entry.date <= ? "
    "and not exists (select 1 from entry as mirror where mirror.reverses = entry.number and mirror.date <= ?) "
    "group by loan.machine"
)


def read_machines(books: Books) -> tuple[Machine, ...]:
    """The first machine, and those that were added."""
    rows = books.rows("select * from machine where on_date <= ? order by id", (books.today.isoformat(),))
    return (Machine(None, FIRST_MACHINE), *(Machine(row["id"], row["name"]) for row in rows))


def machine_named(books: Books, name: str | None) -> Machine:
    """The machine of that name, the first one without. Raises NotFound."""
    machines = read_machines(books)
    if name is None:
        return machines[0]
    found = next((each for each in machines if name_key(each.name) == name_key(name)), None)
    if found is None:
        raise unknown_name("machine", name, [each.name for each in machines], "machine")
    return found


def keep_machine(books: Books, write: Writing, name: str) -> Machine:
    """Raises NotPossible for a name that is taken, NotUnderstood."""
    kept = read_name(name, "name")
    if any(name_key(each.name) == name_key(kept) for each in read_machines(books)):
        raise NotPossible(f"There is a machine called «{kept}».", "Give this one another name.", "name")
    machine = write.add("machine", name=kept, name_key=name_key(kept), on_date=books.today.isoformat())
    return Machine(machine, kept)


def keep_share(
    books: Books, write: Writing, machine: Machine, of_what: ShareOf, percent: Decimal, reason: str, from_date: date
) -> None:
    write.add(
        "machine_share",
        machine=machine.id,
        of_what=of_what,
        percent=plain_decimal(percent),
        reason=read_text(reason, "reason"),
        from_date=from_date.isoformat(),
        made_on=books.today.isoformat(),
    )


def share_on(books: Books, machine: Machine, of_what: ShareOf, day: date) -> Decimal:
    """The percent that holds on a day. Unless she said so, a machine is used for the workshop alone, and the first one
    does every job that no other does."""
    said = _said(books, machine.id, of_what, day)
    if said is not None or of_what == "use":
        return Decimal(100) if said is None else said
    if machine.id is not None:
        return Decimal(0)
    others = sum((share_on(books, each, "jobs", day) for each in read_machines(books)[1:]), Decimal(0))
    return max(Decimal(0), Decimal(100) - others)


def share_days(books: Books, machine: Machine, of_what: ShareOf) -> tuple[date, ...]:
    """The days from which another share holds; for the first machine those of every other count too."""
    rows = books.rows(
        "select distinct from_date from machine_share where of_what = ? and (machine is ? or ? is null) order by 1",
        (of_what, machine.id, machine.id),
    )
    return tuple(date.fromisoformat(row[0]) for row in rows)


def _said(books: Books, machine: int | None, of_what: ShareOf, day: date) -> Decimal | None:
    found = books.value(
        "select percent from machine_share where machine is ? and of_what = ? and from_date <= ? "
        "order by from_date desc, id desc limit 1",
        (machine, of_what, day.isoformat()),
    )
    return None if found is None else Decimal(found)
