"""No test sees the machine it runs on, whatever that machine is set to."""

from __future__ import annotations

import os
import subprocess
import sys
import time
from pathlib import Path

import platformdirs
import pytest

from tests.structure.tree import CHECKOUT

HOSTILE = {
    "TWOPURSE_BOOKS": "somewhere",
    "NO_COLOR": "1",
    "TERM": "dumb",
    "COLUMNS": "20",
    "LANG": "de_DE.UTF-8",
    "LC_NUMERIC": "de_DE.UTF-8",
    "TZ": "Asia/Tokyo",
    "XDG_DATA_HOME": "somewhere",
}


def test_home_is_an_empty_folder_of_the_test(nobodys_machine: Path) -> None:
    assert Path.home() == nobodys_machine
    assert list(nobodys_machine.iterdir()) == []


@pytest.mark.skipif(os.name == "nt", reason="Windows tells a program its folders by another way than variables")
def test_the_folders_of_programs_lie_in_that_home(nobodys_machine: Path) -> None:
    assert platformdirs.user_data_path("twopurse").is_relative_to(nobodys_machine)


def test_terminal_language_and_zone_are_always_the_same() -> None:
    seen = {name: os.environ.get(name) for name in [*HOSTILE, "LC_ALL", "LINES"] if name != "XDG_DATA_HOME"}
    assert {name: value for name, value in seen.items() if value is not None} == {
        "TERM": "xterm-256color",
        "COLUMNS": "80",
        "LINES": "24",
        "LANG": "en_US.UTF-8",
        "LC_ALL": "en_US.UTF-8",
        "TZ": "UTC",
    }


@pytest.mark.skipif(not hasattr(time, "tzset"), reason="Windows reads the zone at the start of the process alone")
def test_the_process_itself_has_taken_the_zone() -> None:
    assert time.strftime("%H", time.localtime(0)) == "00"


@pytest.mark.parametrize("narrowed", [0o077, 0o022])
def test_every_test_starts_with_the_same_umask(narrowed: int) -> None:
    assert os.umask(narrowed) == 0o022


def test_all_this_holds_on_a_machine_set_to_something_else() -> None:
    command = [
        sys.executable,
        "-m",
        "pytest",
        "-q",
        "-p",
        "no:cacheprovider",
        "-k",
        "not set_to_something_else",
        __file__,
    ]
    inner = subprocess.run(command, cwd=CHECKOUT, env={**os.environ, **HOSTILE}, capture_output=True, check=False)
    assert inner.returncode == 0, inner.stdout.decode()
