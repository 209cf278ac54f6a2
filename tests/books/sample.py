"""Invented books: `begin` makes the smallest that can be used, `build` some with a row in every table."""

from __future__ import annotations

import shlex
from datetime import date, datetime, time
from pathlib import Path

from ledger.books.books import Books
from ledger.books.clock import Clock
from ledger.books.closing import close_period, reopen_period
from ledger.books.opening import open_books
from tests.books.calling import done

BEGUN = date(2026, 1, 5)
TODAY = date(2026, 3, 20)
RECEIPT = b"a picture of a receipt \x00\x01\x02"

# Day, and what is typed that day. {receipt} is a file to attach.
_STEPS = (
    ("2026-01-05", "tax rate state 4.3 --from 2026-01-01"),
    ("2026-01-05", "tax rate county 1.0 --from 2026-01-01"),
    ("2026-01-05", 'tax class work yes --asked "revenue office"'),
    ("2026-01-05", 'tax class delivery no --asked "revenue office"'),
    ("2026-01-05", "tax method slip"),
    ("2026-01-05", "price edge-to-edge --by area --rate 0.02 --class work"),
    ("2026-01-05", "price batting --by inch --rate 0.35 --class goods"),
    ("2026-01-05", 'customer "Village school" --exempt school --certificate S-17 --contact "555 0100"'),
    (
        "2026-01-06",
        'job new --customer "Ada Brook" --piece "Log cabin, café" --width 56 --length 72 --value 400 '
        "--line edge-to-edge --line batting --promised 2026-01-20",
    ),
    ("2026-01-07", "job deposit 1 50.00 --paid check --number 1021"),
    ("2026-01-09", 'spend 80.00 --category thread --from "workshop card" --who "Corner shop" --home 30.00'),
    ("2026-01-10", 'spend 20.00 --category batting --from "personal card" --who "Mill" --owed --untaxed'),
    ("2026-01-12", 'spend 12.00 --category postage --from checking --who "Post" --document "{receipt}"'),
    ("2026-01-14", "job ready 1"),
    ("2026-01-15", "pickup 1 --paid cash=30.00 --paid owed --tip 5.00"),
    ("2026-01-20", "job pay 1 10.00 --paid cash"),
    (
        "2026-02-02",
        'job new --customer "Village school" --piece "Banner" --width 40 --length 60 --value 90 --line edge-to-edge',
    ),
    ("2026-02-03", "pickup 2 --paid card --fee 1.20"),
    ("2026-02-05", 'spend 7.00 --category needles\\ and\\ parts --from "cash box" --who "Corner shop"'),
    ("2026-02-06", 'reverse 10 --why "typed twice"'),
    ("2026-02-10", 'move 20.00 "cash box" checking'),
    ("2026-02-11", 'draw 40.00 --why "groceries"'),
    ("2026-02-12", "put-in 15.00"),
    ("2026-03-02", "pay-back 15.00"),
    (
        "2026-03-03",
        'tax holiday goods --name "School week" --from 2026-02-20 --until 2026-03-02 --percent 0 --of state '
        '--asked "revenue office"',
    ),
    (
        "2026-03-10",
        'job new --customer "Ada Brook" --piece "Star" --width 30 --length 30 --value 50 --line edge-to-edge '
        "--status asked",
    ),
    (
        "2026-03-10",
        'job new --customer "Ada Brook" --piece "Rail fence" --width 50 --length 60 --value 200 --line edge-to-edge',
    ),
)

_OWN_ITEM: dict[str, str | int] = {
    "item": "own_chair",
    "what": "added",
    "stage": "before_the_machine",
    "follows": "power",
    "title": "A chair to rest on",
    "why": "Legs tire.",
    "ask": "yourself",
    "questions": "How high is it?",
    "proof": "The bill.",
    "recurs": "FREQ=YEARLY",
}

Rows = dict[str, dict[str, str | int]]


def clock_on(day: date) -> Clock:
    return Clock(day, datetime.combine(day, time()))


def begin(folder: Path) -> None:
    """Books with two entries: 500.00 in the bank, and a machine that the workshop has already."""
    words = '--name "Alder Lane" --opening 500 --machine-price 18500 --machine-date 2025-11-01'
    done(folder, BEGUN.isoformat(), "new", *shlex.split(words))


