"""One job at an invented workshop, from intake to receipt, payback and quarter, by the commands that she would type.

The books are made in a temporary folder, which is named at the end and left for a look.
"""

from __future__ import annotations

import shlex
import sys
import tempfile
from pathlib import Path

from ledger.cli import main as twopurse

# Invented: the workshop, its town, its people and its tax rates.
STEPS = (
    ("The books begin, with a machine that the workshop has already.", "2026-03-02", (
        'new --name "Alder Lane Quilting" --machine-price 18500.00 --machine-date 2026-02-14',
    )),
    ("The rates in force, and what her revenue office told her.", "2026-03-02", (
        "tax rate state 4.3 --from 2026-01-01",
        "tax rate county 1.0 --from 2026-01-01",
        'tax class goods yes --asked "revenue office, Ms. Pell"',
        'tax class work yes --asked "revenue office, Ms. Pell"',
        'tax class delivery no --asked "revenue office, Ms. Pell"',
    )),
    ("Her price list.", "2026-03-02", (
        "price edge-to-edge --by area --rate 0.02 --class work",
        "price batting --by inch --rate 0.35 --class goods",
        "price binding --by length --rate 0.30 --class work",
    )),
    ("A quilt top comes in, with a deposit.", "2026-03-04", (
        'job new --customer "Ada Brook" --piece "Log cabin, blue" --width 56 --length 72 --value 400 '
        "--line edge-to-edge --line batting --line binding --promised 2026-03-20",
        "job deposit 1 50.00 --paid check --number 1021",
        "payback",
    )),
    ("Thread from the corner shop, with something for the kitchen on the same receipt.", "2026-03-07", (
        'spend 31.80 --category thread --from "workshop card" --who "Corner shop" --home 9.30',
    )),
    ("The quilt is finished, and its owner comes for it with 150 in cash.", "2026-03-18", (
        "job ready 1",
        "pickup 1 --paid cash --tendered 150",
    )),
    ("How far is the machine from being paid off?", "2026-03-18", ("payback",)),
    ("What does the accountant get?", "2026-03-31", ("quarter 2026-Q1",)),
    ("Are the books whole?", "2026-03-31", ("prove",)),
)  # fmt: skip


def walk(folder: Path) -> int:
    """Type each command and show its answer; the first exit code that is not 0, or 0."""
    for sentence, day, commands in STEPS:
        print(f"\n{sentence}")
        for command in commands:
            print(f"\n$ twopurse {command}", flush=True)
            code = twopurse([*shlex.split(command), "--on", day, "--books", str(folder)])
            if code:
                return code
    print(f"\nThese books are in {folder}. Look further with, for example:")
    print(f'  twopurse chart --books "{folder}" --on 2026-03-31')
    print("\nThe workshop, its people and its tax rates are invented. Your rates and answers are your own state's.")
    return 0


if __name__ == "__main__":
    named = [each for each in sys.argv[1:] if not each.startswith("-")]
    sys.exit(walk(Path(named[0]) if named else Path(tempfile.mkdtemp(prefix="twopurse-demo-")) / "books"))
