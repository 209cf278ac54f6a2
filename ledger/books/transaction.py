"""The one function that begins, commits and rolls back, and the one way to add a row that is no part of an entry."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from pathlib import Path

from ledger.books.connection import refusal_for, refusal_for_file
from ledger.books.digests import GENESIS, Value, as_kept, record_digest
from ledger.books.places import private_folder, sync_folder, write_durably


class Writing:
    """One open transaction. Rows and files added through it stand together or not at all."""

    def __init__(self, connection: sqlite3.Connection) -> None:
        self.connection = connection
        self._new_documents: list[Path] = []
        self._files_to_show: list[tuple[Path, Path]] = []
        self._spoiled = False

    def add(self, table: str, **values: Value) -> int:
        """A new row of a write-once table, put on the chain of records; its id."""
        columns = ", ".join(values)
        places = ", ".join("?" for _ in values)
        sql = f"insert into {table} ({columns}) values ({places})"
        row = self.connection.execute(sql, tuple(map(as_kept, values.values()))).lastrowid
        assert row is not None
        last = self.connection.execute("select number, digest from record order by number desc limit 1").fetchone()
        number, previous = (last[0], last[1]) if last else (0, GENESIS)
        kept = self.connection.execute(f"select * from {table} where id = ?", (row,)).fetchone()
        self.connection.execute(
            "insert into record (number, of_table, row, digest) values (?, ?, ?, ?)",
            (number + 1, table, row, record_digest(previous, table, dict(kept))),
        )
        return row

    def add_all(self, table: str, rows: Sequence[Mapping[str, Value]]) -> list[int]:
        """Many rows with the same columns, as `add` would write them one after the other; their ids, in order.

        It takes a third of the time, since each row is not read back by itself.
        """
        if not rows:
            return []
        columns = list(rows[0])
        places = ", ".join("?" for _ in columns)
        before = self.connection.execute(f"select coalesce(max(id), 0) from {table}").fetchone()[0]
        self.connection.executemany(
            f"insert into {table} ({', '.join(columns)}) values ({places})",
            [tuple(as_kept(row[column]) for column in columns) for row in rows],
        )
        last = self.connection.execute("select number, digest from record order by number desc limit 1").fetchone()
        number, previous = (last[0], last[1]) if last else (0, GENESIS)
        records = []
        for kept in self.connection.execute(f"select * from {table} where id > ? order by id", (before,)):
            number, previous = number + 1, record_digest(previous, table, dict(kept))
            records.append((number, table, kept["id"], previous))
        assert len(records) == len(rows), "ids go up one after the other"
        self.connection.executemany("insert into record (number, of_table, row, digest) values (?, ?, ?, ?)", records)
        return [row for _, _, row, _ in records]

    def add_document(self, path: Path, content: bytes) -> None:
        """A file that a row of this transaction refers to: on the disk before the commit, gone if there is none.

        One that lies there already is kept where it holds the same bytes, and written again where it does not.
        """
        is_new = not path.exists()
        if not is_new and path.read_bytes() == content:
            return
        private_folder(path.parent)
        waiting = path.with_name(f".{path.name}.part")  # so that a kill leaves no half of it under its name
        write_durably(waiting, content)
        waiting.replace(path)
        sync_folder(path.parent)
        if is_new:
            self._new_documents.append(path)

    def add_file(self, path: Path, content: bytes) -> None:
        """A file that tells of this transaction (a receipt): under its own name only once the commit has held."""
        private_folder(path.parent)
        waiting = path.with_name(f".{path.name}.part")
        self._files_to_show.append((waiting, path))
        write_durably(waiting, content)

    @contextmanager
    def joined(self) -> Iterator[Writing]:
        """A part of this transaction: it commits nothing, and where it fails nothing is committed."""
        try:
            yield self
        except BaseException:
            self._spoiled = True
            raise

    def check_parts(self) -> None:
        assert not self._spoiled, "a transaction of which a part failed is not committed"

    def show_files(self) -> None:
        for waiting, path in self._files_to_show:
            waiting.replace(path)
        for folder in dict.fromkeys(path.parent for _, path in self._files_to_show):
            sync_folder(folder)

    def drop_files(self) -> None:
        for waiting, _ in self._files_to_show:
            waiting.unlink(missing_ok=True)
        for path in self._new_documents:
            path.unlink(missing_ok=True)


@contextmanager
def transaction(connection: sqlite3.Connection, folder: Path) -> Iterator[Writing]:
    """Begin at once with the write lock, commit at the end, roll everything back if anything is raised.

    Raises BooksBusy after five seconds, BooksNotUsable for a disk that is full or read-only.
    """
    writing = Writing(connection)
    is_committing = False
    try:
        connection.execute("begin immediate")
        yield writing
        writing.check_parts()
        is_committing = True
        connection.execute("commit")
    except BaseException as error:
        if is_committing and not connection.in_transaction and not isinstance(error, sqlite3.Error):
            writing.show_files()  # Ctrl+C after the commit had held
            raise
        if connection.in_transaction:
            connection.execute("rollback")
        writing.drop_files()
        if isinstance(error, sqlite3.Error):
            raise refusal_for(error) from error
        if isinstance(error, OSError):
            raise refusal_for_file(error, folder) from error
        raise
    writing.show_files()
