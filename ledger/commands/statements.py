"""Commands for bank statements: read one, see its lines, say what each is."""

from __future__ import annotations

from typing import Any, cast

import click

from ledger.actions.registry import act_of_verb
from ledger.books.books import Books
from ledger.commands.manners import Answer, Group, Session, amount_in, answers, read_number, read_path
from ledger.commands.statement_lines import counts_of, line_data, line_text, looked_data, preview_lines
from ledger.commands.statements_agreed import agree, agreements, count
from ledger.errors import NotUnderstood
from ledger.money import read_amount
from ledger.periods import parse_date
from ledger.text import shown

_ACCOUNT = click.option("--account", metavar="NAME", required=True, help="The account that the statement is of.")
_READING = (
    click.option("--map", "map_file", metavar="FILE", help="A TOML file: which column of a CSV is what."),
    click.option("--dates", metavar="ORDER", help="mdy, dmy or ymd, where the dates of a CSV leave it open."),
    click.option(
        "--decimal", type=click.Choice([".", ","]), help="The sign before decimals, where a CSV leaves it open."
    ),
    click.option("--number", metavar="DIGITS", help="The last four digits of the account, where that is not clear."),
)


def _reading(command: Any) -> Any:
    for each in reversed(_READING):
        command = each(command)
    return command


@click.group("statement", cls=Group)
def statement() -> None:
    """Bank statements: read, placed and agreed."""


@statement.command("read", help=act_of_verb("statement read").help)
@click.argument("file", metavar="FILE")
@_ACCOUNT
@_reading
@click.option("--preview", "only_preview", is_flag=True, help="Only show what is in it; keep nothing.")
@click.option("--without-file", is_flag=True, help="Keep the lines without the file itself.")
@answers
def read(session: Session, file: str, account: str, only_preview: bool, without_file: bool, **said: Any) -> Answer:
    from ledger.actions import read_statement

    with session.books() as books:
        request = _request(file, account, said, keeps_file=not without_file)
        looked = read_statement.preview(books, request)
        if looked.is_of_the_household:
            return _look_through(books, request)
        if only_preview:
            data = {**looked_data(looked, books.currency), "already": looked.preview.rows - looked.fresh}
            nothing: dict[str, Any] = {"statement": None, "lines": [], "matched": 0, "new": 0, "doubtful": 0}
            return Answer({**data, **nothing}, preview_lines(looked, books.currency))
        done = read_statement.perform(books, request)
        counts = counts_of(done.lines)
        data = {
            **looked_data(looked, books.currency),
            "statement": done.kept.id or None,
            "already": done.kept.already,
            "lines": [line_data(each, books.currency) for each in done.lines],
            **counts,
        }
        lines = preview_lines(looked, books.currency)
        lines.append(
            f"{counts['matched']} matched, {counts['new']} new, {counts['doubtful']} doubtful; "
            f"{done.kept.already} were read before."
        )
        lines += ["See them with «twopurse statement lines»."] if counts["new"] or counts["doubtful"] else []
        return Answer(data, lines)


def _look_through(books: Books, request: Any) -> Answer:
    """A household statement: shown, and nothing of it kept."""
    from ledger.actions.pick_line import look_through

    looked, found = look_through(books, request)
    amount = amount_in(books.currency)
    lines = [
        {
            "line": each.place,
            "date": each.line.day.isoformat(),
            "amount": amount(each.line.cents),
            "text": each.line.words,
            "state": "matched" if each.entry is not None else "new",
            "entry": each.entry,
        }
        for each in found
    ]
    matched = sum(each["entry"] is not None for each in lines)
    data = {**looked_data(looked, books.currency), "statement": None, "already": 0, "lines": lines}
    data |= {"matched": matched, "new": len(lines) - matched, "doubtful": 0}
    told = [
        f"{each['line']:>4}  {each['date']}  {each['amount']:>10}  {each['text']}"
        + (f"  (entry {each['entry']})" if each["entry"] is not None else "")
        for each in lines
    ]
    told += [
        "Nothing is kept. Pick what was for the workshop with «twopurse statement pick FILE LINE --category NAME»."
    ]
    return Answer(data, told)


