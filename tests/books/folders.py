"""What lies in a folder, to compare before with after."""

from __future__ import annotations

from pathlib import Path


def tree(folder: Path) -> dict[str, bytes]:
    """Every file and folder below, by its path, with what is in it."""
    return {
        path.relative_to(folder).as_posix(): path.read_bytes() if path.is_file() else b"" for path in folder.rglob("*")
    }
