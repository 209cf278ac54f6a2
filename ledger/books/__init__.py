"""The books: one folder with one SQLite file whose rows are written once, its documents, its back-ups, its receipts."""
