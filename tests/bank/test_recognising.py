"""What a new line looks like, from plain facts."""

from __future__ import annotations

from datetime import date

import pytest

from ledger.bank.matching import OpenLine
from ledger.bank.recognising import (
    CardDay,
    Debtor,
    DueLoan,
    Facts,
    Habit,
    OtherLine,
    PaidCheck,
    Suggestion,
    recognise,
)
from ledger.bank.text_keys import names_it, text_key

DAY = date(2026, 1, 15)


def told(cents: int, words: str = "x", number: str = "", **facts: object) -> Suggestion | None:
    return recognise(OpenLine(1, DAY, cents, words, number), Facts(is_checking=True, **facts))  # type: ignore[arg-type]


def test_a_check_that_came_back_is_known_by_a_word_or_its_number() -> None:
    checks = [PaidCheck(3, date(2026, 1, 8), 145_27, "1021")]
    for found in (told(-145_27, "Returned item", checks=checks), told(-145_27, "Debit", "1021", checks=checks)):
        assert found is not None
        assert (found.way, found.job) == ("returned", 3)
    assert told(-145_27, "Debit", checks=checks) is None
    assert told(-145_28, "Returned item", checks=checks) is None


def test_of_two_checks_of_one_amount_the_number_decides() -> None:
    checks = [PaidCheck(3, date(2026, 1, 8), 50_00, "11"), PaidCheck(4, date(2026, 1, 9), 50_00, "12")]
    found = told(-50_00, "NSF check 12", checks=checks)
    assert found is not None
    assert found.job == 4
    assert told(-50_00, "NSF check", checks=checks) is None


def test_the_other_side_of_a_transfer_is_an_open_line_of_another_account() -> None:
    found = told(-400_00, others=[OtherLine("tax savings", date(2026, 1, 17), 400_00)])
    assert found is not None
    assert (found.way, found.name) == ("transfer", "tax savings")
    assert told(-400_00, others=[OtherLine("tax savings", date(2026, 1, 21), 400_00)]) is None
    both = [OtherLine("tax savings", DAY, 400_00), OtherLine("workshop card", DAY, 400_00)]
    assert told(-400_00, others=both) is None


def test_a_card_payout_is_the_payments_of_some_days_less_a_small_fee() -> None:
    cards = [CardDay(date(2026, 1, 9), 100_00), CardDay(date(2026, 1, 12), 55_27), CardDay(date(2026, 1, 14), 80_00)]
    found = told(150_47, cards=cards)
    assert found is not None
    assert (found.way, found.through, found.fee_cents) == ("payout", date(2026, 1, 12), 4_80)
    assert told(90_00, cards=cards) is None, "a tenth is no fee"
    assert told(300_00, cards=cards) is None, "more than is on its way"


def test_a_loan_payment_is_the_next_one_due() -> None:
    loans = [DueLoan("loan 1", date(2026, 1, 15), 202_76)]
    found = told(-202_76, loans=loans)
    assert found is not None
    assert (found.way, found.name) == ("loan", "loan 1")
    assert told(-202_75, loans=loans) is None


def test_money_that_one_job_owes_to_the_cent_is_for_that_job() -> None:
    debtors = [Debtor(3, "Ada Brook", 50_00), Debtor(4, "Ben Okoro", 50_00)]
    assert told(50_00, debtors=debtors) is None
    found = told(50_00, "Transfer BEN OKORO", debtors=debtors)
    assert found is not None
    assert (found.way, found.job) == ("job", 4)


def test_what_she_said_before_of_such_a_line_is_suggested() -> None:
    found = told(
        -12_00, "POS MILL OUTLET 0071 SPRINGFIELD", habits=[Habit("mill outlet springfield", "category", "batting")]
    )
    assert found is not None
    assert (found.way, found.name) == ("category", "batting")
    assert told(-12_00, "Another shop", habits=[Habit("mill outlet", "category", "batting")]) is None


@pytest.mark.parametrize(
    ("text", "key"),
    [
        ("POS PURCHASE MILL OUTLET #0043 01/12", "mill outlet"),
        ("Mill Outlet 0051", "mill outlet"),
        ("CHECKCARD 0112 SQ *THREAD & CO. LLC", "thread"),
        ("PAYMENT", "payment"),
        ("12345", ""),
    ],
)
def test_the_key_of_a_text_leaves_out_what_changes_from_line_to_line(text: str, key: str) -> None:
    assert text_key(text) == key


def test_a_name_is_said_by_all_its_words_or_a_long_one() -> None:
    assert names_it("CORNER SHOP #12", "Corner shop")
    assert names_it("SQ THIMBLERY", "The Thimblery of Alder Lane")
    assert not names_it("ANY SHOP", "Corner shop")
    assert not names_it("ANYTHING", "")
