"""The example as a whole: it proves itself, keeps within its days, and has something of everything."""

from __future__ import annotations

from collections import Counter
from datetime import date

from ledger.books.balances import balance
from ledger.books.books import Books
from ledger.books.prove import prove
from ledger.example.data_files import read
from ledger.jobs.prices import price_list
from ledger.jobs.records import read_custody
from ledger.machine.payback_record import read_payback
from ledger.quarter.checks import run_checks
from ledger.results.period import read_statement
from ledger.taxes.rules import answers_on, rates_on
from tests.example.reading import STATUSES, Example
from tests.workshop_example import EXAMPLE_DAY

MONEY = ("checking", "cash_box", "tax_savings")


def test_the_books_prove_themselves(books: Books) -> None:
    proof = prove(books)
    assert (proof.ok, proof.findings) == (True, ())
    assert proof.entries > 600


def test_every_check_passes_for_every_quarter(example: Example) -> None:
    quarters = list(example.quarters())
    failed = [
        (quarter.label, check.name, check.off_cents)
        for quarter in quarters
        for check in run_checks(example.books, quarter.start, quarter.end)
        if not check.ok
    ]
    assert len(quarters) == 9
    assert failed == []


def test_there_are_three_hundred_jobs_of_nearly_fifty_customers(example: Example) -> None:
    by_customer = Counter(job.customer.name for job in example.jobs)
    assert len(example.jobs) == 300
    assert set(by_customer) == {each["name"] for each in read("people")["customer"]}
    assert len(by_customer) == 48
    assert sum(1 for count in by_customer.values() if count >= 10) >= 8
    assert by_customer.most_common()[0][1] < 40


def test_the_bench_has_jobs_in_every_status(example: Example) -> None:
    by_status = Counter(job.status for job in example.jobs)
    assert by_status == STATUSES


def test_some_pieces_are_late_and_some_are_promised_for_today_or_later(example: Example) -> None:
    promised = [job.promised for job in example.jobs if job.status in ("in-hand", "ready") and job.promised]
    assert min(promised) < EXAMPLE_DAY < max(promised)
    assert EXAMPLE_DAY in promised


def test_nothing_is_dated_before_the_books_began_or_after_the_day(example: Example) -> None:
    days = [day for _, day in example.days_written()]
    assert min(days) == example.books.settings.begun_on == date(2024, 11, 1)
    assert max(days) == EXAMPLE_DAY


def test_nothing_is_done_on_a_sunday_or_a_holiday(example: Example) -> None:
    closed = [
        (table, day)
        for table, day in example.days_written()
        if day.weekday() == 6 or (day.month, day.day) in {(1, 1), (7, 4), (12, 25), (12, 26)}
    ]
    assert closed == []


def test_it_is_busy_before_christmas_and_slow_in_summer(example: Example) -> None:
    by_month = Counter((job.taken_on.year, job.taken_on.month) for job in example.jobs)
    assert by_month[2025, 10] + by_month[2025, 11] > 2 * (by_month[2025, 7] + by_month[2025, 8])
    assert by_month[2024, 11] * 2 < by_month[2025, 11]


def test_the_harder_work_begins_after_the_learning_months(example: Example) -> None:
    custom = [job.taken_on for job in example.jobs if any(line.name == "Custom quilting" for line in job.lines)]
    dense = [job.taken_on for job in example.jobs if any(line.name.endswith("dense") for line in job.lines)]
    assert min(custom) >= date(2025, 4, 1)
    assert date(2025, 1, 1) <= min(dense) < min(custom)


def test_two_months_of_the_first_year_lose_money_and_none_of_the_second(example: Example) -> None:
    earned = example.earned_by_month()
    assert [place for place, cents in enumerate(earned) if cents < 0] == [0, 3]
    assert len(earned) == 24


def test_some_two_thirds_of_the_machine_are_earned(books: Books) -> None:
    machine = read_payback(books)
    assert machine.cost_cents == 18_500_00
    assert machine.share_percent is not None
    assert 60 <= machine.share_percent <= 70
    assert machine.jobs_left
    forecast = machine.forecast
    assert forecast.early is not None
    assert forecast.middle is not None
    assert forecast.late is not None
    assert EXAMPLE_DAY < forecast.early < forecast.middle < forecast.late < date(2029, 1, 1)


def test_every_way_of_paying_occurs(books: Books) -> None:
    ways = dict(tuple(row) for row in books.rows("select how, count(*) from payment group by how"))
    assert set(ways) == {"cash", "check", "card", "transfer"}
    assert all(count >= 20 for count in ways.values())
    assert books.value("select count(*) from owed_part where charge > 0") >= 6
    assert balance(books, "tips", EXAMPLE_DAY) <= -100_00


