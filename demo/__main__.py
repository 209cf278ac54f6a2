"""`python3 -m demo`: make or refresh .venv, then open the rooms of an invented workshop with two years of books.

`python3 -m demo --walk` prints one job from intake to receipt instead, by commands; so does a demo without a terminal.
`--on 2027-03-01` lets the two years end on another day.
"""

from __future__ import annotations

import sys

from demo import environment


def arguments(given: list[str]) -> list[str]:
    """What the Python inside .venv is called with."""
    in_a_terminal = sys.stdin.isatty() and sys.stdout.isatty()
    if "--walk" in given or not in_a_terminal:
        return ["-m", "demo.walk", *(each for each in given if each != "--walk")]
    return ["-m", "ledger.cli", "--demo", *given]


if __name__ == "__main__":
    if "-h" in sys.argv[1:] or "--help" in sys.argv[1:]:
        print(__doc__)
        sys.exit(0)
    sys.exit(environment.enter(arguments(sys.argv[1:])))
