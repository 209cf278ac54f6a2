"""The rows of sales tax to the end, use tax, and the set-aside."""

from __future__ import annotations

from ledger.actions.act import Act

TAXES: tuple[Act, ...] = ()
