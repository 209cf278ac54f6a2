"""The three triggers that make a table write-once, made from one `--guard` line of a migration.

Their text is part of the schema digest of every version shipped: it never changes, a new law gets a new name.
"""

from __future__ import annotations

GUARD_LINE = "--guard "


def guard_statements(directive: str) -> list[str]:
    """The triggers for `TABLE KEY; KEY`, a key being one column or several with commas.

    A BEFORE INSERT trigger on each key stops REPLACE on a plain connection too, where recursive triggers are off.
    """
    table, keys = directive.strip().split(" ", 1)
    taken = " or ".join(f"({_same(key)})" for key in keys.split(";"))
    return [
        f"create trigger {table}_is_written_once before insert on {table}\n"
        f"when exists (select 1 from {table} where {taken})\n"
        f"begin select raise(abort, 'a row of {table} is written once'); end",
        f"create trigger {table}_never_changes before update on {table}\n"
        f"begin select raise(abort, 'a row of {table} never changes'); end",
        f"create trigger {table}_never_goes before delete on {table}\n"
        f"begin select raise(abort, 'a row of {table} is never removed'); end",
    ]


def _same(key: str) -> str:
    return " and ".join(f"{column.strip()} = new.{column.strip()}" for column in key.split(","))
