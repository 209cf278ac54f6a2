"""Measure what takes long: `python3 -m tests --bench [NAME]`. Each module here has a `measure` that gives lines.

Nothing is asserted: a figure says how fast this machine was, not whether the program is right.
"""

from __future__ import annotations

import sys
from importlib import import_module
from pathlib import Path


def main(wanted: list[str]) -> int:
    names = sorted(each.stem for each in Path(__file__).parent.glob("*.py") if not each.stem.startswith("__"))
    unknown = [each for each in wanted if each not in names]
    if unknown:
        print(f"There is no benchmark «{unknown[0]}». There are: {', '.join(names)}.", file=sys.stderr)
        return 2
    for name in wanted or names:
        for line in import_module(f"tests.benchmarks.{name}").measure():
            print(f"{name}: {line}", flush=True)
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