def build(folder: Path) -> None:
    """Books of three months with at least one row in every table."""
    begin(folder)
    receipt = folder.with_name(f"{folder.name}-receipt.jpg")
    receipt.write_bytes(RECEIPT)
    for day, words in _STEPS:
        done(folder, day, *shlex.split(words.format(receipt=receipt.as_posix())))
    receipt.unlink()
    with_books = open_books(folder, clock_on(TODAY))
    try:
        _add_where_there_is_no_row_yet(with_books)
    finally:
        with_books.close()


def _add_where_there_is_no_row_yet(books: Books) -> None:
    close_period(books, BEGUN, date(2026, 2, 28))
    reopen_period(books, date(2026, 2, 1), "a receipt turned up")
    today = books.today.isoformat()
    with books.writing() as write:
        for table, values in _rows(books, today).items():
            if books.value(f"select count(*) from {table}") == 0:
                write.add(table, **values)


def _rows(books: Books, today: str) -> Rows:
    return (
        _rows_of_work(books, today)
        | _rows_of_spending(books, today)
        | _rows_of_use_tax(books, today)
        | _rows_of_filing(books, today)
        | _rows_of_quarter(today)
        | _rows_of_machine(today)
        | _rows_of_the_bank(books, today)
        | _rows_from_before(today)
    )


def _rows_of_filing(books: Books, today: str) -> Rows:
    days = {"start_date": "2026-01-01", "end_date": "2026-02-28", "sequence": 0, "due_on": today, "filed_on": today}
    owed = {"through_entry": 9, "sales_tax": 212, "use_tax": 0, "allowance": 5, "carried": 0, "is_claimed": 0}
    answer = books.value("select max(id) from class_answer")
    test = {"answer": answer, "over_percent": "10", "materials_percent": "4", "when_apart": 1}
    return {
        "filing": {**days, **owed, "worksheet": "{}", "digest": "0" * 64, "entry": 3},
        "filing_undone": {"filing": 1, "why": "the wrong month", "on_date": today},
        "filing_payment": {"filing": 1, "entry": 4, "cents": 207, "allowance": 5, "use_tax": 0},
        "materials_test": test,
    }


def _rows_of_quarter(today: str) -> Rows:
    return {
        "stock_count": {"cents": 1200, "on_date": today, "made_on": today},
        "question": {"text": "Is the frame one asset with the machine?", "on_date": today},
        "question_answer": {"question": "Is the frame one asset?", "answer": "Yes.", "who": "Ada", "on_date": today},
    }


_PLAN = """
[machine.costs]
price = 9500
[work]
jobs_a_week = 2
average_job = 120
material_percent = 15
"""


def _rows_of_machine(today: str) -> Rows:
    lent = {
        "cents": 10_000_00,
        "percent": "8",
        "months": 60,
        "taken_on": "2026-01-05",
        "first_on": today,
        "on_date": today,
    }
    offer = {"payment_cents": 202_76, "offer_percent": "24", "offer_ends_on": today, "lender": "Bank", "entry": 2}
    return {
        "machine": {"name": "Second", "name_key": "second", "on_date": today},
        "machine_share": {
            "machine": 1,
            "of_what": "use",
            "percent": "90",
            "reason": "hours",
            "from_date": today,
            "made_on": today,
        },
        "loan": lent | offer,
        "loan_event": {
            "loan": 1,
            "what": "payment",
            "cents": 202_76,
            "interest_cents": 66_67,
            "percent": "8",
            "entry": 5,
            "on_date": today,
        },
        "plan": {"name": "Used", "content": _PLAN, "starts_on": "2026-01-01", "on_date": today},
        "job_hours": {"job": 1, "hours": "2.5", "on_date": today},
    }


