"""What the tests about the project itself look at: its files, and the Python in them."""

from __future__ import annotations

import ast
import subprocess
from collections.abc import Iterator
from pathlib import Path

CHECKOUT = Path(__file__).resolve().parents[2]
CODE_FOLDERS = ("ledger", "checklists", "demo", "tests")
MADE_BY_TOOLS = {".git", ".venv", "__pycache__", "dist", "build", "htmlcov"}


def project_files() -> list[Path]:
    """Every file that belongs to the project, relative to the checkout: tracked, or new and not ignored."""
    listed = subprocess.run(
        ["git", "ls-files", "-z", "--cached", "--others", "--exclude-standard"],
        cwd=CHECKOUT,
        capture_output=True,
        check=False,
    )
    if listed.returncode == 0:
        names = sorted(set(listed.stdout.decode("utf-8").split("\0")) - {""})
        return [Path(name) for name in names if (CHECKOUT / name).is_file()]
    return sorted(_unpacked_files())  # a source archive has no history


def _unpacked_files() -> Iterator[Path]:
    for path in CHECKOUT.rglob("*"):
        place = path.relative_to(CHECKOUT)
        hidden_cache = any(part.startswith(".") and part.endswith("cache") for part in place.parts)
        if path.is_file() and not hidden_cache and not MADE_BY_TOOLS.intersection(place.parts):
            yield place


def files_in(*folders: str, suffixes: tuple[str, ...] = (".py",)) -> list[Path]:
    """The project's files under these top folders with these suffixes, relative to the checkout."""
    return [path for path in project_files() if path.parts[0] in folders and path.suffix in suffixes]


def text_of(path: Path) -> str:
    return (CHECKOUT / path).read_text(encoding="utf-8")


def python_of(path: Path) -> ast.Module:
    return ast.parse(text_of(path), filename=str(path))


def functions_of(tree: ast.AST) -> Iterator[ast.FunctionDef | ast.AsyncFunctionDef]:
    return (node for node in ast.walk(tree) if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef))
