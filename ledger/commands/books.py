"""Commands for the books themselves: begin, look, prove, back up, restore."""

from __future__ import annotations

from typing import Any

import click

from ledger.books.balances import Balance, balances
from ledger.books.books import Books
from ledger.books.entries import Entry, Wanted, read_entries
from ledger.commands.manners import (
    REFUSED,
    Answer,
    Command,
    Session,
    amount_in,
    answers,
    day_or_none,
    read_number,
    read_path,
)
from ledger.lists.listing import Arrangement
from ledger.money import currency_from_code, read_amount
from ledger.periods import parse_date

_UNKNOWNS = ["rates", "machine-price", "opening"]


@click.command("new", cls=Command)
@click.option("--name", required=True, help="The workshop's name.")
@click.option("--currency", default="USD", show_default=True, help="Three letters.")
@click.option("--locale", default="en_US", show_default=True, help="How receipts write dates and amounts.")
@click.option("--units", type=click.Choice(["in", "cm"]), default="in", show_default=True, help="Of every length.")
@click.option("--machine-price", metavar="AMOUNT", help="What the machine cost, if the workshop has it already.")
@click.option("--machine-date", metavar="DATE", help="The day on which it came.")
@click.option("--opening", metavar="AMOUNT", help="What is in the workshop's bank account now.")
@click.option("--not-known", multiple=True, type=click.Choice(_UNKNOWNS), help="To be an item of the set-up list.")
@answers
def new(session: Session, name: str, currency: str, locale: str, units: str, **given: Any) -> Answer:
    """Begin the books, today or on the day of --on.

    Nothing from before that day is entered later on. Name, currency, locale and units stay as they are chosen here.
    """
    from ledger.actions import begin

    if given["machine_date"] is not None and given["machine_price"] is None:
        raise click.UsageError("--machine-date goes with --machine-price.")
    unit = currency_from_code(currency)

    def cents(key: str) -> int:
        text = given[key]
        return read_amount(text, unit, key, zero=True) if text is not None else 0

    machine_date = given["machine_date"]
    request = begin.BeginRequest(
        name=name,
        currency=unit,
        locale=locale,
        units=units,
        machine_price_cents=cents("machine_price"),
        machine_date=parse_date(machine_date, "machine_date") if machine_date is not None else None,
        opening_cents=cents("opening"),
        unknown=tuple(each.replace("-", "_") for each in given["not_known"]),
    )
    books = begin.perform(session.folder, session.clock, request)
    try:
        accounts = _accounts(books)
        lines = [
            f"The books of {books.settings.name} begin on {session.today} in {session.folder}.",
            f"They have {len(accounts)} accounts; «twopurse chart» lists them.",
        ]
        return Answer({"books": str(session.folder), "accounts": accounts}, lines)
    finally:
        books.close()


@click.command("chart", cls=Command)
@answers
def chart(session: Session) -> Answer:
    """Every account with its balance; each purse adds to zero."""
    with session.books() as books:
        amount = amount_in(books.currency)
        accounts = _accounts(books)
        standing = balances(books, session.today)
        sums = {purse: amount(_purse_sum(standing, purse)) for purse in ("business", "personal")}
        lines = [f"{each['name']:<28}{each['balance']:>16}  {each['purse']}, {each['kind']}" for each in accounts]
        lines += [f"{f'The {purse} purse adds to':<28}{total:>16}" for purse, total in sums.items()]
        return Answer({"accounts": accounts, "purses": sums}, lines)


@click.command("entries", cls=Command)
@click.option("--since", metavar="DATE", help="From this day on.")
@click.option("--through", metavar="DATE", help="Up to this day; up to the day of --on unless given.")
@click.option("--job", type=read_number, metavar="JOB", help="Of one job, by its number.")
@click.option("--who", metavar="NAME", help="Of one customer or shop.")
@click.option("--csv", "csv_file", metavar="FILE", help="Save them as a CSV file too.")
@answers
def entries(session: Session, job: int | None, who: str | None, csv_file: str | None, **days: str | None) -> Answer:
    """The entries, in the order in which they were sealed."""
    since, through = days["since"], days["through"]
    with session.books() as books:
        wanted = Wanted(
            since=parse_date(since, "since") if since is not None else None,
            through=parse_date(through, "through") if through is not None else session.today,
            job=job,
            party=_party(books, who) if who is not None else None,
        )
        found = read_entries(books, wanted)
        amount = amount_in(books.currency)
        lines: list[str] = []
        for entry in found:
            lines.append(f"{entry.number:>6}  {entry.on}  {entry.text}{_undone(entry)}")
            lines += [f"{'':>20}{each.account.name:<28}{amount(each.cents):>14}" for each in entry.postings]
        lines = lines or ["There are no entries there."]
        data: dict[str, Any] = {"entries": [_entry(books, each) for each in found]}
        if csv_file is not None:
            data["csv"] = _save(books, wanted, csv_file)
            lines.append(f"Saved: {data['csv']}")
        return Answer(data, lines)


