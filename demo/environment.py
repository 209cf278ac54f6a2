"""Makes .venv in the checkout, with what `python3 -m demo` and `python3 -m tests` need, and runs things inside it.

Standard library only, and the syntax of Python 3.8: an older Python must be able to read this file and say what it
lacks.
"""

from __future__ import annotations

import hashlib
import json
import os
import platform
import shutil
import signal
import subprocess
import sys
from pathlib import Path

OLDEST_PYTHON = (3, 11)
CHECKOUT = Path(__file__).resolve().parent.parent
FOLDER = CHECKOUT / ".venv"
STAMP = FOLDER / "set-up.json"
# hatchling stands first because the second step builds without isolation: nothing outside the constraints takes part.
INSTALLS = (
    ("the build tool", ["hatchling"]),
    ("Twopurse and the packages it stands on", ["--no-build-isolation", "--editable", ".[dev]"]),
)


class NotReady(Exception):
    """The environment could not be made. The text says what failed and what to do."""


def enter(arguments: list[str]) -> int:
    """Make or refresh .venv, then run its Python with these arguments in the checkout; returns the exit code."""
    try:
        python = ready()
    except NotReady as problem:
        say(str(problem))
        return 1
    except OSError as problem:
        say(f"Could not make {FOLDER}: {problem}.")
        return 1
    except KeyboardInterrupt:
        say("Stopped before everything was installed. The same command starts again.")
        return 130
    command = [str(python), *arguments]
    os.chdir(str(CHECKOUT))
    sys.stdout.flush()
    sys.stderr.flush()
    if os.name != "nt":
        os.execve(command[0], command, own_variables())
    # Windows has no exec that keeps the console: wait, and leave Ctrl+C to the child.
    child = subprocess.Popen(command, env=own_variables())
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    return child.wait()


def ready() -> Path:
    """The path of .venv's Python, once everything is installed in it. Raises NotReady."""
    lacking = version_problem(sys.version_info[:2])
    if lacking:
        raise NotReady(lacking)
    wanted, found = wanted_stamp(), read_stamp()
    if found == wanted and venv_python().exists():
        return venv_python()
    same_place = {**found, "packages": ""} == {**wanted, "packages": ""}
    STAMP.unlink(missing_ok=True)  # until the last step is done there is no valid stamp
    if not (same_place and venv_python().exists()) and Path(sys.prefix).resolve() != FOLDER:
        say(f"Making .venv with Python {platform.python_version()}.")
        make_venv()
    for what, arguments in INSTALLS:
        say(f"Installing {what}.")
        install(what, arguments)
    write_stamp(wanted)
    return venv_python()


def version_problem(version: tuple[int, ...]) -> str | None:
    """None if this version of Python will do, else the sentences that say what is needed."""
    if tuple(version) >= OLDEST_PYTHON:
        return None
    needed, this = ".".join(map(str, OLDEST_PYTHON)), ".".join(map(str, version))
    problem = f"Twopurse needs Python {needed} or newer; this is Python {this} ({sys.executable})."
    for name in (f"python3.{minor}" for minor in range(20, OLDEST_PYTHON[1] - 1, -1)):
        # found is not enough: a version switcher puts names on the path that do not run
        if shutil.which(name) and quietly([name, "-c", ""]).returncode == 0:
            return f"{problem}\nThis machine has {name}: use that in place of python3."
    return f"{problem}\nInstall a newer Python, then run the same command with it."


def wanted_stamp() -> dict[str, str]:
    """What .venv has to agree with: this Python, this folder, and the packages that the project asks for."""
    import tomllib  # not in Python before 3.11

    project = tomllib.loads((CHECKOUT / "pyproject.toml").read_text(encoding="utf-8"))
    asked = {key: project.get(key) for key in ("build-system", "project")}
    asked["hatch"] = project.get("tool", {}).get("hatch")
    pins = (CHECKOUT / "constraints.txt").read_text(encoding="utf-8")
    text = json.dumps([asked, pins, INSTALLS], sort_keys=True)
    return {
        "python": f"{platform.python_implementation()} {platform.python_version()} {platform.machine()}",
        "base": os.path.realpath(sys.base_prefix),
        "folder": str(FOLDER),
        "packages": hashlib.sha256(text.encode("utf-8")).hexdigest(),
    }


