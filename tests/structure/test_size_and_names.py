"""A function fits a screen, a file has one subject, and no name stands for everything and nothing."""

from __future__ import annotations

import ast
from pathlib import Path

import pytest

from tests.structure.tree import CODE_FOLDERS, files_in, functions_of, python_of, text_of

LONGEST_FUNCTION_LINES = 40
LONGEST_FILE_LINES = 400
WRITTEN_BY_HAND = (".py", ".sql", ".tcss")
NAMES_THAT_SAY_NOTHING = ("util", "utils", "helper", "helpers", "manager", "managers", "common", "misc")


def test_no_function_is_longer_than_a_screen() -> None:
    too_long = [
        f"{path}:{function.lineno} {function.name} has {lines} lines"
        for path in files_in(*CODE_FOLDERS)
        for function in functions_of(python_of(path))
        if (lines := function_lines(function, text_of(path))) > LONGEST_FUNCTION_LINES
    ]
    assert too_long == []


def test_no_file_is_longer_than_one_subject_needs() -> None:
    too_long = [
        f"{path} has {lines} lines"
        for path in files_in(*CODE_FOLDERS, suffixes=WRITTEN_BY_HAND)
        if (lines := len(text_of(path).splitlines())) > LONGEST_FILE_LINES
    ]
    assert too_long == []


def test_no_module_folder_or_function_has_a_name_that_says_nothing() -> None:
    paths = files_in(*CODE_FOLDERS)
    places = {part for path in paths for part in (*path.parent.parts, path.stem)}
    functions = {f"{function.name} in {path}" for path in paths for function in functions_of(python_of(path))}
    assert sorted(name for name in places | functions if says_nothing(name.split(" ")[0])) == []


@pytest.mark.parametrize(
    ("source", "lines"),
    [
        ("def f():\n    return 1\n", 2),
        ("def f(\n    a,\n    b,\n):\n    # why\n    return a\n", 6),
        ('def f():\n    """One.\n\n    Two.\n    """\n\n    a = 1\n\n    return a\n', 3),
        ("@g\n@h\ndef f():\n    return 1\n", 4),
        ('def f():\n    return """\n\n\n"""\n', 5),
    ],
)
def test_code_and_comments_count_but_docstring_and_blank_lines_do_not(source: str, lines: int) -> None:
    assert function_lines(next(functions_of(ast.parse(source))), source) == lines


@pytest.mark.parametrize("name", ["utils", "_helpers", "test_utils", "job_manager", "Misc"])
def test_a_name_that_says_nothing_is_seen(name: str) -> None:
    assert says_nothing(name)


@pytest.mark.parametrize("name", ["common_practice", "contextmanager", "money"])
def test_a_name_that_says_something_is_let_through(name: str) -> None:
    assert not says_nothing(name)


def function_lines(function: ast.FunctionDef | ast.AsyncFunctionDef, source: str) -> int:
    """Lines of a function with its decorators, signature and comments, without docstring and blank lines of code."""
    first = min([function.lineno, *(decorator.lineno for decorator in function.decorator_list)])
    lines = source.splitlines()[first - 1 : function.end_lineno]
    skipped = {number for number, line in enumerate(lines, first) if not line.strip()} - lines_in_text(function)
    if ast.get_docstring(function, clean=False) is not None:
        docstring = function.body[0]
        skipped |= set(range(docstring.lineno, (docstring.end_lineno or docstring.lineno) + 1))
    return len(lines) - len(skipped)


def lines_in_text(function: ast.AST) -> set[int]:
    """The lines that lie inside a string: a blank one there is part of the code."""
    texts = (node for node in ast.walk(function) if isinstance(node, ast.Constant) and isinstance(node.value, str))
    return {number for text in texts for number in range(text.lineno, (text.end_lineno or text.lineno) + 1)}


def says_nothing(name: str) -> bool:
    bare = Path(name).stem.lower().strip("_").removeprefix("test_")
    return bare in NAMES_THAT_SAY_NOTHING or bare.endswith(tuple(f"_{word}" for word in NAMES_THAT_SAY_NOTHING))
