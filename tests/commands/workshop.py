"""The workshop that the commands are tried on: begun by commands, and one working line for every command there is."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import click

from ledger.cli import twopurse
from tests.commands.desk import Desk

WORKSHEETS = Path(__file__).parent / "worksheets"
FIRST_DAY = "2026-01-05"
DAY = "2026-02-10"

RULES = (
    "new --name Lantern --machine-price 18500.00",
    "tax rate state 4.3 --from 2026-01-01",
    "tax rate county 1.0 --from 2026-01-01",
    "tax class goods yes --asked Office",
    "tax class work yes --asked Office",
    "tax class delivery no --asked Office",
    "price edge-to-edge --by area --rate 0.02 --class work",
    "price batting --by inch --rate 0.35 --class goods",
    "price binding --by length --rate 0.30 --class work",
)
QUILT = ("--width", "56", "--length", "72", "--value", "400")
WALK_THROUGH_JOB = (
    *("job", "new", "--customer", "Ada Brook", "--piece", "Log cabin", *QUILT),
    *("--line", "edge-to-edge", "--line", "batting", "--line", "binding"),
)

# Jobs: 1 in hand with a deposit, 2 gone and owed, 3 booked, 4 ready, 5 booked with a deposit, 6 and 7 gone and owed, 7
# of a guild whose certificate was shown late. Entries: 1 the machine, 2 the deposit of job 1, 3 the pickup of job 2, 4
# a receipt that the household paid and is owed back, 5 the deposit of job 5, 6 and 7 pickups, 8 a gift certificate, 9
# untaxed batting.
LATE_CERTIFICATE = ("--from", "2026-01-01", "--expires", "2026-01-31")
AT_WORK = (
    WALK_THROUGH_JOB,
    ("job", "deposit", "1", "50.00", "--paid", "check", "--number", "1021"),
    ("job", "new", "--customer", "Ben Okoro", "--piece", "Star", *QUILT, "--line", "binding"),
    ("pickup", "2", "--paid", "owed"),
    ("job", "new", "--customer", "Cara", "--piece", "Fan", *QUILT, "--line", "batting", "--status", "booked"),
    ("job", "new", "--customer", "Cara", "--piece", "Vest", *QUILT, "--line", "binding=12.5"),
    ("job", "ready", "4"),
    ("spend", "21.06", "--category", "thread", "--from", "personal card", "--who", "Corner shop", "--owed"),
    (
        *("bill", "heat", "--category", "home cost", "--of-the-home", "--share", "9"),
        *("--reason", "floor", "--from", FIRST_DAY),
    ),
    ("mileage", "12.4", "--where", "The mill", "--why", "Thread"),
    ("job", "new", "--customer", "Dee", "--piece", "Bag", *QUILT, "--line", "binding=12.5", "--status", "booked"),
    ("job", "deposit", "5", "20.00", "--paid", "check", "--number", "77"),
    ("job", "new", "--customer", "Dee", "--piece", "Pouch", *QUILT, "--line", "binding=12.5"),
    ("pickup", "6", "--paid", "owed"),
    ("job", "new", "--customer", "Oak Guild", "--piece", "Banner", *QUILT, "--line", "binding=100"),
    ("pickup", "7", "--paid", "owed"),
    ("customer", "Oak Guild", "--exempt", "charity", "--certificate", "O-1", *LATE_CERTIFICATE),
    ("gift", "sell", "100.00", "--paid", "card", "--who", "Eli"),
    ("spend", "30.00", "--category", "batting", "--from", "workshop card", "--who", "Mill", "--untaxed"),
    ("tax", "stock", "sold", "4.00"),
    ("tax", "resale", "set", "R-1", "--asked", "Office", "--state", "Kansas", "--expires", "2026-12-31"),
    ("tax", "resale", "give", "Mill"),
    # Filing periods cut short, so that one without sales is filed and another one is over.
    ("tax", "period", "monthly", "--due-day", "25", "--from", "2026-01-01"),
    ("tax", "period", "quarterly", "--due-day", "25", "--from", "2026-01-07"),
    ("tax", "period", "monthly", "--due-day", "25", "--from", "2026-01-10"),
    ("tax", "file", "2026-01-01..2026-01-06"),
    ("tax", "file", "2026-01-07..2026-01-09"),
    ("statement", "read", str(WORKSHEETS / "january.csv"), "--account", "checking"),
    ("statement", "place", "4", "--later"),
    ("setup", "hide", "second_medium"),
    ("plan", "keep", str(WORKSHEETS / "plan.toml")),
    ("machine", "cost", "120.00", "--what", "A class on the machine", "--kind", "training", "--placed", FIRST_DAY),
    ("machine", "loan", "--amount", "10000", "--percent", "8", "--months", "60", "--first", "2026-03-05"),
    (
        "setup",
        "answer",
        "business_account",
        "County Bank, ending 4417",
        "--asked",
        "The bank",
        "--expires",
        "2027-01-11",
    ),
    ("close", "2026-01-05..2026-01-05"),
)

# For each command a line that is carried out in the workshop above. FOLDER is where its books lie, WORKSHEETS a folder
# beside this file.
WORKING_LINES: dict[str, tuple[str, ...]] = {
    "new": ("--name", "Other", "--books", "FOLDER/other"),
    "chart": (),
    "colours": (),
    "entries": (),
    "prove": (),
    "backup": (),
    "restore": ("FOLDER/before.zip",),
    "tax rate": ("city", "0.5", "--from", "2026-03-01"),
    "tax class": ("other", "no", "--asked", "Office"),
    "tax sourcing": ("destination", "--asked", "Office"),
    "tax bad-debt": ("yes", "--asked", "Office"),
    "tax method": ("line",),
    "tax period": ("quarterly", "--due-day", "25"),
    "tax allowance": ("--percent", "2.5", "--first", "1200", "--then", "1", "--cap", "30"),
    "tax basis": ("payment", "--asked", "Office"),
    "tax corrections": ("amended", "--asked", "Office"),
    "tax below-zero": ("claim", "--asked", "Office"),
    "tax holiday": (
        *("goods", "--name", "School week", "--from", "2026-08-07", "--until", "2026-08-09"),
        *("--percent", "0", "--of", "state", "--asked", "Office"),
    ),
    "tax worksheet": (),
    "tax unfile": ("2026-01-07..2026-01-09", "--why", "typed twice"),
    "tax paid": ("2026-01-01..2026-01-06", "--amount", "5.00"),
    "tax use": ("5.00", "--what", "a quilt of her own"),
    "tax work-use": ("resale", "--asked", "Office"),
    "tax estimated": ("15.00", "--from", "checking"),
    "tax income": ("--percent", "15", "--asked", "Ann"),
    "tax last-year": ("4000",),
    "tax wages": ("20000", "--withheld", "500"),
    "tax filing-as": ("joint",),
    "tax settled": ("2025",),
    "tax schedule-se": (),
    "set-aside show": (),
    "set-aside ahead": (),
    "set-aside open": ("owed",),
    "set-aside move": ("5.00",),
    "set-aside due-within": ("7",),
    "tax stock list": (),
    "tax stock sold": ("5.00",),
    "tax stock strike": ("1",),
    "tax certificates": (),
    "tax resale show": (),
    "tax resale set": ("R-2", "--asked", "Office"),
    "tax resale give": ("Corner shop",),
    "tax resale back": ("Mill",),
    "price": ("ruler work", "--by", "hour", "--rate", "30", "--class", "work"),
    "customer keep": ("Dora",),
    "customer list": (),
    "find": ("brook",),
    "job new": (*WALK_THROUGH_JOB[2:],),
    "job list": (),
    "job show": ("1",),
    "job in": ("3",),
    "job ready": ("1",),
    "quote": ("1",),
    "intake": ("1",),
    "letterhead": ("--line", "14 Alder Lane"),
    "job notice": ("4", "--how", "telephone"),
    "job waiting": (),
    "job back": ("4",),
    "job deposit": ("1", "10.00", "--paid", "cash"),
    "job pay": ("2", "10.00", "--paid", "cash"),
    "pickup": ("1", "--paid", "cash"),
    "spend": ("5.30", "--category", "thread", "--from", "checking", "--who", "Corner shop"),
    "move": ("5.00", "checking", "cash box"),
    "draw": ("5.00",),
    "put-in": ("5.00",),
    "let-go": ("5.00",),
    "pay-back": (),
    "reverse": ("4", "--why", "entered twice"),
    "machine cost": ("500.00", "--what", "A table", "--kind", "table", "--from", "checking"),
    "machine sell": ("7000.00",),
    "machine add": ("Second",),
    "machine share": ("90", "--reason", "hours", "--from", FIRST_DAY),
    "machine list": (),
    "machine strike": ("2",),
    "machine loan": ("--amount", "1000.00", "--percent", "6", "--months", "12", "--first", "2026-03-05"),
    "machine pay": ("202.76", "--loan", "1"),
    "machine skip": ("--loan", "1"),
    "machine rate": ("7.5", "--loan", "1"),
    "machine payoff": ("--loan", "1"),
    "machine schedule": ("--loan", "1"),
    "machine memo": (),
    "machine return": (),
    "depreciation": ("8000.00", "--class", "7", "--placed", "2026-03-14"),
    "payback": (),
    "by-month": (),
    "by-category": ("2026-01",),
    "plan show": ("WORKSHEETS/plan.toml",),
    "plan keep": ("WORKSHEETS/plan.toml",),
    "plan kept": (),
    "earnings": (),
    "hours": ("2", "2.5"),
    "quarter": (),
    "packet": ("2026-01", "--to", "FOLDER/packets"),
    "close": ("2026-01",),
    "reopen": ("2026-01-05..2026-01-05", "--why", "A receipt turned up"),
    "question add": ("Is the frame one asset with the machine?",),
    "question answer": ("1", "Yes.", "--who", "Ann Ledger"),
    "question list": (),
    "stock": ("210.55",),
    "return-method": ("--cost-of-goods", "yes", "--asked", "Ann Ledger"),
    "report profit-and-loss": ("2026-01",),
    "report balance-sheet": (),
    "report trial-balance": (),
    "report form-lines": (),
    "report customer": ("Ben Okoro",),
    "receipt": ("2",),
    "job add": ("5", "--line", "binding=2"),
    "job deposit-back": ("5", "5.00", "--paid", "cash"),
    "job returned-check": ("5", "--fee", "12.00", "--charge", "25.00"),
    "job call-off": ("5", "--deposit", "returned"),
    "job void": ("6", "--why", "the wrong piece"),
    "refund": ("7", "--amount", "5.00", "--paid", "owed"),
    "job retax": ("7", "--why", "the certificate came late"),
    "owed list": (),
    "owed pay": ("Oak Guild", "1.00", "--paid", "cash"),
    "owed statement": ("Oak Guild",),
    "job write-off": ("7", "--why", "moved away"),
    "gift sell": ("50.00", "--paid", "cash"),
    "gift list": (),
    "gift show": ("G-1001-05",),
    "card list": (),
    "card payout": ("97.00",),
    "bill set": ("internet", "--category", "insurance", "--share", "25", "--reason", "hours", "--from", FIRST_DAY),
    "bill pay": ("heat", "80.00", "--from", "checking"),
    "bill list": (),
    "mileage add": ("3", "--where", "The post office", "--why", "A parcel"),
    "mileage list": (),
    "mileage strike": ("1",),
    "category list": (),
    "category add": ("rulers",),
    "category rename": ("thread", "threads"),
    "category merge": ("travel", "meals"),
    "category retire": ("meals",),
    "category bring-back": ("meals",),
    "attach": (__file__, "--entry", "1"),
    "view": ("--entry", "1", "--list"),
    "documents": (),
    "document-limit": ("100",),
    "bring-in": ("100.00", "--worth", "80.00", "--what", "Cones", "--category", "batting"),
    "helper list": (),
    "helper pay": ("Nell", "45.00", "--from", "checking"),
    "helper form": ("Corner shop", "W-9"),
    "open-household": ("1200.00",),
    "opening": ("--income", "job income 1200; tips 20.00", "--estimated", "1 400", "--earned", "310.50"),
    "household-pays": ("owed",),
    "crossings": (),
    "start-up": ("--opened", "2026-01-12"),
    "setup list": (),
    "setup show": ("insurance_limit",),
    "setup answer": ("insurance_limit", "20000", "--asked", "The agent"),
    "setup fit": (),
    "setup calendar": ("FOLDER/renewals.ics",),
    "setup call-sheet": ("state revenue office",),
    "setup heard": ("licensing office of the town or county", "--asked", "Ms Roe", "--answer", "local_licence=yes"),
    "setup print": (),
    "setup prices": ("WORKSHEETS/prices.toml",),
    "setup machines": ("WORKSHEETS/machines.toml",),
    "setup add": ("A chair to rest on", "--after", "power"),
    "setup reword": ("power", "--title", "The socket"),
    "setup move": ("power", "--first"),
    "setup hide": ("power",),
    "setup show-again": ("second_medium",),
    "setup seen": (),
    "statement read": ("WORKSHEETS/february.csv", "--account", "checking"),
    "statement lines": (),
    "statement place": ("3", "--category", "bank charges"),
    "statement undo": ("4",),
    "statement match": (),
    "statement pick": (
        *("WORKSHEETS/household.csv", "2", "--account", "household checking"),
        *("--category", "advertising"),
    ),
    "statement agree": ("--account", "tax savings", "--ending", "0.00"),
    "statement agreements": (),
    "statement count": ("2.50",),
    "guide": ("words",),
    # A sale that is filed is voided no more.
    "tax file": ("2026-01-10..2026-01-31",),
}
LOOKS_ONLY = {
    "machine list",
    "machine payoff",
    "machine schedule",
    "machine memo",
    "machine return",
    "depreciation",
    "chart",
    "colours",
    "entries",
    "prove",
    "job list",
    "job show",
    *("payback", "by-month", "by-category"),
    "plan show",
    "plan kept",
    "earnings",
    "quarter",
    "question list",
    "report profit-and-loss",
    "report balance-sheet",
    "report trial-balance",
    "report form-lines",
    "report customer",
    "setup list",
    "setup show",
    "setup fit",
    "setup prices",
    "setup machines",
    "bill list",
    "mileage list",
    "category list",
    "documents",
    "view",
    "helper list",
    "crossings",
    "job waiting",
    "owed list",
    "customer list",
    "find",
    "gift list",
    "gift show",
    "card list",
    "tax worksheet",
    "tax schedule-se",
    *("set-aside show", "set-aside ahead", "set-aside open"),
    "tax stock list",
    "tax certificates",
    "tax resale show",
    "statement lines",
    "statement agreements",
    "guide",
}
# What reads a file alone, and no figure of the books.
READS_A_FILE = {"plan show", "setup prices", "guide", "colours"}
# What makes papers from the books and writes nothing into them.
PRINTS = {"packet", "quote", "intake", "receipt", "owed statement", "setup print", "setup call-sheet", "setup calendar"}
# What keeps something in the books that stand there.
KEEPS = WORKING_LINES.keys() - LOOKS_ONLY - PRINTS - {"new", "backup", "restore"}
# What puts an entry in the books, on the day that it is told of.
BOOKS_AN_ENTRY = {"job deposit", "job pay", "pickup", "spend", "move", "draw", "put-in", "pay-back", "reverse"} | {
    "bill pay",
    "bring-in",
    "open-household",
    "let-go",
    "helper pay",
    "job deposit-back",
    "job returned-check",
    "job call-off",
    "job void",
    "refund",
    "job retax",
    "job write-off",
    "gift sell",
    "statement count",
    "card payout",
    "tax paid",
    "tax estimated",
    "set-aside move",
    "tax use",
}
NEXT_ENTRY = 11


def commands() -> Iterator[tuple[str, click.Command]]:
    """Every command by its words, groups opened."""
    yield from _below(twopurse, "")


def _below(group: click.Group, words: str) -> Iterator[tuple[str, click.Command]]:
    context = click.Context(group)
    for name in group.list_commands(context):
        command = group.get_command(context, name)
        assert command is not None, name
        if isinstance(command, click.Group):
            yield from _below(command, f"{words}{name} ")
        else:
            yield words + name, command


def working_line(words: str, folder: Path) -> list[str]:
    """The words of a command with arguments that work in the workshop."""
    places = {"FOLDER": str(folder), "WORKSHEETS": str(WORKSHEETS)}
    return [*words.split(), *(_in_place(each, places) for each in WORKING_LINES[words])]


def _in_place(word: str, places: dict[str, str]) -> str:
    start, slash, end = word.partition("/")
    return places[start] + slash + end if slash and start in places else word


def begin_rules(desk: Desk) -> None:
    """New books with rates, answers and prices."""
    for line in RULES:
        desk.data(*line.split(), on=FIRST_DAY)


def begin_workshop(desk: Desk) -> None:
    """The workshop that WORKING_LINES are tried on, and a backup of it."""
    begin_rules(desk)
    for words in AT_WORK:
        desk.data(*words, on="2026-01-12")
    desk.data("backup", str(desk.folder / "before.zip"))
