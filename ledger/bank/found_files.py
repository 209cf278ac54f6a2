"""Files that a bank may have given: offered where a statement is read, so that nobody has to type where one lies."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from contextlib import suppress
from pathlib import Path

_ENDINGS = (".ofx", ".qfx", ".csv")
_MOST = 20


def files_of_banks(folders: Sequence[Path], most: int = _MOST) -> list[Path]:
    """By their endings, those that lie in the folders themselves; the latest first. What cannot be read is left out."""
    found = sorted((each for folder in folders for each in _files_in(folder)), reverse=True)
    return [path for _, path in found[:most]]


def _files_in(folder: Path) -> Iterator[tuple[float, Path]]:
    """Each with the time of its last change; one that goes away meanwhile is left out alone."""
    for each in _listed(folder):
        with suppress(OSError):
            if each.suffix.casefold() in _ENDINGS and each.is_file():
                yield each.stat().st_mtime, each


def _listed(folder: Path) -> list[Path]:
    try:
        return list(folder.iterdir())
    except OSError:
        return []
