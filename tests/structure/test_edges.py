"""The clock is read at the edge of the command line, transactions begin in one place, heavy packages come late."""

from __future__ import annotations

import ast
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.structure.tree import CHECKOUT, files_in, python_of, text_of

TRANSACTION_WORDS = ("executescript", "atomic(", "isolation_level", "begin immediate")
TRANSACTION_FILES = {Path("ledger/books/connection.py"), Path("ledger/books/transaction.py")}
CLOCK_IN_SQL = ("current_timestamp", "current_date", "current_time", "'now'", "unixepoch()", "julianday()")
READS_THE_CLOCK = {
    "date": {"today"},
    "datetime": {"now", "utcnow", "today"},
    "time": {"time", "time_ns", "localtime", "gmtime", "ctime", "asctime"},
}
# ofxtools 331 ms, icalendar 324, textual 230, reportlab 130, holidays 72: they come with the act that needs them.
HEAVY_PACKAGES = ("holidays", "icalendar", "numpy", "ofxtools", "reportlab", "textual", "xlsxwriter")


def test_only_the_edge_of_the_command_line_reads_the_clock() -> None:
    inside = [path for path in files_in("ledger", "checklists") if not is_edge(path)]
    found = [f"{path}:{line}" for path in inside for line in clock_readings(python_of(path))]
    assert found == []


def test_no_sql_asks_the_system_for_the_time() -> None:
    files = files_in("ledger", "checklists", suffixes=(".py", ".sql"))
    found = [f"{path}: {word}" for path in files for word in CLOCK_IN_SQL if word in text_of(path).lower()]
    assert found == []


def test_transactions_are_begun_in_one_place() -> None:
    elsewhere = [path for path in files_in("ledger", "checklists") if path not in TRANSACTION_FILES]
    found = [f"{path}: {word}" for path in elsewhere for word in TRANSACTION_WORDS if word in text_of(path).lower()]
    assert found == []


def test_the_words_of_a_transaction_stand_where_they_belong() -> None:
    texts = "".join(text_of(path).lower() for path in sorted(TRANSACTION_FILES))
    assert "begin immediate" in texts
    assert "isolation_level" in texts


@pytest.mark.parametrize(
    "source",
    [
        "from datetime import date\ndate.today()",
        "import datetime\ndatetime.datetime.now(datetime.UTC)",
        "import datetime as dt\ndt.date.today()",
        "from datetime import datetime as moment\nmoment.utcnow()",
        "import time\ntime.time()",
        "import time as t\nt.time_ns()",
        "from time import time\ntime()",
        "from time import gmtime as g\ng()",
        "from datetime import date\nread = date.today",
    ],
)
def test_a_reading_of_the_clock_is_seen(source: str) -> None:
    assert list(clock_readings(ast.parse(source)))


@pytest.mark.parametrize(
    "source",
    [
        "import time\ntime.monotonic()",
        "def f(clock):\n    return clock.now",
        "from datetime import date\ndate(2026, 1, 1)",
        "def f(books):\n    return books.today()",
    ],
)
def test_a_clock_handed_in_is_let_through(source: str) -> None:
    assert list(clock_readings(ast.parse(source))) == []


@pytest.mark.parametrize("module", ["ledger.cli", "ledger.books", "ledger.money", "checklists"])
def test_a_command_starts_without_the_packages_that_take_long_to_load(module: str) -> None:
    code = f"import sys, {module}; print(*sorted(set(sys.modules) & set({HEAVY_PACKAGES!r})))"
    loaded = subprocess.run([sys.executable, "-c", code], cwd=CHECKOUT, capture_output=True, text=True, check=False)
    assert (loaded.returncode, loaded.stdout.split()) == (0, []), loaded.stderr


def is_edge(path: Path) -> bool:
    return path.parts[:2] == ("ledger", "commands") or (
        path.parent == Path("ledger") and (path.stem == "cli" or path.stem.startswith("cli_"))
    )


def clock_readings(tree: ast.Module) -> Iterator[int]:
    """The lines that take the time from the system, under whatever name the clock was imported."""
    known_as = dict(names_of_clocks(tree))
    for node in ast.walk(tree):
        if isinstance(node, ast.Attribute):
            clock = known_as.get(ast.unparse(node.value))
            if clock and node.attr in READS_THE_CLOCK[clock]:
                yield node.lineno
        if isinstance(node, ast.ImportFrom) and node.module == "time":
            yield from (node.lineno for alias in node.names if alias.name in READS_THE_CLOCK["time"])


def names_of_clocks(tree: ast.Module) -> Iterator[tuple[str, str]]:
    """Each name under which a module, as imported, reaches `date`, `datetime` or `time`."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            for alias in node.names:
                name = alias.asname or alias.name
                if alias.name == "time":
                    yield name, "time"
                elif alias.name == "datetime":
                    yield f"{name}.date", "date"
                    yield f"{name}.datetime", "datetime"
        elif isinstance(node, ast.ImportFrom) and node.module == "datetime":
            for alias in node.names:
                if alias.name in ("date", "datetime"):
                    yield alias.asname or alias.name, alias.name
