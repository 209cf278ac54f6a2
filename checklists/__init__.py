"""The set-up checklist: its catalogue of items and the state of each. Stands on `ledger.books` and below alone."""
