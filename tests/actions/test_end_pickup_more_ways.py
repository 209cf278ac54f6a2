"""More ways in which a pickup is settled, each entry whole."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta
from decimal import Decimal
from pathlib import Path

import pytest

from ledger.actions import add_work, pick_up, send_notice
from ledger.actions.take_in import WantedLine
from ledger.books.books import Books
from ledger.books.documents import read_document
from ledger.errors import NotPossible, NotUnderstood
from ledger.jobs.customers import ensure_customer
from ledger.jobs.waiting import read_waiting
from ledger.quarter.questions import find_questions
from ledger.taxes import rules
from ledger.taxes.certificates import Scan, keep_certificate, newest_certificate
from tests.actions.endings import (
    check_books,
    given_up,
    gone,
    money,
    sale_of,
    slip_of,
    sold,
    tax_put_right,
    voided,
)
from tests.workshop import (
    add_customer,
    add_rate,
    add_to_price_list,
    answer,
    begin_taxed,
    deposit,
    job_for,
    lines_of,
    move,
    on_day,
    pay,
    picked_up,
    pickup_request,
    written,
)

FEBRUARY, APRIL = date(2026, 2, 10), date(2026, 4, 2)
FIRST_QUARTER, SECOND_QUARTER = (date(2026, 1, 1), date(2026, 3, 31)), (date(2026, 4, 1), date(2026, 6, 30))


@pytest.fixture
def books(tmp_path: Path) -> Iterator[Books]:
    opened = begin_taxed(tmp_path / "books")
    yield opened
    opened.close()


class TestCertificates:
    def kept(self, books: Books, expires: date | None, number: str | None = "KS-1") -> None:
        add_customer(books, "Guild", "charity", number, expires)

    def test_valid_on_the_last_day_and_not_on_the_next(self, books: Books) -> None:
        self.kept(books, FEBRUARY)
        exempt, taxed = (job_for(books, "100.00", customer="Guild") for _ in range(2))
        assert picked_up(on_day(books, FEBRUARY), exempt, "cash").settlement.warnings == ()
        warned = picked_up(on_day(books, FEBRUARY + timedelta(1)), taxed, "cash").settlement.warnings
        assert warned == ("Guild has no certificate that is valid on 2026-02-11, so the tax was taken as from anyone.",)
        assert slip_of(books, exempt.id) == {("work", "exempt"): 100_00}
        assert slip_of(books, taxed.id) == {("work", "taxed"): 100_00}
        assert find_questions(books, *FIRST_QUARTER) == (
            "Job 2 was picked up on 2026-02-11 by a customer whose certificate had run out on 2026-02-10, and was not "
            "exempt: ask for a valid one.",
        )
        assert find_questions(books, *SECOND_QUARTER) == ()

    def test_without_a_number_it_is_none(self, books: Books) -> None:
        self.kept(books, None, number=None)
        job = sold(books, "100.00", "cash", customer="Guild")
        assert slip_of(books, job) == {("work", "taxed"): 100_00}
        assert "certificate has no number" in find_questions(books, *FIRST_QUARTER)[0]

    def test_nothing_is_asked_once_the_sale_was_undone_or_its_tax_put_right(self, books: Books) -> None:
        self.kept(books, FEBRUARY)
        late = on_day(books, APRIL)
        first, second = (sold(late, "100.00", "cash", customer="Guild") for _ in range(2))
        assert len(find_questions(late, *SECOND_QUARTER)) == 2
        voided(late, first)
        with late.writing() as write:
            party = ensure_customer(late, write, "Guild").party.id
            keep_certificate(late, write, party, "charity", "KS-2", None, from_date=date(2026, 3, 1))
        tax_put_right(late, second, "cash")
        assert find_questions(late, *SECOND_QUARTER) == ()
        check_books(late)

    def test_one_that_ran_out_is_refused(self, books: Books) -> None:
        with pytest.raises(NotPossible, match="ran out on 2026-01-04") as refused:
            self.kept(books, date(2026, 1, 4))
        assert refused.value.field == "expires"

    def test_its_state_first_day_and_scan_are_kept(self, books: Books, tmp_path: Path) -> None:
        scan = tmp_path / "certificate.txt"
        scan.write_text("Exempt", encoding="utf-8")
        with books.writing() as write:
            party = ensure_customer(books, write, "Guild").party.id
            keep_certificate(
                books,
                write,
                party,
                "charity",
                "KS-1",
                date(2026, 3, 31),
                state="Kansas",
                from_date=date(2025, 4, 1),
                scan=Scan(read_document(scan), scan.name),
            )
            with pytest.raises(NotPossible, match="ran out"):
                keep_certificate(books, write, party, "charity", "1", date(2026, 1, 1), from_date=date(2026, 1, 2))
            past = (date(2024, 4, 1), date(2025, 3, 31))
            keep_certificate(books, write, party, "charity", "KS-0", past[1], from_date=past[0])
        held = newest_certificate(books, party)
        assert held is not None
        assert (held.state, held.from_date, held.document) == ("Kansas", date(2025, 4, 1), "certificate.txt")
        digest = books.value("select digest from attachment where certificate = ?", (held.id,))
        assert (books.folder / "documents" / digest).read_bytes() == b"Exempt"
        before = newest_certificate(books, party, past[1])
        assert before is not None
        assert (before.number, before.is_valid(past[1])) == ("KS-0", True)
        assert newest_certificate(books, party, date(2024, 3, 31)) is None


class TestDebtQuestions:
    def test_tax_given_up_without_an_answer_is_asked_about(self, books: Books) -> None:
        job = sold(books, "100.00", "owed")
        given_up(books, job)
        asked = (
            "Sales tax of 5.30 was given up with balances that were not paid: may it be claimed back? Ask the revenue "
            "office."
        )
        assert find_questions(books, *FIRST_QUARTER) == (asked,)
        with books.writing() as write:
            rules.answer_bad_debts(books, write, False, "the revenue office")
        assert find_questions(books, *FIRST_QUARTER) == ()

    def test_and_not_once_it_was_paid_after_all(self, books: Books) -> None:
        job = sold(books, "100.00", "owed")
        given_up(books, job)
        pay(books, job, "105.30")
        assert find_questions(books, *FIRST_QUARTER) == ()


class TestLeftBehind:
    def test_notices_and_storage_by_her_terms(self, books: Books) -> None:
        job = job_for(books, "100.00")
        move(books, job, "ready")
        add_to_price_list(books, "Storage", "each", "5.00", "other")
        february = on_day(books, FEBRUARY)
        send_notice.perform(february, send_notice.NoticeRequest(job.id, "telephone, no answer"))
        waiting = read_waiting(february)
        assert [(each.job.id, each.ready_since, each.days) for each in waiting] == [(job.id, books.today, 36)]
        assert [(each.on, each.how) for each in waiting[0].notices] == [(FEBRUARY, "telephone, no answer")]
        assert read_waiting(february, 37) == ()
        stored = add_work.AddWorkRequest(job.id, (WantedLine("Storage", Decimal(2)),))
        assert add_work.perform(february, stored).lines[-1].cents == 10_00
        assert picked_up(february, job, "cash").settlement.slip.charge_cents == 110_00
        assert slip_of(books, job.id) == {("work", "taxed"): 100_00, ("other", "taxed"): 10_00}
        assert read_waiting(on_day(books, APRIL)) == ()
        check_books(february)

    def test_a_piece_that_is_not_here_waits_for_nobody(self, books: Books) -> None:
        job = sold(books, "100.00", "cash")
        with pytest.raises(NotPossible, match="is not here"):
            send_notice.perform(books, send_notice.NoticeRequest(job, "a letter"))
        with pytest.raises(NotPossible, match="Work is added before pickup|is gone"):
            add_work.perform(books, add_work.AddWorkRequest(job, (WantedLine("Storage"),)))

    def test_ready_again_after_a_void_it_waits_since_it_was_ready(self, books: Books) -> None:
        job = job_for(books, "100.00")
        move(books, job, "ready")
        picked_up(books, job, "owed")
        voided(on_day(books, FEBRUARY), job)
        assert [each.days for each in read_waiting(on_day(books, FEBRUARY))] == [36]


class TestPriceChanges:
    def test_a_quote_keeps_its_prices_and_the_rate_of_the_day_is_taken_and_said(self, books: Books) -> None:
        add_to_price_list(books, "Quilting", "flat", "100.00")
        job = job_for(books, lines=["Quilting"])
        add_to_price_list(books, "Quilting", "flat", "120.00", from_date=FEBRUARY)
        add_rate(books, "Riley county", "1.5", FEBRUARY)
        done = picked_up(on_day(books, FEBRUARY), job, "cash")
        assert (done.settlement.slip.charge_cents, done.settlement.slip.tax_cents) == (100_00, 5_80)
        assert done.settlement.warnings == (
            "The quote reckoned with 5.30 % sales tax; today 5.80 % is in force and was taken.",
        )

    def test_nothing_is_said_where_no_tax_is_taken(self, books: Books) -> None:
        answer(books, "work", False)
        job = job_for(books, "100.00")
        add_rate(books, "Riley county", "1.5", FEBRUARY)
        assert picked_up(on_day(books, FEBRUARY), job, "cash").settlement.warnings == ()


def test_what_comes_to_the_counter_in_three_ways_at_once(books: Books) -> None:
    job = job_for(books, "185.44")
    deposit(books, job, "50.00", "transfer")
    gone(books, job, "cash=40.00", "card=60.00", "check=20.00", "owed", number="1021", fee="1.80")
    assert lines_of(books, sale_of(books, job)) == written(
        "cash box +40.00",
        "card settlements +58.20",
        "card fees +1.80",
        "checking +20.00",
        "owed by customers +25.27",
        "customer deposits +50.00",
        "job income -185.44",
        "sales tax payable -7.97",
        "sales tax payable -1.86",
    )
    assert money(books) == 50_00 + 40_00 + 58_20 + 20_00
    check_books(books)


def test_a_preview_keeps_nothing(books: Books) -> None:
    job = job_for(books, "100.00")
    before = books.value("select count(*) from record")
    pick_up.preview(books, pickup_request(job, "cash"))
    assert books.value("select count(*) from record") == before
    with pytest.raises(NotUnderstood):
        pick_up.preview(books, pickup_request(job))
