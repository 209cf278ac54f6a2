"""Whose piece a sheet of paper is about, and what it is."""

from __future__ import annotations

from dataclasses import dataclass

from ledger.jobs.job import Job
from ledger.jobs.pricing import Size
from ledger.paper.locales import LocalForms


@dataclass(frozen=True)
class Piece:
    """A job's piece as it is printed."""

    job: int
    customer: str
    what: str
    size: Size


def piece_of(job: Job) -> Piece:
    return Piece(job.id, job.customer.name, job.piece, job.size)


def piece_facts(piece: Piece, forms: LocalForms) -> tuple[tuple[str, str], ...]:
    """Labels and values, for the head of a sheet."""
    size = f"{forms.number(piece.size.width)} × {forms.number(piece.size.length)} {piece.size.units}"
    return (("For", piece.customer), ("Piece", piece.what), ("Size", size))
