"""A worksheet as text, so that a filed return can be read again as it was; cents as whole numbers, percents as text."""

from __future__ import annotations

import hashlib
import json
from dataclasses import astuple
from decimal import Decimal
from typing import Any

from ledger.money import plain_decimal
from ledger.taxes.worksheet import BeforeBooks, Deduction, Levy, TaxedAt, UseTaxAt, Worksheet

_AMOUNTS = (
    "gross_cents",
    "unanswered_cents",
    "taxable_cents",
    "use_tax_cents",
    "owed_before_cents",
    "allowance_cents",
    "carried_cents",
)
_DEDUCTIONS = ("exempt", "not_taxed", "deductions")


def worksheet_as_text(worksheet: Worksheet) -> str:
    """One JSON object with its keys in order and no white space."""
    kept: dict[str, Any] = {name: getattr(worksheet, name) for name in _AMOUNTS}
    kept |= {name: [[each.reason, each.cents] for each in getattr(worksheet, name)] for name in _DEDUCTIONS}
    kept["unanswered"] = list(worksheet.unanswered)
    kept["taxed"] = [
        [*_levy(each.levy), plain_decimal(each.percent), each.taxable_cents, each.due_cents, each.collected_cents]
        for each in worksheet.taxed
    ]
    kept["use_tax"] = [
        [*_levy(each.levy), plain_decimal(each.percent), each.cost_cents, each.tax_cents] for each in worksheet.use_tax
    ]
    if worksheet.before is not None:
        kept["before"] = astuple(worksheet.before)
    return json.dumps(kept, ensure_ascii=False, separators=(",", ":"), sort_keys=True)


def worksheet_from_text(text: str) -> Worksheet:
    kept = json.loads(text)
    fields: dict[str, Any] = {name: kept[name] for name in _AMOUNTS}
    fields |= {name: tuple(Deduction(*each) for each in kept[name]) for name in _DEDUCTIONS}
    return Worksheet(
        **fields,
        unanswered=tuple(kept["unanswered"]),
        taxed=tuple(TaxedAt(Levy(*each[:3]), Decimal(each[3]), *each[4:]) for each in kept["taxed"]),
        use_tax=tuple(UseTaxAt(Levy(*each[:3]), Decimal(each[3]), *each[4:]) for each in kept["use_tax"]),
        before=BeforeBooks(*kept["before"]) if "before" in kept else None,
    )


def worksheet_digest(text: str) -> str:
    """SHA-256 of the text, by which a printed return can be told from another."""
    return hashlib.sha256(text.encode()).hexdigest()


def _levy(levy: Levy) -> list[int | str]:
    return [levy.jurisdiction, levy.name, levy.level]