def _save(books: Books, wanted: Wanted, csv_file: str) -> str:
    """The file that the entries were saved in, in the order of their numbers."""
    from ledger.books.entry_list import EntryList
    from ledger.books.kept_lists import keep_list

    found = EntryList(books, Arrangement(column=0), wanted)
    return str(keep_list(books, read_path(csv_file, "csv"), found.columns, found.every()))


@click.command("prove", cls=Command)
@answers
def prove(session: Session) -> Answer:
    """Check that the books are whole.

    Everything is read from the ground up: file, schema, sums, chains, documents. It ends with 1 where they are not.
    """
    from ledger.books.prove import prove as prove_books

    with session.books(tell_damage=False) as books:
        proof = prove_books(books)
        findings = [each.sentence for each in proof.findings]
        data = {
            "ok": proof.ok,
            "entries": proof.entries,
            "head": proof.head.digest if proof.entries else None,
            "first_bad": proof.first_bad,
            "findings": findings,
        }
        said = "The books are whole" if proof.ok else "The books are not whole"
        lines = [f"{said}: {proof.entries} entries, head {proof.head}.", *findings]
        return Answer(data, lines, 0 if proof.ok else REFUSED)


@click.command("backup", cls=Command)
@click.argument("file", required=False)
@answers
def backup(session: Session, file: str | None) -> Answer:
    """Copy the books and their documents into one zip file.

    FILE is new; without it the backup goes to the backups folder of the books, under the day's name. It is proved.
    """
    from ledger.books.backup import back_up

    with session.books() as books:
        made = back_up(books, read_path(file, "file") if file is not None else None)
        findings = [each.sentence for each in made.findings]
        data = {
            "file": str(made.file),
            "head": made.head.digest if made.head.number else None,
            "findings": findings,
        }
        lines = [f"Backed up to {made.file}, head {made.head}."]
        if findings:
            lines += ["The books are not whole and were copied as they are; keep your earlier backups.", *findings]
        return Answer(data, lines)


@click.command("restore", cls=Command)
@click.argument("file")
@answers
def restore(session: Session, file: str) -> Answer:
    """Put the books of a backup in place.

    FILE was made by «twopurse backup» and is proved first. The books that stood there are put aside, whole.
    """
    from ledger.books.backup import restore as restore_books

    made = restore_books(read_path(file, "file"), session.folder, session.clock)
    data = {"file": str(made.file), "head": made.head.digest if made.head.number else None}
    return Answer(data, [f"Restored from {made.file}, head {made.head}."])


def _accounts(books: Books) -> list[dict[str, Any]]:
    amount = amount_in(books.currency)
    return [
        {
            "name": each.account.name,
            "role": each.account.role,
            "purse": each.account.purse,
            "kind": each.account.kind,
            "balance": amount(each.cents),
        }
        for each in balances(books, books.today)
    ]


def _purse_sum(standing: tuple[Balance, ...], purse: str) -> int:
    return sum(each.cents for each in standing if each.account.purse == purse)


def _party(books: Books, name: str) -> int:
    from ledger.books.parties import party_named

    return party_named(books, name).id


def _undone(entry: Entry) -> str:
    return f"  (reversed by {entry.reversed_by})" if entry.reversed_by else ""


def _entry(books: Books, entry: Entry) -> dict[str, Any]:
    amount = amount_in(books.currency)
    return {
        "number": entry.number,
        "date": entry.on.isoformat(),
        "belongs_on": day_or_none(entry.belongs_on),
        "text": entry.text,
        "who": entry.who,
        "kind": entry.kind,
        "job": entry.job,
        "reverses": entry.reverses,
        "reversed_by": entry.reversed_by,
        "digest": entry.digest,
        "postings": [
            {"account": each.account.name, "purse": each.account.purse, "amount": amount(each.cents)}
            for each in entry.postings
        ],
    }


COMMANDS = (new, chart, entries, prove, backup, restore)
