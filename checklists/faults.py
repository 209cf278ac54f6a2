"""What can be wrong in a file of checklist items, and the one error that names all of it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from ledger.errors import Refused


@dataclass(frozen=True)
class Fault:
    """What is wrong, and where: the file, the item (its id, or its number where it has none), the field."""

    file: str
    item: str
    field: str
    what: str

    def __str__(self) -> str:
        return ", ".join(part for part in (self.file, self.item, self.field) if part) + f": {self.what}"


class CatalogueNotUsable(Refused):
    """The files of the checklist have faults; `faults` holds every one."""

    def __init__(self, faults: Iterable[Fault]) -> None:
        self.faults = tuple(faults)
        listed = "; ".join(str(fault) for fault in self.faults)
        super().__init__(f"The set-up list cannot be used: {listed}.", "Correct these files in checklists/items.")
