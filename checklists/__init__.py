"""The set-up checklist: its catalogue of items, and the state of each answer. Stands on `ledger.books` and below alone."""
