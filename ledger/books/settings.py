"""Settings fixed when the books begin, and choices that hold from a date on."""

from __future__ import annotations

import sqlite3
from datetime import date

from ledger.books.books import Books, Settings
from ledger.books.transaction import Writing
from ledger.money import Currency


def write_settings(write: Writing, settings: Settings) -> None:
    values = {
        "name": settings.name,
        "currency": settings.currency.code,
        "currency_decimals": str(settings.currency.decimals),
        "locale": settings.locale,
        "units": settings.units,
        "begun_on": settings.begun_on.isoformat(),
    }
    for key, value in values.items():
        write.add("setting", key=key, value=value)


def read_settings(connection: sqlite3.Connection) -> Settings:
    values = dict(connection.execute("select key, value from setting").fetchall())
    return Settings(
        name=values["name"],
        currency=Currency(values["currency"], int(values["currency_decimals"])),
        locale=values["locale"],
        units=values["units"],
        begun_on=date.fromisoformat(values["begun_on"]),
    )


def choose(write: Writing, key: str, value: str, from_date: date, made_on: date, asked: str | None = None) -> None:
    """Keep a choice that holds from a day on, with whom she asked where somebody decides it."""
    write.add("choice", key=key, value=value, from_date=from_date.isoformat(), made_on=made_on.isoformat(), asked=asked)


def chosen(books: Books, key: str, on: date) -> str | None:
    """The choice in force on a day: the latest that began by then, and of several of one day the last made."""
    value = books.value(
        "select value from choice where key = ? and from_date <= ? order by from_date desc, id desc limit 1",
        (key, on.isoformat()),
    )
    return None if value is None else str(value)
