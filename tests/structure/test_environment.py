"""The two commands of the README set everything up, on any Python say what is lacking, and name what failed."""

from __future__ import annotations

import ast
import importlib.metadata
import re
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest

from demo import environment
from tests.__main__ import pytest_arguments
from tests.structure.tree import CHECKOUT, project_files, python_of, text_of

READ_BY_ANY_PYTHON = (
    "demo/__init__.py",
    "demo/__main__.py",
    "demo/environment.py",
    "tests/__init__.py",
    "tests/__main__.py",
)
NOT_PINNED = {"pip", "setuptools", "twopurse"}  # the first two come with Python's own venv
PIN = re.compile(r"[a-z0-9]+(?:-[a-z0-9]+)*==\d[\w.]*(?: ; .+)?")


@pytest.mark.parametrize("name", READ_BY_ANY_PYTHON)
def test_what_runs_before_the_version_is_known_is_python_3_8(name: str) -> None:
    ast.parse(text_of(Path(name)), feature_version=(3, 8))


@pytest.mark.parametrize("name", READ_BY_ANY_PYTHON)
def test_what_runs_before_anything_is_installed_imports_the_standard_library_alone(name: str) -> None:
    nodes = list(ast.walk(python_of(Path(name))))
    imported = {alias.name for node in nodes if isinstance(node, ast.Import) for alias in node.names}
    imported |= {node.module or "" for node in nodes if isinstance(node, ast.ImportFrom)}
    assert {module.split(".")[0] for module in imported} <= {*sys.stdlib_module_names, "demo"}


def test_an_older_python_is_told_what_is_needed() -> None:
    problem = environment.version_problem((3, 8))
    assert problem is not None
    assert problem.startswith("Twopurse needs Python 3.11 or newer; this is Python 3.8 (")


@pytest.mark.parametrize("version", [(3, 11), (3, 12), (4, 0)])
def test_a_python_that_will_do_is_told_nothing(version: tuple[int, int]) -> None:
    assert environment.version_problem(version) is None


def test_the_oldest_python_is_the_one_that_the_package_asks_for() -> None:
    project = tomllib.loads(text_of(Path("pyproject.toml")))["project"]
    assert project["requires-python"] == ">=" + ".".join(map(str, environment.OLDEST_PYTHON))


def test_every_constraint_is_an_exact_pin() -> None:
    lines = [line for line in text_of(Path("constraints.txt")).splitlines() if not line.startswith("#")]
    assert [line for line in lines if not PIN.fullmatch(line)] == []
    assert len({line.split("==")[0] for line in lines}) == len(lines)


def test_everything_installed_is_pinned_as_it_is_installed() -> None:
    lines = text_of(Path("constraints.txt")).splitlines()
    pins = dict(line.split(" ;")[0].split("==") for line in lines if "==" in line)
    installed = {plain(found.metadata["Name"]): found.version for found in importlib.metadata.distributions()}
    assert {name: pins.get(name) for name in installed.keys() - NOT_PINNED} == {
        name: version for name, version in installed.items() if name not in NOT_PINNED
    }


