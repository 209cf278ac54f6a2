"""What is done in the Quarter, by its forms and by its commands."""

from __future__ import annotations

from tests.screens.case import Case

JANUARY = ("close", "2026-01")
QUARTER_CASES: dict[str, Case] = {
    "close_period": Case("5", JANUARY, {"period": "2026-01"}),
    "reopen_period": Case(
        "5",
        ("reopen", "2026-01", "--why", "a receipt turned up"),
        {"period": "2026-01", "why": "a receipt turned up"},
        first=JANUARY,
    ),
    "ask_question": Case("5", ("question", "add", "Is the frame one asset?"), {"question": "Is the frame one asset?"}),
    "note_answer": Case(
        "5",
        ("question", "answer", "1", "Ask in May.", "--who", "Ann Ledger"),
        {"number": "1", "answer": "Ask in May.", "who": "Ann Ledger"},
    ),
    "count_stock": Case("5", ("stock", "210.55"), {"amount": "200+10.55"}),
    "choose_method": Case(
        "5",
        (
            *("return-method", "--home", "figure", "--figure", "1200", "--cost-of-goods", "yes"),
            *("--sales-tax-laid-on", "seller", "--asked", "Ann Ledger"),
        ),
        {"home": "fig", "figure": "1200", "goods": "y", "tax_laid_on": "s", "asked": "Ann Ledger"},
    ),
}
