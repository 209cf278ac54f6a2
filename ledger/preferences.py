"""What she prefers, whatever books are open: one small file in her own folder for settings."""

from __future__ import annotations

import json
from contextlib import suppress
from pathlib import Path

from ledger.errors import NotPossible

# A preference is a word; a file longer than this is none of ours.
_MOST_BYTES = 10_000


def preferences_file() -> Path:
    """Where the file lies, whether or not it is there."""
    from platformdirs import user_config_path  # 3 ms, not where no preference is asked for

    return user_config_path("twopurse", appauthor=False) / "preferences.json"


def read_preference(name: str) -> str | None:
    """What was chosen, None where nothing was, or where the file cannot be read: then what is usual stands."""
    found = _read_all().get(name)
    return found if isinstance(found, str) else None


def keep_preference(name: str, value: str) -> None:
    """Keep a choice for the next start. Raises NotPossible where the disk does not take it."""
    file = preferences_file()
    beside = file.with_suffix(".new")
    chosen = {**_read_all(), name: value}
    try:
        file.parent.mkdir(parents=True, exist_ok=True)
        beside.write_text(json.dumps(chosen, ensure_ascii=False, indent=1, sort_keys=True) + "\n", encoding="utf-8")
        beside.replace(file)
    except (OSError, ValueError) as error:
        with suppress(OSError):
            beside.unlink()
        reason = error.strerror if isinstance(error, OSError) else "it cannot be written as text"
        raise NotPossible(
            f"This cannot be kept for the next start ({reason}).", f"Look who may write to {file}.", "preferences"
        ) from None


def _read_all() -> dict[str, object]:
    try:
        with preferences_file().open("rb") as file:
            found = json.loads(file.read(_MOST_BYTES))
    except (OSError, ValueError, RecursionError):
        return {}
    return found if isinstance(found, dict) else {}