@statement.command("pick", help=act_of_verb("statement pick").help)
@click.argument("file", metavar="FILE")
@click.argument("line", metavar="LINE", type=read_number)
@_ACCOUNT
@_reading
@click.option("--category", metavar="NAME", required=True, help="What it was for, such as thread.")
@click.option("--who", metavar="NAME", help="The shop, where the bank's words are not its name.")
@click.option("--home", metavar="AMOUNT", help="The part of it that was for the household.")
@click.option("--owed", is_flag=True, help="The workshop owes it back.")
@click.option("--contributed", is_flag=True, help="It is a contribution, whatever you chose.")
@answers
def pick(session: Session, file: str, line: int, account: str, category: str, who: str | None, **given: Any) -> Answer:
    from ledger.actions import pick_line

    if given["owed"] and given["contributed"]:
        raise click.UsageError("--owed and --contributed exclude each other.")
    with session.books() as books:
        home = given["home"]
        request = pick_line.PickRequest(
            read=_request(file, account, given, keeps_file=False),
            place=line,
            category=category,
            who=who,
            home_cents=read_amount(home, books.currency, "home", zero=True) if home is not None else 0,
            owed=True if given["owed"] else False if given["contributed"] else None,
        )
        done = pick_line.perform(books, request)
        data = {"line": done.line.id, "entry": done.entry, "amount": amount_in(books.currency)(done.line.cents)}
        return Answer(data, [f"Entry {done.entry}: {data['amount']}, {done.line.words}. Nothing else was kept."])


@statement.command("lines")
@click.option("--account", metavar="NAME", help="Only those of an account.")
@click.option("--open", "only_open", is_flag=True, help="Only those that are not placed yet.")
@answers
def lines(session: Session, account: str | None, only_open: bool) -> Answer:
    """The lines that were read, with what each is."""
    from ledger.bank.standing import read_standing
    from ledger.bank.statements import statement_account
    from ledger.books.balances import read_accounts

    with session.books() as books:
        named = statement_account(read_accounts(books), account) if account is not None else None
        found = read_standing(books, named)
        told = [each for each in found if not only_open or each.state in ("new", "doubtful", "later")]
        data = {"lines": [line_data(each, books.currency) for each in told], **counts_of(found)}
        return Answer(data, [line_text(each, books.currency) for each in told] or ["No line is open."])


@statement.command("place", help=act_of_verb("statement place").help)
@click.argument("line", metavar="LINE", type=read_number)
@click.option("--category", metavar="NAME", help="What it was for, such as thread or bank charges.")
@click.option("--entry", "entries", metavar="ENTRY", type=read_number, multiple=True, help="What it is; it repeats.")
@click.option("--job", metavar="JOB", type=read_number, help="The job that it was paid for.")
@click.option("--home", is_flag=True, help="A household thing: a draw, or money put in.")
@click.option("--ignore", is_flag=True, help="Nothing to book: a line that is there twice.")
@click.option("--transfer", metavar="ACCOUNT", help="To or from another account of yours.")
@click.option("--payout", is_flag=True, help="The card company paid out.")
@click.option("--returned-check", "returned", metavar="JOB", type=read_number, help="A check on that job came back.")
@click.option("--loan", is_flag=True, help="A payment on the loan.")
@click.option("--later", is_flag=True, help="Leave it for later.")
@click.option("--suggested", is_flag=True, help="What is suggested for it.")
@click.option("--who", metavar="NAME", help="Whom it was paid to, where the bank's words are not the name.")
@click.option("--home-part", metavar="AMOUNT", help="The household's part, beside --category.")
@click.option("--also", metavar="CATEGORY=AMOUNT", multiple=True, help="A further category; it repeats.")
@click.option("--interest", metavar="AMOUNT", help="The lender's figure of the interest, beside --loan.")
@click.option("--through", metavar="DATE", help="The last day whose card payments it covers, beside --payout.")
@answers
def place(session: Session, line: int, **given: Any) -> Answer:
    from ledger.actions import place_line
    from ledger.bank.standing import read_standing

    with session.books() as books:
        done = place_line.perform(books, _placing(books, line, given))
        left = read_standing(books)
        standing = next(each for each in left if each.line.id == line)
        following = next((each.line.id for each in left if each.state in ("new", "doubtful")), None)
        data = {
            **line_data(standing, books.currency),
            "booked": list(done.booked),
            "other_line": done.other_line,
            "next": following,
            **counts_of(left),
        }
        said = f"is entry {', '.join(map(str, done.entries))}" if done.entries else f"is {standing.state}"
        told = [f"Line {line} {said}."]
        told += [f"So is line {done.other_line}, its other side."] if done.other_line else []
        return Answer(data, [*told, f"Next: line {following}." if following else "No line is open."])


