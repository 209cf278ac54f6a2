"""Every command that stands in the guide or the README is carried out, in the order in which it stands there."""

from __future__ import annotations

import os
import re
import shutil
from collections.abc import Callable
from pathlib import Path

import pytest

from demo.draw_pictures import PICTURES
from ledger.cli import SUBJECTS
from ledger.guide.chapters import CHAPTERS
from tests.commands.desk import Desk
from tests.commands.workshop import WORKSHEETS
from tests.guide.written import commands_in, spans_in, texts
from tests.structure.tree import CHECKOUT

TEXTS = texts()
# What stands before the chapters: books with rates and answers, as the first minutes leave them.
BEGIN = (
    "new --name Alder --opening 5000",
    "tax rate state 4.3 --from 2026-01-02",
    "tax class work yes --asked Office",
    "tax class goods yes --asked Office",
)
FIRST_DAY = "2026-01-02"
# The chapter of a job is carried out first: the others find its sales, on these days.
JOB_DAY = "2026-03-18"
DAYS = {"sales-tax": "2026-04-10", "machine": "2026-04-05", "quarter": "2026-04-05", "README": FIRST_DAY}
STATEMENT = """OFXHEADER:100
DATA:OFXSGML
VERSION:102
SECURITY:NONE
ENCODING:USASCII
CHARSET:1252
COMPRESSION:NONE
OLDFILEUID:NONE
NEWFILEUID:NONE

<OFX><SIGNONMSGSRSV1><SONRS><STATUS><CODE>0<SEVERITY>INFO</STATUS><DTSERVER>20260331<LANGUAGE>ENG</SONRS>
</SIGNONMSGSRSV1><BANKMSGSRSV1><STMTTRNRS><TRNUID>1<STATUS><CODE>0<SEVERITY>INFO</STATUS>
<STMTRS><CURDEF>USD<BANKACCTFROM><BANKID>121099999<ACCTID>4417<ACCTTYPE>CHECKING</BANKACCTFROM>
<BANKTRANLIST><DTSTART>20260301<DTEND>20260318
<STMTTRN><TRNTYPE>DEBIT<DTPOSTED>20260305<TRNAMT>-9.00<FITID>1<NAME>MONTHLY FEE</STMTTRN>
</BANKTRANLIST><LEDGERBAL><BALAMT>4991.00<DTASOF>20260318</LEDGERBAL></STMTRS></STMTTRNRS></BANKMSGSRSV1></OFX>
"""


@pytest.fixture
def files(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder with the files that the commands name, which is where they are typed, and a home below it."""
    folder = tmp_path / "typed"
    folder.mkdir()
    shutil.copytree(CHECKOUT / "demo", folder / "demo", ignore=shutil.ignore_patterns("pictures", "__pycache__"))
    shutil.copy(WORKSHEETS / "plan.toml", folder / "plan.toml")
    (folder / "scan.pdf").write_bytes(b"%PDF-1.4\n%%EOF\n")
    (folder / "statement.ofx").write_text(STATEMENT, encoding="ascii")
    monkeypatch.chdir(folder)
    monkeypatch.setenv("HOME", str(folder))
    return folder


def begin_guide(desk: Desk) -> None:
    for line in BEGIN:
        desk.data(*line.split(), on=FIRST_DAY)


def begin_after_a_job(desk: Desk) -> None:
    begin_guide(desk)
    carry_out(desk, "job", JOB_DAY)


def carry_out(desk: Desk, name: str, day: str) -> None:
    """Type every command of a text, on its own day where it names one."""
    for words in commands_in(TEXTS[name]):
        # As a shell does it.
        typed = [os.path.expanduser(each) if each.startswith("~/") else each for each in words]
        named = [] if "--on" in words or "--help" in words else ["--on", day]
        said = desk.type_bare("--books", str(desk.folder), *named, *typed)
        assert (said.code, said.err) == (0, ""), f"{name}: twopurse {' '.join(words)}\n{said.err}"


@pytest.mark.parametrize("name", [each for each in CHAPTERS if each not in ("job", "commands")])
def test_every_command_of_a_chapter_is_carried_out(name: str, begun: Callable[..., Desk], files: Path) -> None:
    carry_out(begun(begin_after_a_job), name, DAYS.get(name, "2026-03-20"))


def test_every_command_of_the_chapter_on_commands_is_carried_out_from_nothing(empty_desk: Desk, files: Path) -> None:
    carry_out(empty_desk, "commands", FIRST_DAY)


def test_every_command_of_the_readme_is_carried_out_from_nothing(empty_desk: Desk, files: Path) -> None:
    assert commands_in(TEXTS["README"])
    carry_out(empty_desk, "README", DAYS["README"])


def test_every_subject_of_the_command_line_is_told_of_somewhere() -> None:
    told = {words[0] for text in TEXTS.values() for words in commands_in(text) if words}
    assert sorted(set(SUBJECTS) - told) == []


def test_the_commands_of_the_table_in_the_readme_are_there() -> None:
    rows = [line.split("|")[1] for line in TEXTS["README"].splitlines() if line.startswith("| `")]
    named = {each for row in rows for each, _ in spans_in(row)}
    assert named
    assert sorted(named - set(SUBJECTS)) == []


def test_the_pictures_of_the_readme_are_drawn_by_the_script_and_lie_where_it_says() -> None:
    shown = re.findall(r"!\[[^\]]+\]\(demo/pictures/([^)]+)\.svg\)", TEXTS["README"])
    assert len(shown) == TEXTS["README"].count("![") == 4
    assert set(shown) <= {name for name, *_ in PICTURES}
    assert all((CHECKOUT / "demo" / "pictures" / f"{each}.svg").is_file() for each in shown)
