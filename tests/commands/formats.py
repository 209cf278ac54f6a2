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
        use_tax sold used taken returned first_year rest of_year
        tax_due tax_collected rounding over_collected filed_before carried total_due allowance_kept credit first cap
        payment last_payment interest_total interest principal interest_owed interest_expected lent charged_back payoff
        loan_left basis came_back put_in private section_179 bonus
        an_hour a_thousand_square_inches a_month_lately would_do_a_month low planned ahead most_out_of_pocket
        break_even_job loan
        income material monthly_costs loan_payment in_hand
        came_in went_out ending adjusted in_transit_total outstanding_total counted over
        contributed drawn owed_to_owner reported_from business personal above
        profit net_earnings social_security medicare half self_employment additional_medicare income_tax withheld
        by_this_year by_last_year required behind wanted
        sales_tax possible_sales_tax deposits gift_certificates cards due_soon owed_total
        class_5 class_7
        checking cash_box tax_savings card_money money held to_move free_to_draw short
        there not_set_aside year_before total_year_before before_books
    """,
    "percent": "percent then_percent share from_median use_percent jobs_percent late_percent yearly_percent",
    "number": "width length quantity allowance miles jobs hours square_inches",
    "day": "through made_on due_date filed_on signed used_on given_on date belongs_on taken_on promised "
    "start end expires from highest_on since ready_since sold_on retired_on next_due told_on when "
    "paid_by placed kept_on reached_on done_in_week_of opened",
    "month": "early middle late paid_off starts best_month",
    "digest": "digest head picture",
    "rate": "rate lowest median mine break_even_square_inch",
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
    ".tables[].columns": "text",
    ".tables[].rows": "text",
    ".tables[].sums": "text",
    ".counted": "amount",
    ".home_figure": "amount",
    ".period": "text",
    ".late[].goes_to": "text",
    ".sensitivity[].change": "percent",
    ".plans[].sensitivity[].change": "percent",
    ".curve.range[].middle": "amount",
    ".curve.months[].month": "month",
    ".months[].month": "month",
    ".against[].month": "month",
    ".plans[].months[].month": "month",
}

_FORMATS = {key: kind for kind, keys in KEYS.items() for key in keys.split()}


def format_of(place: str, key: str) -> str | None:
    """Which of PATTERNS a text at that place of an answer keeps to, None where it is free."""
    return OTHERWISE.get(place, _FORMATS.get(key))
