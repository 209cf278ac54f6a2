"""Files that a bank may have given, looked for in a folder of downloads."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from ledger.bank.found_files import files_of_banks


def put(folder: Path, name: str, at: int) -> Path:
    path = folder / name
    path.write_bytes(b"x")
    os.utime(path, (at, at))
    return path


def test_the_latest_stand_first_whatever_the_case_of_their_ending(tmp_path: Path) -> None:
    older, newer = put(tmp_path, "june.ofx", 100), put(tmp_path, "July.CSV", 200)
    put(tmp_path, "photo.jpg", 300)
    (tmp_path / "folder.csv").mkdir()
    assert files_of_banks([tmp_path, tmp_path / "nowhere"]) == [newer, older]
    assert files_of_banks([tmp_path], most=1) == [newer]


@pytest.mark.skipif(os.name == "nt", reason="a link needs a right there")
def test_one_that_is_gone_hides_no_other(tmp_path: Path) -> None:
    kept = [put(tmp_path, f"{n}.ofx", n) for n in range(1, 6)]
    (tmp_path / "3a.ofx").symlink_to(tmp_path / "gone.ofx")
    assert files_of_banks([tmp_path]) == kept[::-1]


def test_one_that_goes_while_the_folder_is_read_hides_no_other(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    kept = [put(tmp_path, f"{n}.ofx", n) for n in range(1, 4)]
    asked = Path.is_file

    def gone_in_between(path: Path) -> bool:
        if path.name == "2.ofx":
            raise PermissionError(path)
        return asked(path)

    monkeypatch.setattr(Path, "is_file", gone_in_between)
    assert files_of_banks([tmp_path]) == [kept[2], kept[0]]
