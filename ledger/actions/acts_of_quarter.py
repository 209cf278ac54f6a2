"""The rows of a quarter's end: packet, closing, questions."""

from __future__ import annotations

from ledger.actions.act import Act

QUARTER: tuple[Act, ...] = ()
