"""Enter a further machine, and what share of a machine is the workshop's use, or of the jobs, from a day on."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from ledger.books.books import Books
from ledger.machine.cost import Machine
from ledger.machine.record import ShareOf, keep_machine, keep_share, machine_named


@dataclass(frozen=True)
class MachineRequest:
    name: str


@dataclass(frozen=True)
class MachineShareRequest:
    """percent of a machine's use that is the workshop's, or of the jobs that it does. machine: None is the first."""

    percent: Decimal
    reason: str
    from_date: date
    of_what: ShareOf = "use"
    machine: str | None = None


def add(books: Books, request: MachineRequest) -> Machine:
    """Raises NotPossible for a name that is taken, NotUnderstood."""
    with books.writing() as write:
        return keep_machine(books, write, request.name)


def perform(books: Books, request: MachineShareRequest) -> Machine:
    """Raises NotFound for the machine, NotUnderstood for a reason that says nothing."""
    with books.writing() as write:
        machine = machine_named(books, request.machine)
        keep_share(books, write, machine, request.of_what, request.percent, request.reason, request.from_date)
        return machine
