"""What every command shares: --json, --books and --on before it or after it, refusals, exit codes, and the output."""

from __future__ import annotations

import json
import os
import re
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from datetime import date, datetime, time
from functools import wraps
from pathlib import Path
from typing import Any

import click

from ledger.books.books import Books
from ledger.books.clock import Clock
from ledger.errors import BooksNotUsable, NotUnderstood, Refused
from ledger.money import Currency, plain_amount
from ledger.periods import parse_date
from ledger.signs import UTF_8, speak, terminal_encoding
from ledger.text import shown

DONE, REFUSED, WRONG_USE, DEFECT = 0, 1, 2, 3
STOPPED = 130  # by Ctrl+C, as shells count it: unlike a refusal it may come after the entry was booked
_NEGATIVE = re.compile(r"-\.?[0-9].*")
_NUMBER = re.compile(r"0{0,9}([1-9][0-9]{0,11})")


@dataclass(frozen=True)
class Answer:
    """What a command says: one JSON object, or lines for a person. code: the exit code, where it is not 0."""

    data: dict[str, Any]
    lines: list[str] = field(default_factory=list)
    code: int = DONE


@dataclass(frozen=True)
class Session:
    """The books folder and the day that a command was called with."""

    folder: Path
    clock: Clock

    @property
    def today(self) -> date:
        return self.clock.today

    @contextmanager
    def books(self, *, tell_damage: bool = True) -> Iterator[Books]:
        """The books, open; figures from damaged ones come with a sentence on stderr, unless the command tells it."""
        from ledger.books.opening import open_books

        books = open_books(self.folder, self.clock)
        try:
            yield books
            if books.damage is not None and tell_damage:
                _say(f"These books are damaged: {books.damage}. Do not rely on this; see «twopurse prove».")
        finally:
            books.close()


def read_number(text: str) -> int:
    """The number of a job or an entry, a whole one from 1 in ASCII digits. Raises BadParameter, which is wrong use."""
    found = _NUMBER.fullmatch(text)
    if found is None:
        raise click.BadParameter(f"«{shown(text)[:40]}» is no number such as 1 or 12.")
    return int(found[1])


def _keep(ctx: click.Context, option: click.Parameter, value: Any) -> None:
    if value is not None and value is not False:
        ctx.obj[option.name] = value


def _shared_options() -> list[click.Parameter]:
    said = {
        "--json": "Answer with one JSON object, for other programs.",
        "--books": "The folder of the books, where it is not the usual one.",
        "--on": "The day, such as 2026-03-14, instead of today.",
    }
    return [
        click.Option(["--json"], is_flag=True, expose_value=False, callback=_keep, help=said["--json"]),
        click.Option(["--books"], metavar="FOLDER", expose_value=False, callback=_keep, help=said["--books"]),
        click.Option(["--on"], metavar="DATE", expose_value=False, callback=_keep, help=said["--on"]),
    ]


class Command(click.Command):
    """A command that takes the shared options, and a negative number as what it is: no option."""

    def __init__(self, *arguments: Any, **settings: Any) -> None:
        super().__init__(*arguments, **settings)
        self.params.extend(_shared_options())

    def parse_args(self, ctx: click.Context, args: list[str]) -> list[str]:
        ctx.ignore_unknown_options = any(_NEGATIVE.fullmatch(each) for each in args)
        return super().parse_args(ctx, args)


class Group(click.Group):
    """A group of commands that takes the shared options too."""

    command_class = Command

    def __init__(self, *arguments: Any, **settings: Any) -> None:
        super().__init__(*arguments, **settings)
        self.params.extend(_shared_options())

    def list_commands(self, ctx: click.Context) -> list[str]:
        """In the order in which they are written: that of a job's life, not of the alphabet."""
        return list(self.commands)


Group.group_class = Group


class GroupWithUsual(Group):
    """A group whose first word may be left out where it is the usual command."""

    usual = ""

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        return super().resolve_command(ctx, args if args and args[0] in self.commands else [self.usual, *args])

    def parse_args(self, ctx: click.Context, args: list[str]) -> list[str]:
        ctx.ignore_unknown_options = any(_NEGATIVE.fullmatch(each) for each in args)
        return super().parse_args(ctx, args)


def answers(function: Callable[..., Answer]) -> Callable[..., Answer]:
    """Make a command of a function that is handed the session and gives an answer."""

    @wraps(function)
    def call(**values: Any) -> Answer:
        return function(session_of(click.get_current_context().obj), **values)

    return call