def _rows_of_work(books: Books, today: str) -> Rows:
    """Of jobs, of the set-up list and of the books themselves."""
    sale, deposit = 7, 3
    return {
        "restored": {"head_before": "2 0123456789ab", "at": today},
        "intake": {"job": 1, "widths": "56 56.5 56", "lengths": "72 72 72", "condition": "a loose seam"},
        "answer": {"item": "second_medium", "state": "asked", "asked": "town hall", "on_date": today},
        "returned_payment": {"entry": sale, "payment": 2},
        "gift_certificate": {"code": "G-1", "entry": deposit, "on_date": today},
        "gift_movement": {"certificate": 1, "entry": deposit, "cents": 100},
        "barter": {"entry": sale, "job": 1, "account": _account(books, "backing"), "cents": 100, "what": "backing"},
        "shipment": {"job": 1, "place": "Elsewhere", "carrier": "Post", "insured": 40000, "on_date": today},
        "jurisdiction_place": {"jurisdiction": 2, "place": "Elsewhere", "place_key": "elsewhere"},
        "notice": {"job": 3, "how": "a letter", "on_date": today},
        "payout_line": {"entry": sale, "payment": 1, "cents": 100},
        "certificate_detail": {"certificate": 1, "state": "Kansas"},
        "item_change": _OWN_ITEM | {"on_date": today},
        "list_seen": {"items": "power structure", "on_date": today},
    }


def _rows_of_spending(books: Books, today: str) -> Rows:
    sale = 7
    return {
        "account_change": {
            "account": _account(books, "penalties"),
            "name": "Other",
            "name_key": "other",
            "retired_on": today,
            "on_date": today,
        },
        "shared_bill": {
            "name": "Water",
            "name_key": "water",
            "account": _account(books, "home_cost"),
            "of_the_home": 1,
            "on_date": today,
        },
        "bill_share": {"bill": 1, "percent": "25", "reason": "room", "from_date": today, "made_on": today},
        "bill_payment": {"bill": 1, "entry": sale, "percent": "25", "cents": 100},
        "mileage": {"on_date": today, "miles": "12.5", "place": "Mill", "why": "backing"},
        "helper": {"party": 1, "tax_form": "on file", "on_date": today},
        "estimated_payment": {"entry": sale, "tax_year": 2026, "period": 1, "cents": 100},
    }


def _rows_of_use_tax(books: Books, today: str) -> Rows:
    sale, spent = 7, 5
    return {
        "stock_use": {"stock": 1, "how": "sold", "cents": 500, "what": "a backing", "on_date": today},
        "untaxed_purchase": {"entry": sale, "purchase": spent, "account": _account(books, "thread"), "cents": 100},
        "use_tax_line": {"entry": sale, "rate": 1, "percent": "4.3", "base": 100, "cents": 4},
        "supplier_certificate": {"party": 1, "what": "given", "number": "R-1", "on_date": today},
        "certificate_form": {
            "certificate": 1,
            "address": "1 Mill Lane",
            "single_purchase": "PO 7",
            "business": "a school",
            "letter": "M",
            "signed_by": "Ann Lee",
            "title": "treasurer",
            "signed_on": today,
        },
    }


def _rows_of_the_bank(books: Books, today: str) -> Rows:
    checking, digest = _account(books, "checking"), "0" * 64
    statement: dict[str, str | int] = {"account": checking, "form": "ofx", "label": "march.ofx", "document": digest}
    statement |= {"number_ending": "4417", "first_date": today, "last_date": today, "on_date": today}
    line: dict[str, str | int] = {"statement": 1, "account": checking, "date": today, "cents": 100, "text": "Deposit"}
    line |= {"memo": "", "check_number": "", "kind": "DEP", "bank_id": "1", "digest": digest, "occurrence": 1}
    agreement: dict[str, str | int] = {"account": checking, "date": today, "ending": 100, "balance": 100}
    return {
        "statement": statement | {"ending": 100, "ending_date": today},
        "statement_line": line | {"text_key": "deposit"},
        "statement_map": {"account": checking, "map": "{}", "on_date": today},
        "line_match": {"line": 1, "how": "entry", "books_entry": 0, "who": "Mill", "on_date": today},
        "line_match_part": {"line_match": 1, "entry": 2, "posting": 1},
        "agreement": agreement | {"covered": digest, "head": "2 0123456789ab", "entry": 2, "on_date": today},
        "agreement_open": {"agreement": 1, "entry": 2, "posting": 1},
    }


def _rows_from_before(today: str) -> Rows:
    return {
        "before_books": {"what": "estimated tax", "period": 1, "cents": 400_00, "on_date": today},
        "job_before_books": {"job": 2},
    }


def _account(books: Books, role: str) -> int:
    return int(books.value("select id from account where role = ?", (role,)))
