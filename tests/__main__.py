"""`python3 -m tests [--quick | --bench] [arguments for pytest]`: make or refresh .venv, then run the tests inside it.

--quick leaves out the tests marked slow. Whatever else is given goes to pytest as it is: a path, -k NAME, -x, -n 0.
--bench [NAME] measures what takes long, and tests nothing.
"""

from __future__ import annotations

import sys

from demo import environment

# Two workers: the tests that start programs of their own gain nothing from more on a small machine.
SPREAD = ["-n", "2", "--dist", "worksteal"]


def pytest_arguments(given: list[str]) -> list[str]:
    """What pytest is called with; what was given stands last, so that it wins."""
    quick = ["-m", "not slow"] if "--quick" in given else []
    return [*SPREAD, *quick, *(argument for argument in given if argument != "--quick")]


def main(given: list[str]) -> int:
    if "-h" in given or "--help" in given:
        print(__doc__)
        return 0
    if "--bench" in given:
        return environment.enter(["-m", "tests.benchmarks", *(each for each in given if each != "--bench")])
    return environment.enter(["-m", "pytest", *pytest_arguments(given)])


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
