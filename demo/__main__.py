"""`python3 -m demo [arguments]`: make or refresh .venv, then take the walk inside it."""

from __future__ import annotations

import sys

from demo import environment

if __name__ == "__main__":
    sys.exit(environment.enter(["-m", "demo.walk", *sys.argv[1:]]))
