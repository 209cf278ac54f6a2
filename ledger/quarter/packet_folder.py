"""The packet as a folder: something to read, a workbook, lists, the documents, and a manifest with their digests."""

from __future__ import annotations

import hashlib
import json
import shutil
from collections.abc import Callable, Mapping
from importlib.metadata import version
from pathlib import Path

from ledger.books.books import Books
from ledger.books.connection import refusal_for_file
from ledger.books.letterhead import read_letterhead
from ledger.books.places import private_folder, sync_folder, write_durably
from ledger.errors import BooksNotUsable
from ledger.lists.csv_list import csv_of
from ledger.lists.listing import Kind
from ledger.money import Currency
from ledger.paper.letterhead import on_letterhead
from ledger.paper.locales import LocalForms
from ledger.paper.pdf import sheet_pdf
from ledger.quarter.packet import FACE, Packet
from ledger.quarter.packet_sheet import packet_sheet
from ledger.quarter.table import PacketTable
from ledger.quarter.workbook import packet_workbook
from ledger.text import name_key

Tell = Callable[[str], None]


def write_packet(books: Books, packet: Packet, parent: Path, tell: Tell = lambda _: None) -> Path:
    """Write the packet into a new folder inside `parent`; its path. One that stands there already is left alone.

    tell: is handed what is being made, for whoever waits. Raises BooksNotUsable for a disk that is full or read-only,
    and then nothing is left behind.
    """
    files = packet_files(books, packet, tell)
    tell("writing")
    waiting = parent / f".{folder_name(packet)}.part"
    try:
        private_folder(parent)
        shutil.rmtree(waiting, ignore_errors=True)  # of a run that was killed
        for name, content in files.items():
            private_folder((waiting / name).parent)
            write_durably(waiting / name, content)
        target = _free(parent, folder_name(packet))
        waiting.rename(target)
        sync_folder(parent)
    except OSError as error:
        shutil.rmtree(waiting, ignore_errors=True)
        refusal = refusal_for_file(error, parent)
        raise BooksNotUsable(refusal.what, refusal.do, "packet") from error
    return target


def folder_name(packet: Packet) -> str:
    """The workshop and the period, in letters that every system takes in a name: `alder-lane-2026-Q1`."""
    letters = "".join(each if each.isascii() and each.isalnum() else "-" for each in name_key(packet.workshop))
    workshop = "-".join(part for part in letters.split("-") if part)[:40] or "workshop"
    return f"{workshop}-{packet.span.label.replace('..', '-to-')}"


def _free(parent: Path, name: str) -> Path:
    """The name itself, or with a number behind it where it is taken."""
    number, target = 1, parent / name
    while target.exists():
        number += 1
        target = parent / f"{name}-{number}"
    return target


def packet_files(books: Books, packet: Packet, tell: Tell = lambda _: None) -> dict[str, bytes]:
    """Every file of the packet by its path inside the folder. The same packet gives the same bytes."""
    forms = LocalForms(books.settings.locale, books.currency)
    tell("the pages")
    sheet = on_letterhead(packet_sheet(packet, forms), read_letterhead(books, packet.day))
    files = {"packet.pdf": sheet_pdf(sheet, forms.paper())}
    tell("the workbook")
    files["packet.xlsx"] = packet_workbook(packet, books.currency)
    tell("the lists")
    for each in packet.tables:
        files[f"csv/{each.name.replace(' ', '-')}.csv"] = table_csv(each, books.currency)
    for document in packet.documents:
        if document.content is not None:
            files[f"documents/{document.file}"] = document.content
    files["manifest.json"] = _manifest(packet, files)
    return files


def table_csv(table: PacketTable, currency: Currency) -> bytes:
    """The heads and the rows of a table as a CSV file."""
    kinds: list[Kind] = ["amount" if each.kind == "amount" else "text" for each in table.fields]
    return csv_of([each.head for each in table.fields], kinds, table.rows, currency)


def _manifest(packet: Packet, files: Mapping[str, bytes]) -> bytes:
    """What is in the folder, each file with its SHA-256, and of which books it was made."""
    told = {
        "workshop": packet.workshop,
        "period": packet.span.label,
        "through": packet.span.end.isoformat(),
        "so_far": packet.span.so_far,
        "method": packet.method,
        "built_on": packet.day.isoformat(),
        "head": packet.head,
        "program": f"twopurse {version('twopurse')}",
        "face": FACE,
        "withheld": list(packet.withheld),
        "files": [
            {"name": name, "bytes": len(content), "sha256": hashlib.sha256(content).hexdigest()}
            for name, content in sorted(files.items())
        ],
    }
    return (json.dumps(told, indent=2, ensure_ascii=False) + "\n").encode()
