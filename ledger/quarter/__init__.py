"""A period's totals for the accountant, the checks that tie them together, and the questions that are still open."""
