"""What makes a line of a statement the same line in another file: its content, and which of several equal ones it is.

Two equal coffees on one day stay two: the second has the occurrence 2. The bank's own name for a line is kept beside
it, since some banks give one name twice, and others a new one with every file.
"""

from __future__ import annotations

import hashlib
import json
from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass

from ledger.bank.bank_file import BankLine


@dataclass(frozen=True)
class Identity:
    """Within one account. occurrence counts from 1."""

    bank_id: str
    digest: str
    occurrence: int


def identities(lines: Iterable[BankLine]) -> list[Identity]:
    """Each line's identity, in the order of the lines."""
    seen: Counter[tuple[str, str]] = Counter()
    found = []
    for each in lines:
        digest = line_digest(each)
        seen[each.bank_id, digest] += 1
        found.append(Identity(each.bank_id, digest, seen[each.bank_id, digest]))
    return found


def line_digest(line: BankLine) -> str:
    """SHA-256 over what a line says, the bank's own name for it apart."""
    said = json.dumps([line.day.isoformat(), line.cents, line.text, line.memo, line.number], ensure_ascii=False)
    return hashlib.sha256(said.encode("utf-8", "surrogatepass")).hexdigest()
