"""The listing of the checkout tells the story, and nothing of one person's machine gets into it."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from tests.structure.tree import CHECKOUT, files_in, project_files

TOP_LEVEL = {
    "README.md",
    "DEVELOPERS.md",
    "LICENSE",
    "pyproject.toml",
    "constraints.txt",
    "ledger",
    "checklists",
    "tests",
    "demo",
}
# In pieces, so that this file holds none of them.
REGISTRY_HOSTS = re.compile("|".join(["pypi" + r"\.org", "python" + "hosted", "npm" + r"js\.", "deb" + r"ian\.org"]))
SOMEONES_FOLDER = re.compile(
    r"(?<![\w.~-])/(?:" + "|".join(["ho" + "me", "Us" + "ers", "ro" + "ot", "wo" + "rk", "fa" + "rm"]) + r")/"
    r"|(?i:\b[a-z]:\\+us" + r"ers\\)"
)


def test_the_top_level_holds_what_it_should_and_nothing_else() -> None:
    top = {path.parts[0] for path in project_files()}
    assert {name for name in top if not name.startswith(".")} == TOP_LEVEL


def test_no_file_names_a_package_registry_or_a_folder_of_someones_machine() -> None:
    found = [f"{path}: {hit}" for path in project_files() for hit in traces_in(CHECKOUT / path)]
    assert found == []


def test_every_folder_with_python_is_a_package() -> None:
    folders = {path.parent for path in files_in("ledger", "checklists", "tests", "demo")}
    with_parents = {folder for path in folders for folder in [path, *path.parents] if folder != Path(".")}
    assert sorted(str(each) for each in with_parents if not (CHECKOUT / each / "__init__.py").is_file()) == []


def test_the_packages_of_the_tests_are_empty() -> None:
    marks = [path for path in files_in("tests") if path.name == "__init__.py"]
    assert [str(path) for path in marks if (CHECKOUT / path).read_bytes()] == []


@pytest.mark.parametrize(
    "text",
    [
        "see https://pypi" + ".org/simple",
        'path = "/ho' + 'me/ann/books"',
        "/wo" + "rk/books",
        "C:" + "\\Us" + "ers\\ann",
        "c:" + "\\\\us" + "ers\\\\ann",
    ],
)
def test_a_trace_of_a_machine_is_seen(text: str, tmp_path: Path) -> None:
    (tmp_path / "note.txt").write_text(text, encoding="utf-8")
    assert traces_in(tmp_path / "note.txt")


@pytest.mark.parametrize("text", ["https://example.gov/wo" + "rk/rules", "~/ho" + "me/x", "ledger/books", "Debian"])
def test_an_innocent_text_is_let_through(text: str, tmp_path: Path) -> None:
    (tmp_path / "note.txt").write_text(text, encoding="utf-8")
    assert traces_in(tmp_path / "note.txt") == []


def traces_in(path: Path) -> list[str]:
    """The registry hosts and personal folders that a text file names; none for a file that is no text."""
    content = path.read_bytes()
    if b"\0" in content:
        return []
    text = content.decode("utf-8", errors="replace")
    return [hit[0] for pattern in (REGISTRY_HOSTS, SOMEONES_FOLDER) for hit in pattern.finditer(text)]
