"""The command line as a person meets it: words in, what stands on the two outputs and the exit code out."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest

from ledger.cli import main


@dataclass(frozen=True)
class Said:
    """What a command answered."""

    code: int
    out: str
    err: str

    @property
    def data(self) -> dict[str, Any]:
        """The one JSON object that stands on stdout with nothing beside it."""
        assert self.out.endswith("}\n"), self.out
        assert self.out.count("\n") == 1, self.out
        data = json.loads(self.out)
        assert isinstance(data, dict)
        return data


class Desk:
    """Commands typed in this process, about the books of one folder, on one day unless another is named."""

    def __init__(self, folder: Path, capsys: pytest.CaptureFixture[str], day: str = "2026-02-10") -> None:
        self.folder = folder
        self.day = day
        self._capsys = capsys

    def type(self, *words: str, on: str | None = None) -> Said:
        return self.type_bare("--books", str(self.folder), "--on", on or self.day, *words)

    def type_bare(self, *words: str) -> Said:
        """Exactly these words."""
        self._capsys.readouterr()
        code = main(words)
        captured = self._capsys.readouterr()
        return Said(code, captured.out, captured.err)

    def data(self, *words: str, on: str | None = None) -> dict[str, Any]:
        """The JSON of a command that is carried out, with nothing to complain of."""
        said = self.type(*words, "--json", on=on)
        assert (said.code, said.err) == (0, ""), said
        return said.data

    def lines(self, *words: str, on: str | None = None) -> str:
        """What a person reads of a command that is carried out."""
        said = self.type(*words, on=on)
        assert (said.code, said.err) == (0, ""), said
        return said.out

    def refused(self, *words: str, on: str | None = None) -> dict[str, Any]:
        """What a refusal says, after checking that it is one: 1, two sentences on one line, and nothing written."""
        before = contents(self.folder.parent)
        said = self.type(*words, "--json", on=on)
        refusal = refusal_in(said)
        assert contents(self.folder.parent) == before, "something was written"
        return refusal

    def balances(self, on: str | None = None) -> dict[str, str]:
        return {each["name"]: each["balance"] for each in self.data("chart", on=on)["accounts"]}


def refusal_in(said: Said) -> dict[str, Any]:
    """The refusal in an answer: its sentences stand on stderr, and with the field in the JSON."""
    assert said.code == 1, said
    assert list(said.data) == ["refused"]
    refusal = said.data["refused"]
    assert list(refusal) == ["what", "do", "field"]
    assert said.err == f"{refusal['what']} {refusal['do']}\n"
    assert refusal["what"].endswith("."), refusal
    assert refusal["do"].endswith("."), refusal
    assert refusal["do"][0].isupper() or refusal["do"][0] == "«", refusal
    return dict(refusal)


def contents(folder: Path) -> dict[str, tuple[int, bytes]]:
    """Every file and folder below a folder, with its mode and its bytes."""
    found = {}
    for path in sorted(folder.rglob("*")):
        content = path.read_bytes() if path.is_file() else b""
        found[str(path.relative_to(folder))] = (path.lstat().st_mode, content)
    return found


def program(
    *words: str, environment: dict[str, str] | None = None, script: Sequence[str] = ("-m", "ledger.cli")
) -> Said:
    """The same in a process of its own, in the checkout, with the surroundings of the test and some more variables."""
    finished = subprocess.run(
        [sys.executable, *script, *words],
        cwd=Path(__file__).parents[2],
        env={**os.environ, **(environment or {})},
        capture_output=True,
        encoding="utf-8",
        timeout=60,
        check=False,
    )
    return Said(finished.returncode, finished.stdout, finished.stderr)
