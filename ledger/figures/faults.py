"""What can be wrong in a file of figures, and the one error that names all of it."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any, Final

from ledger.errors import Refused
from ledger.text import shown

MISSING: Final = "is missing"

_HEADER = re.compile(r"\s*\[+\s*\w+\.(\w+)")
_SYNTAX_PROBLEM = re.compile(r"(.*) \(at line ([0-9]+), column [0-9]+\)")
_MOST_SYNTAX_FAULTS = 20


@dataclass(frozen=True)
class Fault:
    """What is wrong, and where: the file, the figure, which of its tables (0: none in particular), the key."""

    file: str
    figure: str
    table: int
    key: str
    what: str

    def __str__(self) -> str:
        figure = f"{self.figure} no. {self.table}" if self.table else self.figure
        return ", ".join(part for part in (self.file, figure, self.key) if part) + f": {self.what}"


class FiguresNotUsable(Refused):
    """The files of published figures have faults; `faults` holds every one."""

    def __init__(self, faults: Iterable[Fault]) -> None:
        self.faults = tuple(faults)
        listed = "; ".join(str(fault) for fault in self.faults)
        super().__init__(f"The published figures cannot be used: {listed}.", "Correct these files in ledger/figures.")


def parse_toml(file: str, text: str) -> tuple[dict[str, Any], list[Fault]]:
    """The content of a TOML file, with what is wrong in its grammar.

    A line that cannot stand, such as a key given twice, is named and passed over, so that the rest shows its faults
    in the same run. Where it is the head of a table, the whole table is passed over.
    """
    import tomllib  # 30 ms, only where a figure is asked for

    faults: list[Fault] = []
    lines = text.split("\n")
    for _ in range(_MOST_SYNTAX_FAULTS):
        try:
            return tomllib.loads("\n".join(lines)), faults
        except tomllib.TOMLDecodeError as error:
            found = _SYNTAX_PROBLEM.fullmatch(str(error))
            if found is None:
                return {}, [*faults, Fault(file, "", 0, "", f"this is no TOML: {error}")]
            place = int(found[2]) - 1
            faults.append(_fault_of_line(file, lines, place, found[1]))
            _pass_over(lines, place)
    return {}, [*faults, Fault(file, "", 0, "", "the rest was not read")]


def _pass_over(lines: list[str], place: int) -> None:
    is_head = lines[place].lstrip().startswith("[")
    lines[place] = ""
    # Under no head its keys would be taken for those of the table before.
    while is_head and place + 1 < len(lines) and not lines[place + 1].lstrip().startswith("["):
        place += 1
        lines[place] = ""


def _fault_of_line(file: str, lines: list[str], place: int, problem: str) -> Fault:
    headers = [header[1] for header in map(_HEADER.match, lines[: place + 1]) if header]
    key = shown(lines[place].partition("=")[0].strip()[:40])
    twice = "overwrite" in problem or "Duplicate" in problem
    what = f"line {place + 1} " + ("gives a key a second time" if twice else f"is no TOML ({problem})")
    return Fault(file, headers[-1] if headers else "", 0, key, what)