@statement.command("undo", help=act_of_verb("statement undo").help)
@click.argument("line", metavar="LINE", type=read_number)
@answers
def undo(session: Session, line: int) -> Answer:
    from ledger.actions import undo_placing
    from ledger.bank.standing import read_standing

    with session.books() as books:
        done = undo_placing.perform(books, undo_placing.UndoRequest(line))
        standing = read_standing(books, ids=(line,))[0]
        data = {**line_data(standing, books.currency), "reversed_by": list(done.reversed_by)}
        told = [f"Line {line} is open again."]
        told += [f"Entry {each} reverses what was booked for it." for each in done.reversed_by]
        return Answer(data, told)


@statement.command("match")
@click.option("--account", metavar="NAME", help="Only lines of an account.")
@answers
def match(session: Session, account: str | None) -> Answer:
    """Look again what open lines are, after entries were made."""
    from ledger.actions.read_statement import look_again
    from ledger.bank.standing import read_standing

    with session.books() as books:
        found = look_again(books, account)
        many = "1 line" if found == 1 else f"{found} lines"
        return Answer({"found": found, **counts_of(read_standing(books))}, [f"{many} found their entry."])


def _request(file: str, account: str, said: dict[str, Any], *, keeps_file: bool) -> Any:
    from ledger.actions.read_statement import ReadRequest
    from ledger.bank.csv_map import date_order

    number = said["number"]
    if number is not None and not (number.isascii() and number.isalnum()):
        raise NotUnderstood(f"«{shown(number)[:20]}» is no end of an account number.", "Give its last four.", "number")
    return ReadRequest(
        file=read_path(file, "file"),
        account=account,
        map_file=read_path(said["map_file"], "map") if said["map_file"] is not None else None,
        dates=date_order(said["dates"]) if said["dates"] is not None else None,
        decimal=said["decimal"],
        number=number[-4:] if number is not None else None,
        keeps_file=keeps_file,
    )


_WAYS = ("category", "entries", "job", "home", "ignore", "transfer", "payout", "returned", "loan", "later", "suggested")
_WAY_OF = {"entries": "entry", "ignore": "ignored"}


def _placing(books: Books, line: int, given: dict[str, Any]) -> Any:
    """The request of exactly one way. Raises UsageError for none or several."""
    from ledger.actions.book_line import PlaceRequest, Way

    ways = [name for name in _WAYS if given[name]]
    if len(ways) != 1:
        raise click.UsageError("Say one thing that the line is: --category, --entry, --job, --home or another.")
    way, interest, part = ways[0], given["interest"], given["home_part"]
    return PlaceRequest(
        line=line,
        way=cast("Way", _WAY_OF.get(way, way)),
        name=given["category"] or given["transfer"] or "",
        entries=given["entries"],
        job=given["job"] or given["returned"],
        who=given["who"],
        home_cents=read_amount(part, books.currency, "home_part", zero=True) if part is not None else 0,
        also=tuple(_also(each, books) for each in given["also"]),
        interest_cents=read_amount(interest, books.currency, "interest", zero=True) if interest is not None else None,
        through=parse_date(given["through"], "through") if given["through"] is not None else None,
    )


def _also(text: str, books: Books) -> tuple[str, int]:
    name, equals, amount = text.partition("=")
    if not equals:
        raise NotUnderstood(f"«{shown(text)[:40]}» has no amount.", "Say --also CATEGORY=AMOUNT.", "also")
    return name, read_amount(amount, books.currency, "also")


for _each in (agree, agreements, count):
    statement.add_command(_each)

COMMANDS = (statement,)
