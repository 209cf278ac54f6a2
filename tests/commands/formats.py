"""How each value of an answer is written, by its key."""

from __future__ import annotations

PATTERNS = {
    "day": r"\d{4}-\d\d-\d\d",
    "month": r"\d{4}-\d\d",
    "digest": r"[0-9a-f]{64}",
    "amount": r"-?\d+\.\d\d",
    "percent": r"-?\d+\.\d\d",
    "number": r"\d+(\.\d+)?",
    "rate": r"\d+\.\d{2,6}",
    "text": r"(?s).*",
}
# What no answer holds under a key that has no format here: give a new key its format.
FIGURE_OR_DAY = r"-?\d+\.\d+|\d{4}-\d\d(-\d\d)?"
KEYS = {
    "amount": """
        balance business personal amount subtotal discount tax tip total deposit due paid change owed fee cost taken_in
        earned left value highest top_up rush tax_expected total_expected minimum expenses_total net gross taxable
        not_taxed exempt unanswered_amount collected books deposits_received deposits_used certificates_sold
        certificates_used owed_before owed_after cash deposit_back barter charge charge_tax
        tax_claimed difference expected above_cheapest entered
        use_tax sold used taken returned
        payment last_payment interest_total interest principal interest_owed interest_expected lent charged_back payoff
        loan_left basis came_back
        contributed drawn owed_to_owner reported_from business personal above
    """,
    "percent": "percent share from_median use_percent jobs_percent",
    "number": "width length quantity allowance miles",
    "day": "signed used_on given_on date belongs_on taken_on promised start end expires from highest_on since "
    "ready_since sold_on retired_on next_due told_on when paid_by placed",
    "month": "early middle late",
    "digest": "digest head",
    "rate": "rate lowest median mine",
}
# The same key for something else: a folder, a due date, an example; what a rule is about has its own unit beside it.
OTHERWISE = {
    ".books": "text",
    ".items[].value": "text",
    ".items[].due": "day",
    ".items[].answer_example": "text",
    ".fit[].limit": "text",
    ".fit[].fact": "text",
    ".work[].highest": "rate",
}

_FORMATS = {key: kind for kind, keys in KEYS.items() for key in keys.split()}


def format_of(place: str, key: str) -> str | None:
    """Which of PATTERNS a text at that place of an answer keeps to, None where it is free."""
    return OTHERWISE.get(place, _FORMATS.get(key))
