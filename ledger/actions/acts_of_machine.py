"""The rows of the machine: its costs, its loan, its plan."""

from __future__ import annotations

from ledger.actions.act import Act

MACHINE: tuple[Act, ...] = ()
