"""Every command, with words that it takes on the sample: those that write to the books, and those that look at them."""

from __future__ import annotations

import shlex
from collections.abc import Iterator
from pathlib import Path

import click

from ledger.cli import twopurse

A_FILE = Path(__file__).as_posix()
A_PLAN = (Path(__file__).parents[1] / "commands" / "worksheets" / "plan.toml").as_posix()
WRITING = {
    "tax rate": "tax rate city 0.5 --from 2026-04-01",
    "tax class": 'tax class other no --asked "revenue office"',
    "tax method": "tax method line",
    "tax period": "tax period quarterly --due-day 20",
    "tax allowance": "tax allowance --percent 2.5",
    "tax basis": 'tax basis payment --asked "revenue office"',
    "tax corrections": 'tax corrections amended --asked "revenue office"',
    "tax below-zero": 'tax below-zero claim --asked "revenue office"',
    "tax holiday": 'tax holiday work --name "A week" --from 2026-08-07 --until 2026-08-09 --asked "revenue office"',
    "tax file": "tax file 2026-01",
    "tax paid": "tax paid 2026-01",
    "tax unfile": 'tax unfile 2026-01 --why "typed twice"',
    "tax use": 'tax use 5.00 --what "a quilt"',
    "tax work-use": 'tax work-use use --asked "revenue office"',
    "tax estimated": "tax estimated 15.00 --from checking",
    "tax income": "tax income --percent 15 --asked Ann",
    "tax last-year": "tax last-year 4000",
    "tax wages": "tax wages 20000 --withheld 500",
    "tax filing-as": "tax filing-as joint",
    "tax settled": "tax settled 2025",
    "set-aside move": "set-aside move 5.00",
    "set-aside due-within": "set-aside due-within 7",
    "tax stock sold": "tax stock sold 5.00",
    "tax stock strike": "tax stock strike 1",
    "tax resale set": 'tax resale set R-1 --asked "revenue office"',
    "tax resale give": "tax resale give Mill",
    "tax resale back": 'tax resale back "Village school"',
    "start-up": "start-up --opened 2026-02-01",
    "price": "price binding --by length --rate 0.30 --class work",
    "customer": 'customer "New one"',
    "job new": 'job new --customer "Ada Brook" --piece P --width 9 --length 9 --value 1 --line edge-to-edge',
    "job in": "job in 3",
    "job ready": "job ready 4",
    "job back": "job back 4",
    "job deposit": "job deposit 4 5.00 --paid check",
    "job pay": "job pay 1 1.00 --paid cash",
    "pickup": "pickup 4 --paid cash",
    "spend": 'spend 3.00 --category thread --from checking --who "Corner shop"',
    "move": 'move 1.00 checking "cash box"',
    "draw": "draw 1.00",
    "put-in": "put-in 1.00",
    "pay-back": "pay-back 1.00",
    "reverse": 'reverse 12 --why "typed twice"',
    "quarter --close": "quarter 2026-02 --close",
    "quarter --reopen": 'quarter 2026-01 --reopen --why "late receipt"',
    "card payout": "card payout 46.80",
    "job deposit-back": "job deposit-back 4 2.00",
    "helper pay": "helper pay Jo 20.00",
    "gift sell": "gift sell 25.00 --paid cash",
    "job add": "job add 4 --line batting",
    "job call-off": "job call-off 4",
    "job notice": 'job notice 4 --how "a call"',
    "job retax": 'job retax 1 --why "the rate was wrong"',
    "job returned-check": "job returned-check 1",
    "job void": 'job void 4 --why "another quilt"',
    "job write-off": 'job write-off 1 --why "moved away"',
    "owed pay": 'owed pay "Ada Brook" 1.00 --paid cash',
    "refund": "refund 2 --paid card",
    "tax bad-debt": 'tax bad-debt no --asked "revenue office"',
    "tax sourcing": 'tax sourcing origin --asked "revenue office"',
    "attach": f"attach {shlex.quote(A_FILE)} --entry 12",
    "bill pay": "bill pay Water 40.00 --from checking",
    "bill set": 'bill set Internet --category "phone and internet" --share 25 --reason R --from 2026-03-20',
    "bring-in": 'bring-in 500.00 --worth 200.00 --what "a table"',
    "category add": "category add Rulers",
    "category bring-back": "category bring-back Other",
    "category merge": "category merge Other travel",
    "category rename": "category rename batting wadding",
    "category retire": "category retire travel",
    "helper form": 'helper form "Corner shop" W-9',
    "household-pays": "household-pays owed",
    "mileage add": 'mileage add 12.5 --where Mill --why "backing"',
    "mileage strike": "mileage strike 1",
    "hours": "hours 1 2.5",
    "plan keep": f"plan keep {shlex.quote(A_PLAN)}",
    "setup answer": 'setup answer second_medium yes --asked "town hall"',
    "setup add": 'setup add "A chair" --stage 1',
    "setup reword": 'setup reword power --title "The socket"',
    "setup move": "setup move power --first",
    "setup hide": "setup hide power",
    "setup show-again": "setup show-again structure",
    "setup seen": "setup seen",
}
# What has to be done first.
BEFORE: dict[str, list[str]] = {
    "tax file": ["tax period monthly --due-day 25 --from 2026-01-01"],
    "tax paid": ["tax period monthly --due-day 25 --from 2026-01-01", "tax file 2026-01"],
    "tax unfile": ["tax period monthly --due-day 25 --from 2026-01-01", "tax file 2026-01"],
    "job void": ["pickup 4 --paid cash"],
    "tax resale give": ['tax resale set R-1 --asked "revenue office"'],
    "tax resale back": ['tax resale set R-1 --asked "revenue office"', 'tax resale give "Village school"'],
    "setup show-again": ["setup hide structure"],
    "job deposit-back": ["job deposit 4 5.00 --paid check"],
    "gift show": ["gift sell 25.00 --paid cash"],
}
LOOKING = {
    "tax worksheet": "tax worksheet 2026-Q1",
    "set-aside show": "set-aside show",
    "set-aside open": "set-aside open owed",
    "tax schedule-se": "tax schedule-se 2026",
    "tax stock list": "tax stock list",
    "tax certificates": "tax certificates",
    "tax resale show": "tax resale show",
    "chart": "chart",
    "entries": "entries",
    "job show": "job show 1",
    "job list": "job list",
    "payback": "payback",
    "plan kept": "plan kept",
    "earnings": "earnings 2026",
    "quarter": "quarter 2026-Q1",
    "setup list": "setup list",
    "setup show": "setup show second_medium",
    "setup print": "setup print",
    "setup fit": "setup fit",
    "setup call-sheet": "setup call-sheet bank",
    "bill list": "bill list",
    "card list": "card list",
    "category list": "category list",
    "crossings": "crossings 2026-Q1",
    "documents": "documents 2026-Q1",
    "helper list": "helper list",
    "mileage list": "mileage list 2026-Q1",
    "gift list": "gift list",
    "gift show": "gift show G-1002-02",
    "job waiting": "job waiting",
    "owed list": "owed list",
    "owed statement": 'owed statement "Ada Brook"',
    "receipt": "receipt 1",
    "quote": "quote 4",
}
# Tried in files of their own: they begin, prove, copy and put back whole folders, or write or read a file outside.
ON_THE_FOLDER = {"new", "prove", "backup", "restore", "setup calendar", "setup prices", "setup machines", "plan show"}


def commands(group: click.Group = twopurse, before: tuple[str, ...] = ()) -> Iterator[str]:
    """The words of every command there is."""
    context = click.Context(group)
    for name in group.list_commands(context):
        command = group.get_command(context, name)
        if isinstance(command, click.Group):
            yield from commands(command, (*before, name))
        else:
            yield " ".join((*before, name))
