"""The rows of bank statements: reading, placing, agreeing."""

from __future__ import annotations

from ledger.actions.act import Act

BANK: tuple[Act, ...] = ()
