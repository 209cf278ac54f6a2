"""The set-up list on paper, by command."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.commands.desk import Desk


@pytest.mark.parametrize("to", [None, "folder of hers"])
def test_the_command_writes_both_files_and_says_where(empty_desk: Desk, tmp_path: Path, to: str | None) -> None:
    empty_desk.data("new", "--name", "Lantern", on="2026-01-05")
    empty_desk.data("setup", "answer", "power", "its own circuit", "--asked", "Mr Ohm")
    folder = tmp_path / to if to else empty_desk.folder / "receipts"
    said = empty_desk.data("setup", "print", *(("--to", str(folder)) if to else ()))
    assert said["pdf"] == str(folder / "set-up-list-2026-02-10.pdf")
    assert Path(said["pdf"]).read_bytes().startswith(b"%PDF-")
    text = Path(said["text"]).read_text(encoding="utf-8")
    assert "Feb 10, 2026, Mr Ohm: done, its own circuit." in text
    assert said["progress"]["done"] == 1
    again = empty_desk.lines("setup", "print", *(("--to", str(folder)) if to else ()))
    assert again.splitlines()[1] == f"For paper: {said['pdf']}"