def read_stamp() -> dict[str, str]:
    """The stamp of the last complete set-up, empty if there is none or it cannot be read."""
    try:
        found = json.loads(STAMP.read_text(encoding="utf-8"))
    except (OSError, ValueError):
        return {}
    return found if isinstance(found, dict) else {}


def write_stamp(stamp: dict[str, str]) -> None:
    """Leave the mark of a complete set-up."""
    STAMP.write_text(json.dumps(stamp, indent=1), encoding="utf-8")


def venv_python() -> Path:
    """Where .venv keeps its Python on this system."""
    return FOLDER / "Scripts" / "python.exe" if os.name == "nt" else FOLDER / "bin" / "python"


def make_venv() -> None:
    """Make .venv from nothing, with a pip in it. Raises NotReady."""
    if quietly([sys.executable, "-m", "venv", "--clear", str(FOLDER)]).returncode == 0:
        return
    # Debian ships ensurepip apart from Python, but any pip can install into a folder that has none.
    bare = quietly([sys.executable, "-m", "venv", "--clear", "--without-pip", str(FOLDER)])
    if bare.returncode != 0:
        helps = help_without_pip() if "No module named" in bare.stdout else "Look at that, then run the command again."
        raise NotReady(f"Could not make {FOLDER}.\n{last_words(bare.stdout)}\n{helps}")
    said = "No pip was found on this machine."
    for pip in pips_elsewhere():
        borrowed = quietly([*pip, "--python", str(venv_python()), "install", "pip"])
        if borrowed.returncode == 0:
            return
        said = last_words(borrowed.stdout)
    raise NotReady(f"Could not put pip into {FOLDER}.\n{said}\n{help_without_pip()}")


def pips_elsewhere() -> list[list[str]]:
    """The commands by which some pip of this machine may be reached, the likeliest first."""
    commands = [[sys.executable, "-m", "pip"]]
    named = [shutil.which(name) for name in (f"pip3.{sys.version_info[1]}", "pip3", "pip")]
    commands += [[path] for path in named if path]
    return [command for command in commands if quietly([*command, "--version"]).returncode == 0]


def help_without_pip() -> str:
    """The one line that helps where a Python came without ensurepip and no pip is to be had."""
    if Path("/etc/debian_version").exists():
        return f"This helps: sudo apt install python3.{sys.version_info[1]}-venv (then the same command again)"
    return "Install the venv and pip packages that belong to this Python, then run the same command again."


def install(what: str, arguments: list[str]) -> None:
    """Install into .venv under the constraints, trying twice. Raises NotReady, naming what failed."""
    pip = [str(venv_python()), "-m", "pip", "install", "--quiet", "--constraint", "constraints.txt"]
    if quietly([*pip, *arguments]).returncode == 0:
        return
    say("That did not work; trying once more.")
    second = quietly([*pip, *arguments])
    if second.returncode != 0:
        raise NotReady(
            f"Could not install {what}, twice. pip says:\n{last_words(second.stdout)}\n"
            "Look at the connection to the package index, then run the same command again."
        )


def last_words(output: str) -> str:
    """What a failed command gave as its reason: its error lines, or else its last ones."""
    lines = [line.strip() for line in output.splitlines() if line.strip()]
    errors = [line for line in lines if "error" in line.lower()]
    retries = [line for line in errors if "Retrying (" in line]
    telling = [line for line in errors if line not in retries[:-1]] or lines
    # the reason stands at the end of a long line
    return "\n".join("  " + (line if len(line) <= 200 else "..." + line[-197:]) for line in telling[-5:])


def quietly(command: list[str]) -> subprocess.CompletedProcess[str]:
    """Run a command in the checkout, keeping all that it prints."""
    return subprocess.run(
        command,
        cwd=str(CHECKOUT),
        env={**own_variables(), "PIP_USER": "0", "PIP_NO_INPUT": "1", "PIP_DISABLE_PIP_VERSION_CHECK": "1"},
        stdin=subprocess.DEVNULL,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        encoding="utf-8",
        errors="replace",
    )


def own_variables() -> dict[str, str]:
    """The surroundings without the variables that would bring another Python's packages in."""
    foreign = ("PYTHONPATH", "PYTHONHOME", "__PYVENV_LAUNCHER__")
    return {name: value for name, value in os.environ.items() if name not in foreign}


def say(line: str) -> None:
    print(line, file=sys.stderr, flush=True)


if __name__ == "__main__":
    sys.exit(enter(sys.argv[1:] or ["-c", ""]))  # `python3 -m demo.environment -m mypy` runs a tool of .venv
