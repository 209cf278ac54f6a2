"""Open books: the connection with its folder, clock and settings, and what every reader and writer asks of them."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path
from typing import Any

from ledger.books.clock import Clock
from ledger.books.connection import FILE_FAULTS, refusal_for
from ledger.books.transaction import Writing, transaction
from ledger.errors import BooksDamaged, NotPossible
from ledger.money import Currency

Row = sqlite3.Row


@dataclass(frozen=True)
class Settings:
    """What was fixed when the books began. units: "in" or "cm", in which lengths are given."""

    name: str
    currency: Currency
    locale: str
    units: str
    begun_on: date


@dataclass(frozen=True)
class Books:
    """A books folder, opened. damage: why it can only be looked at, None where it is sound.

    joined: the transaction that every act on these books joins, None where each act is one of its own.
    """

    folder: Path
    connection: sqlite3.Connection
    clock: Clock
    settings: Settings
    damage: str | None = None
    joined: Writing | None = None

    @property
    def today(self) -> date:
        return self.clock.today

    @property
    def currency(self) -> Currency:
        return self.settings.currency

    def rows(self, sql: str, values: Sequence[object] = ()) -> list[Row]:
        """Every row of a query. Raises Refused for what the disk or the file reports."""
        try:
            return self.connection.execute(sql, values).fetchall()
        except FILE_FAULTS as error:
            raise refusal_for(error) from error

    def row(self, sql: str, values: Sequence[object] = ()) -> Row | None:
        found = self.rows(sql, values)
        return found[0] if found else None

    def value(self, sql: str, values: Sequence[object] = ()) -> Any:
        """The first column of the first row, None where there is none."""
        found = self.row(sql, values)
        return found[0] if found else None

    def change_mark(self) -> int:
        """A number that changes when another connection has written."""
        return int(self.value("pragma data_version"))

    @contextmanager
    def writing(self) -> Iterator[Writing]:
        """A transaction that writes.

        Raises BooksDamaged where the books may only be looked at, NotPossible on a day before they began.
        """
        if self.damage is not None:
            raise BooksDamaged(
                f"The books are open to look at only: {self.damage}.",
                "Run «twopurse prove» for the findings, then restore a backup with «twopurse restore».",
                "books",
            )
        if self.today < self.settings.begun_on:
            raise NotPossible(
                f"{self.today} lies before {self.settings.begun_on}, the day these books began.",
                "Give a later day with --on.",
                "on",
            )
        if self.joined is not None:
            with self.joined.joined() as write:
                yield write
            return
        with transaction(self.connection, self.folder) as write:
            yield write

    @contextmanager
    def all_or_nothing(self) -> Iterator[Books]:
        """These books, with one transaction that every act on them joins, whatever its day: all of them or none.

        An act that raises undoes the others too, even where somebody catches what it raised. Raises as `writing` does.
        """
        with self.writing() as write:
            yield replace(self, joined=write)

    def close(self) -> None:
        self.connection.close()
