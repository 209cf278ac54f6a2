"""The command line, called in this process, with what it answered."""

from __future__ import annotations

import io
import json
from contextlib import redirect_stderr, redirect_stdout
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from ledger.cli import main


@dataclass(frozen=True)
class Answered:
    """What a command gave back. said: the sentence of a refusal, or what else it wrote to the error stream."""

    code: int
    data: dict[str, Any]
    said: str


def twopurse(folder: Path, on: str, *words: str) -> Answered:
    """One command with --json, on a day."""
    out, errors = io.StringIO(), io.StringIO()
    with redirect_stdout(out), redirect_stderr(errors):
        code = main([*words, "--books", str(folder), "--on", on, "--json"])
    printed = out.getvalue()
    return Answered(code, json.loads(printed) if printed.startswith("{") else {}, errors.getvalue().strip())


def done(folder: Path, on: str, *words: str) -> dict[str, Any]:
    """The answer of a command that is done."""
    answered = twopurse(folder, on, *words)
    assert answered.code == 0, f"twopurse {' '.join(words)}: {answered.code} {answered.said}"
    return answered.data