def run(root: click.Group, arguments: list[str]) -> int:
    """Run a command and give its exit code; whatever happens, a person gets a sentence and never a trace."""
    for stream in (sys.stdout, sys.stderr):
        speak(stream, _encoding_of(stream))
    shared: dict[str, Any] = {}
    try:
        answer = root.main(arguments, prog_name="twopurse", standalone_mode=False, obj=shared)
        return _tell(answer, as_json="json" in shared) if isinstance(answer, Answer) else DONE
    except Refused as refused:
        return _refuse(refused, as_json="json" in shared)
    except click.exceptions.NoArgsIsHelpError as wrong:
        click.echo(wrong.ctx.get_help() if wrong.ctx else "", err=bool(arguments))
        return DONE if not arguments else WRONG_USE
    except click.ClickException as wrong:
        wrong.show()
        return WRONG_USE
    except (click.Abort, KeyboardInterrupt):
        _say("Stopped. See with «twopurse entries» whether it was booked before you repeat it.")
        return STOPPED
    except SystemExit:  # how click leaves when nobody reads the help it writes
        return DONE
    except Exception as defect:
        return _defect(defect)


def amount_in(currency: Currency) -> Callable[[int], str]:
    """How amounts are printed in the books' currency."""
    return lambda cents: plain_amount(cents, currency)


def day_or_none(day: date | None) -> str | None:
    return day.isoformat() if day else None


def read_path(text: str, field: str) -> Path:
    """A file or folder as it is typed, `~` for the home folder. Raises NotUnderstood for what can be none."""
    try:
        if not text.strip():
            raise ValueError
        path = Path(text).expanduser()
        path.exists()  # asks the system whether it takes the name at all: too long, or holding what no name holds
    except PermissionError:
        raise BooksNotUsable(
            f"{shown(text)} cannot be read.", "Check who owns it and the folders above it.", field
        ) from None
    except (OSError, RuntimeError, ValueError):
        what = "folder" if field == "books" else "file"
        raise NotUnderstood(
            f"«{shown(text)[:80]}» cannot be the name of a {what}.", f"Name the {what} in full.", field
        ) from None
    return path


def session_of(shared: dict[str, Any]) -> Session:
    """The session that the shared options ask for. Raises NotUnderstood for a folder or a day that is none."""
    on = shared.get("on")
    now = datetime.combine(parse_date(on, "on"), time()) if on is not None else datetime.now().astimezone()
    return Session(_folder(shared.get("books")), Clock(now.date(), now))


def _folder(named: str | None) -> Path:
    folder = named if named is not None else os.environ.get("TWOPURSE_BOOKS") or None
    if folder is not None:
        return read_path(folder, "books")
    from platformdirs import user_data_path  # 3 ms, not where a folder is named

    return user_data_path("twopurse", appauthor=False) / "books"


def _tell(answer: Answer, *, as_json: bool) -> int:
    """Print the answer. The act is done by now, so an output that fails is no refusal."""
    said = [_as_json(answer.data)] if as_json else [shown(line) for line in answer.lines]
    try:
        print("\n".join(said), flush=True)
    except BrokenPipeError:
        _let_go(sys.stdout)
    except OSError as error:
        _let_go(sys.stdout)
        _say(f"It was done, but the answer could not be written out ({error.strerror}).")
        return DEFECT
    return answer.code


def _as_json(data: dict[str, Any]) -> str:
    """One object on a line, whole on any output: what an old terminal has no letters for is escaped."""
    return json.dumps(data, ensure_ascii=_encoding_of(sys.stdout) != UTF_8)


def _encoding_of(stream: Any) -> str:
    """UTF-8 for other programs; for a terminal, or where it is said in so many words, what can be written there."""
    is_terminal = hasattr(stream, "isatty") and stream.isatty()
    return terminal_encoding(os.environ) if is_terminal or os.environ.get("PYTHONIOENCODING") else UTF_8


def _refuse(refused: Refused, *, as_json: bool) -> int:
    _say(str(refused))
    said = {"refused": {"what": refused.what, "do": refused.do, "field": refused.field}}
    if as_json:
        _tell(Answer(said), as_json=True)
    return REFUSED


def _defect(defect: Exception) -> int:
    if os.environ.get("TWOPURSE_TRACE"):
        raise defect
    _say(
        f"This is a defect of the program ({type(defect).__name__}: {shown(str(defect))[:200]}). See with «twopurse "
        "entries» whether it was booked. Then run it with TWOPURSE_TRACE=1 to see where, and report that."
    )
    return DEFECT


def _say(sentence: str) -> None:
    try:
        print(shown(sentence), file=sys.stderr, flush=True)
    except OSError:
        _let_go(sys.stderr)


def _let_go(stream: Any) -> None:
    """Send a stream that takes nothing any more to nowhere, so that the end of the program does not try it again."""
    nowhere = os.open(os.devnull, os.O_WRONLY)
    os.dup2(nowhere, stream.fileno())
    os.close(nowhere)