def test_nothing_is_done_where_the_set_up_is_still_good(elsewhere: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    python = pretend_set_up({})
    monkeypatch.setattr(environment, "quietly", lambda command: pytest.fail(f"ran {command}"))
    assert environment.ready() == python


@pytest.mark.parametrize("changed", ["python", "base", "folder", "packages"])
def test_a_set_up_for_something_else_is_done_again(
    changed: str, elsewhere: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    pretend_set_up({changed: "another"})
    ran: list[str] = []
    monkeypatch.setattr(environment, "make_venv", lambda: ran.append("venv"))
    monkeypatch.setattr(environment, "install", lambda what, arguments: ran.append("install"))
    environment.ready()
    assert ran == (["install", "install"] if changed == "packages" else ["venv", "install", "install"])
    assert environment.read_stamp() == environment.wanted_stamp()


def test_a_set_up_that_failed_half_way_leaves_no_stamp(elsewhere: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    pretend_set_up({"packages": "another"})
    monkeypatch.setenv("PIP_NO_INDEX", "1")
    monkeypatch.setattr(environment, "venv_python", lambda: Path(sys.executable))
    monkeypatch.setattr(environment, "INSTALLS", (("nothing", ["no-such-package-anywhere"]),))
    with pytest.raises(environment.NotReady):
        environment.ready()
    assert environment.read_stamp() == {}


def test_a_new_pin_makes_the_set_up_out_of_date(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    before = environment.wanted_stamp()
    for name in ("pyproject.toml", "constraints.txt"):
        (tmp_path / name).write_text(text_of(Path(name)), encoding="utf-8")
    monkeypatch.setattr(environment, "CHECKOUT", tmp_path)
    assert environment.wanted_stamp() == before
    with (tmp_path / "constraints.txt").open("a", encoding="utf-8") as pins:
        pins.write("something==1.0\n")
    after = environment.wanted_stamp()
    assert [key for key in before if before[key] != after[key]] == ["packages"]


def test_an_install_is_tried_twice_and_its_failure_named(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv("PIP_NO_INDEX", "1")
    with pytest.raises(environment.NotReady) as failure:
        environment.install("the thing", ["no-such-package-anywhere"])
    assert "Could not install the thing, twice." in str(failure.value)
    assert "No matching distribution found for no-such-package-anywhere" in str(failure.value)
    assert "trying once more" in capsys.readouterr().err


def test_the_reason_of_a_failure_is_kept_and_its_repetitions_are_not() -> None:
    retry = f"WARNING: Retrying (Retry(total=2)) {'x' * 200} Connection error "
    output = f"Looking around\n{retry}0\n{retry}1\nERROR: No matching distribution\n"
    told = environment.last_words(output).splitlines()
    assert told[0].endswith("Connection error 1")
    assert told[1:] == ["  ERROR: No matching distribution"]
    assert max(map(len, told)) <= 202


def test_a_failure_without_an_error_line_is_told_by_its_last_lines() -> None:
    assert environment.last_words("one\n\ntwo\n") == "  one\n  two"


def test_without_ensurepip_and_without_any_pip_one_line_says_what_helps(
    elsewhere: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    lose_ensurepip(monkeypatch)
    monkeypatch.setattr(environment, "pips_elsewhere", list)
    with pytest.raises(environment.NotReady) as failure:
        environment.make_venv()
    assert str(failure.value).splitlines()[-1] == environment.help_without_pip()


@pytest.mark.slow
def test_without_ensurepip_a_pip_from_elsewhere_fills_the_environment(
    elsewhere: Path, monkeypatch: pytest.MonkeyPatch, outside: dict[str, str]
) -> None:
    lose_ensurepip(monkeypatch)
    monkeypatch.setattr(environment, "own_variables", lambda: outside)
    environment.make_venv()
    asked = subprocess.run([environment.venv_python(), "-m", "pip", "--version"], capture_output=True, check=False)
    assert asked.returncode == 0
    assert str(elsewhere).encode() in asked.stdout


def test_the_test_command_hands_its_arguments_to_pytest() -> None:
    assert pytest_arguments(["-x", "tests/books"])[-2:] == ["-x", "tests/books"]
    assert pytest_arguments(["--quick", "-x"])[-3:] == ["-m", "not slow", "-x"]


def test_what_runs_inside_gives_its_exit_code_back() -> None:
    command = [sys.executable, "-m", "demo.environment", "-c", "raise SystemExit(7)"]
    assert subprocess.run(command, cwd=CHECKOUT, capture_output=True, check=False).returncode == 7


def test_the_script_for_ci_can_be_run_and_ends_with_the_test_command() -> None:
    script = Path(".ci/run")
    assert script in project_files()
    staged = subprocess.run(
        ["git", "ls-files", "-s", script], cwd=CHECKOUT, capture_output=True, text=True, check=False
    )
    assert staged.returncode != 0 or staged.stdout.startswith("100755")
    assert text_of(script).splitlines()[-1] == "python3 -m tests"


@pytest.fixture
def elsewhere(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder in which the environment is made instead of the checkout's .venv."""
    folder = tmp_path / "environment"
    monkeypatch.setattr(environment, "FOLDER", folder)
    monkeypatch.setattr(environment, "STAMP", folder / "set-up.json")
    return folder


def pretend_set_up(different: dict[str, str]) -> Path:
    """Make the environment's folder look as after a complete set-up, its stamp as wanted but for what is given."""
    python = environment.venv_python()
    python.parent.mkdir(parents=True)
    python.touch()
    environment.write_stamp({**environment.wanted_stamp(), **different})
    return python


def lose_ensurepip(monkeypatch: pytest.MonkeyPatch) -> None:
    """Make `python -m venv` fail as it does on a Python that came without ensurepip."""
    really = environment.quietly

    def without(command: list[str]) -> subprocess.CompletedProcess[str]:
        if command[1:3] == ["-m", "venv"] and "--without-pip" not in command:
            return subprocess.CompletedProcess(command, 1, "ensurepip is not available\n")
        return really(command)

    monkeypatch.setattr(environment, "quietly", without)


def plain(name: str) -> str:
    """A distribution's name as constraints.txt spells it."""
    return re.sub(r"[-_.]+", "-", name).lower()