def test_every_kind_of_expense_that_a_workshop_has_occurs(books: Books) -> None:
    spent = {line.account.name for line in read_statement(books, date(2024, 11, 1), EXAMPLE_DAY).expenses}
    assert spent >= {
        "thread", "batting", "backing", "needles and parts", "machine upkeep", "insurance", "advertising",
        "phone and internet", "card fees",
    }  # fmt: skip


def test_no_purse_runs_dry(example: Example) -> None:
    assert {role: example.lowest(role) >= 0 for role in MONEY} == dict.fromkeys(MONEY, True)
    # the company takes a chargeback of 74.89 and its fee out of what is on its way
    assert example.lowest("card_settlements") >= -89_89


def test_draws_payouts_and_ways_to_the_bank_come_round(books: Books, example: Example) -> None:
    texts = Counter(entry.text for entry in example.entries)
    draws, put_in = ([each.on for each in example.entries if each.kind == kind] for kind in ("draw", "put-in"))
    assert len(draws) >= 15
    assert put_in == [date(2024, 12, 11)] < draws
    assert texts["Cash carried to the bank"] >= 10
    assert sum(text.startswith("Set aside for 20") for text in texts) >= 20
    payouts = [entry.on for entry in example.entries if entry.kind == "payout"]
    assert len(payouts) >= 40
    assert {day.weekday() for day in payouts} == {0}
    assert balance(books, "tax_savings", EXAMPLE_DAY) > 0


def test_the_county_changes_its_rate_in_the_second_year(books: Books) -> None:
    def percents(day: date) -> list[str]:
        return [f"{each.jurisdiction} {each.percent}" for each in rates_on(books, day)]

    before = ["Merrowen state 4.5", "Saltmarrow county 1.25", "Pinfold Crossing city 0.75"]
    assert percents(date(2024, 11, 1)) == before
    assert percents(date(2026, 3, 31)) == before
    assert percents(date(2026, 4, 1)) == ["Merrowen state 4.5", "Saltmarrow county 1.6", "Pinfold Crossing city 0.75"]
    used = books.rows(
        "select percent, count(*) as sales, min(date) as first, max(date) as last from tax_line "
        "join entry on entry.number = tax_line.entry where percent in ('1.25', '1.6') and kind = 'pickup' "
        "group by percent order by percent"
    )
    assert [row["percent"] for row in used] == ["1.25", "1.6"]
    assert used[0]["last"] < "2026-04-01" <= used[1]["first"]
    assert min(row["sales"] for row in used) > 50


def test_lessons_alone_have_no_answer_any_more(books: Books) -> None:
    in_the_beginning = {"goods": True, "work": True, "delivery": False, "other": True, "lessons": False}
    assert answers_on(books, date(2025, 8, 31)) == in_the_beginning
    in_the_end = {"goods": True, "work": True, "delivery": False, "other": True, "patterns": False}
    assert answers_on(books, EXAMPLE_DAY) == in_the_end


def test_the_price_list_was_raised_once_and_jobs_keep_what_they_were_quoted(books: Books, example: Example) -> None:
    def open_price(day: date) -> str:
        return next(f"{each.rate}" for each in price_list(books, day) if each.name == "Edge-to-edge, open")

    assert (open_price(date(2025, 11, 30)), open_price(date(2025, 12, 1))) == ("0.012", "0.0135")
    quoted = {
        (job.taken_on >= date(2025, 12, 1), f"{line.rate}")
        for job in example.jobs
        for line in job.lines
        if line.name == "Edge-to-edge, open"
    }
    assert quoted == {(False, "0.012"), (True, "0.0135")}


def test_custody_was_highest_before_one_of_the_christmases(books: Books, example: Example) -> None:
    held = read_custody(books, EXAMPLE_DAY)
    here = [job for job in example.jobs if job.status in ("in-hand", "ready")]
    assert (held.pieces, held.value_cents) == (14, sum(job.value_cents for job in here))
    assert held.highest_cents >= held.value_cents


def test_the_receipts_of_the_last_weeks_are_printed(books: Books, example: Example) -> None:
    def numbers(suffix: str) -> set[int]:
        return {int(path.name.split("-")[2]) for path in books.folder.joinpath("receipts").glob(f"receipt-*.{suffix}")}

    gone = {
        job.id for job in example.jobs if dict(example.events_of(job)).get("picked up", date.min) > date(2026, 11, 10)
    }
    assert numbers("txt") == numbers("pdf") == gone
    assert len(gone) >= 4
