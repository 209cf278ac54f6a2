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
from ledger.errors import Refused
from ledger.money import Currency, plain_amount
from ledger.periods import parse_date
from ledger.text import shown

DONE, REFUSED, WRONG_USE, DEFECT = 0, 1, 2, 3
_NEGATIVE = re.compile(r"-\.?[0-9].*")
_JSON, _BOOKS, _ON = "twopurse.json", "twopurse.books", "twopurse.on"


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
    def books(self) -> Iterator[Books]:
        from ledger.books.opening import open_books

        books = open_books(self.folder, self.clock)
        try:
            yield books
        finally:
            books.close()


def _keep(ctx: click.Context, option: click.Parameter, value: Any) -> None:
    if value:
        ctx.meta[f"twopurse.{option.name}"] = value


def _shared_options() -> list[click.Parameter]:
    return [
        click.Option(["--json"], is_flag=True, expose_value=False, callback=_keep, help="Answer with one JSON object."),
        click.Option(
            ["--books"], metavar="FOLDER", expose_value=False, callback=_keep, help="The folder with the books."
        ),
        click.Option(["--on"], metavar="DATE", expose_value=False, callback=_keep, help="The day, instead of today."),
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


Group.group_class = Group


def answers(function: Callable[..., Answer]) -> Callable[..., int]:
    """Make a command of a function that is handed the session and gives an answer."""

    @wraps(function)
    def call(**values: Any) -> int:
        ctx = click.get_current_context()
        answer = function(_session(ctx), **values)
        if ctx.meta.get(_JSON):
            print(json.dumps(answer.data, ensure_ascii=False))
        else:
            for line in answer.lines:
                print(shown(line))
        return answer.code

    return call


def run(root: click.Group, arguments: list[str]) -> int:
    """Run a command and give its exit code; whatever happens, a person gets a sentence and never a trace."""
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(encoding="utf-8", errors="backslashreplace")
    try:
        code = root.main(arguments, prog_name="twopurse", standalone_mode=False)
        return code if isinstance(code, int) else DONE
    except Refused as refused:
        return _refuse(refused, as_json="--json" in arguments)
    except click.exceptions.NoArgsIsHelpError as wrong:
        print(wrong.ctx.get_help() if wrong.ctx else "")
        return DONE if not arguments else WRONG_USE
    except click.ClickException as wrong:
        wrong.show()
        return WRONG_USE
    except (click.Abort, KeyboardInterrupt):
        print("Stopped. Nothing was written.", file=sys.stderr)
        return REFUSED
    except BrokenPipeError:
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return DONE
    except Exception as defect:
        return _defect(defect)


def amount_in(currency: Currency) -> Callable[[int], str]:
    """How amounts are printed in the books' currency."""
    return lambda cents: plain_amount(cents, currency)


def day_or_none(day: date | None) -> str | None:
    return day.isoformat() if day else None


def _session(ctx: click.Context) -> Session:
    on = ctx.meta.get(_ON)
    now = datetime.combine(parse_date(on, "on"), time()) if on else datetime.now().astimezone()
    return Session(_folder(ctx.meta.get(_BOOKS)), Clock(now.date(), now))


def _folder(named: str | None) -> Path:
    folder = named or os.environ.get("TWOPURSE_BOOKS")
    if folder:
        return Path(folder).expanduser()
    from platformdirs import user_data_path

    return user_data_path("twopurse", appauthor=False) / "books"


def _refuse(refused: Refused, *, as_json: bool) -> int:
    print(shown(str(refused)), file=sys.stderr)
    if as_json:
        said = {"what": refused.what, "do": refused.do, "field": refused.field}
        print(json.dumps({"refused": said}, ensure_ascii=False))
    return REFUSED


def _defect(defect: Exception) -> int:
    if os.environ.get("TWOPURSE_TRACE"):
        raise defect
    print(
        f"This is a defect of the program ({type(defect).__name__}: {shown(str(defect))[:200]}). Nothing was written. "
        "Run it again with TWOPURSE_TRACE=1 to see where, and report that.",
        file=sys.stderr,
    )
    return DEFECT
