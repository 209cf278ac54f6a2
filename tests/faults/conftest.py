"""The books that faults are tried on are those of tests/books."""

from __future__ import annotations

from tests.books.conftest import begun_folder, books, made_backup, made_beginning, made_sample, sample_folder

__all__ = ["begun_folder", "books", "made_backup", "made_beginning", "made_sample", "sample_folder"]
