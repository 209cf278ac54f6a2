"""Build the packet of a period in a folder. Nothing is written to the books: handing over is closing."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from ledger.books.books import Books
from ledger.books.places import PACKETS
from ledger.periods import Period
from ledger.quarter.packet import read_packet
from ledger.quarter.packet_folder import write_packet
from ledger.quarter.span import PacketChoice


@dataclass(frozen=True)
class PacketRequest:
    """parent: the folder that the packet's own folder is made in, that of the books where it is left out."""

    period: Period
    parent: Path | None = None
    choice: PacketChoice = PacketChoice()


def perform(books: Books, request: PacketRequest, tell: Callable[[str], None] = lambda _: None) -> Path:
    """The folder that was made. tell: is handed what is being made. Raises BooksNotUsable, and leaves nothing then."""
    tell("the figures")
    packet = read_packet(books, request.period, request.choice)
    return write_packet(books, packet, request.parent or books.folder / PACKETS, tell)
