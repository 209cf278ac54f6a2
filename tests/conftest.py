"""What every test stands on: nothing of the developer's own machine, and the same random examples in every CI run."""

from __future__ import annotations

import os
import tempfile
import time
from collections.abc import Iterator
from pathlib import Path

import hypothesis
import pytest

SURROUNDINGS = dict(os.environ)
FOREIGN_PREFIXES = ("TWOPURSE_", "TEXTUAL", "LC_", "XDG_", "PYTHON")
FOREIGN = {"LANGUAGE", "NO_COLOR", "FORCE_COLOR", "CLICOLOR", "CLICOLOR_FORCE", "COLORTERM"}

hypothesis.settings.register_profile("default", deadline=None)
hypothesis.settings.register_profile("ci", deadline=None, derandomize=True, database=None, print_blob=True)
hypothesis.settings.load_profile("ci" if os.environ.get("CI") else "default")


@pytest.fixture(scope="session")
def homes(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The folder that the empty homes are made in."""
    return tmp_path_factory.mktemp("homes")


@pytest.fixture(autouse=True)
def nobodys_machine(homes: Path) -> Iterator[Path]:
    """An empty home, a plain terminal, American English, UTC; yields the home. Undone after the test."""
    home = Path(tempfile.mkdtemp(dir=homes))
    with pytest.MonkeyPatch.context() as patch:
        for name in list(os.environ):
            if name in FOREIGN or name.startswith(FOREIGN_PREFIXES):
                patch.delenv(name)
        for name, value in surroundings_of(home).items():
            patch.setenv(name, value)
        _take_time_zone()
        yield home
    _take_time_zone()


@pytest.fixture(scope="session")
def outside() -> dict[str, str]:
    """The developer's own surroundings, for the few tests that install packages as the developer would."""
    return SURROUNDINGS


@pytest.fixture(autouse=True)
def umask_as_before() -> Iterator[None]:
    """Opening the books narrows the umask of the whole process; the next test starts with the old one."""
    before = os.umask(0o022)
    yield
    os.umask(before)


def surroundings_of(home: Path) -> dict[str, str]:
    """The variables that every test sees, and every program that it starts."""
    folders = {
        "HOME": "",
        "USERPROFILE": "",
        "APPDATA": "AppData/Roaming",
        "LOCALAPPDATA": "AppData/Local",
        "XDG_CONFIG_HOME": ".config",
        "XDG_DATA_HOME": ".local/share",
        "XDG_STATE_HOME": ".local/state",
        "XDG_CACHE_HOME": ".cache",
        "XDG_RUNTIME_DIR": ".run",
        "XDG_DOCUMENTS_DIR": "Documents",
    }
    terminal = {"TERM": "xterm-256color", "COLUMNS": "80", "LINES": "24"}
    place = {"LANG": "en_US.UTF-8", "LC_ALL": "en_US.UTF-8", "TZ": "UTC"}
    return {**{name: str(home / folder) for name, folder in folders.items()}, **terminal, **place}


def _take_time_zone() -> None:
    if hasattr(time, "tzset"):  # Windows has none, and reads the zone at the start of the process alone
        time.tzset()
