"""Every special case of the example is there, with its figures worked out by hand.

Tax is 4.5 + 1.25 + 0.75 = 6.5 % to 31 March 2026 and 4.5 + 1.6 + 0.75 = 6.85 % from then on.
"""

from __future__ import annotations

from datetime import date, timedelta

from ledger.books.balances import balance
from ledger.books.books import Books
from ledger.jobs.shipments import read_shipment
from ledger.jobs.waiting import read_notices, read_waiting
from ledger.periods import parse_period, quarter_holding
from ledger.quarter.questions import find_questions
from ledger.quarter.sales_tax import read_sales_tax
from tests.example.reading import Example, postings_of
from tests.workshop_example import EXAMPLE_DAY


def test_a_deposit_comes_with_the_piece_and_is_used_at_pickup(example: Example) -> None:
    job = example.job("Double wedding ring, queen, for an anniversary")
    taken = example.entries_of(job, "deposit")
    assert [postings_of(entry) for entry in taken] == [{"checking": 150_00, "customer deposits": -150_00}]
    # 92 x 100 = 9,200 sq in at 0.034 is 312.80; batting 108 in at 0.52 is 56.16; tax on 368.96 is 23.9824
    assert example.sale(job) == {
        "checking": 242_94,
        "customer deposits": 150_00,
        "job income": -368_96,
        "sales tax payable": -23_98,
    }


def test_the_guild_is_exempt_while_its_certificate_holds(example: Example) -> None:
    job = example.job("Raffle quilt, star and chain")
    # 84 x 92 = 7,728 sq in at 0.016 is 123.648; batting 100 in at 0.24; binding 352 in at 0.14 is 49.28
    assert example.sale(job) == {"checking": 196_93, "job income": -196_93}
    assert example.treatments(job) == {("work", "exempt"), ("goods", "exempt")}


def test_the_guild_pays_tax_once_its_certificate_has_run_out(example: Example) -> None:
    job = example.job("Comfort quilt, rail fence")
    # 4,320 sq in at 0.0135 is 58.32; batting 80 in at 0.24 is 19.20; tax on 77.52 is 5.0388
    assert example.sale(job) == {"checking": 82_56, "job income": -77_52, "sales tax payable": -5_04}
    assert example.treatments(job) == {("work", "taxed"), ("goods", "taxed")}


def test_the_guild_is_exempt_again_with_a_new_certificate(example: Example) -> None:
    job = example.job("Raffle quilt, log cabin")
    # 86 x 96 = 8,256 sq in at 0.018 is 148.608; batting 104 in at 0.24 is 24.96
    assert example.sale(job) == {"checking": 173_57, "job income": -173_57}
    assert example.treatments(job) == {("work", "exempt"), ("goods", "exempt")}


def test_a_shop_that_sells_on_is_exempt_for_another_reason(books: Books, example: Example) -> None:
    job = example.job("Shop sample, pinwheel")
    assert example.sale(job) == {"checking": 50_00, "job income": -50_00}
    reasons = books.rows("select reason from certificate where id in (select certificate from slip_line)")
    assert {row["reason"] for row in reasons} == {"charitable organisation", "resale"}


def test_posting_home_is_charged_without_tax(example: Example) -> None:
    job = example.job("Hexagon flowers, throw, to be posted across town")
    # 4,200 sq in at 0.012 is 50.40, trimming 10.00, posting 16.50; tax on 60.40 is 3.926
    assert example.sale(job) == {"checking": 80_83, "job income": -76_90, "sales tax payable": -3_93}
    assert ("delivery", "not taxed") in example.treatments(job)


def test_a_quilt_posted_out_of_state_is_not_taxed(books: Books, example: Example) -> None:
    job = example.job("Storm at sea, throw, to be posted out of state")
    # 4,320 sq in at 0.018 is 77.76, batting 80 in at 0.24 is 19.20, posting 16.50
    assert example.sale(job) == {"checking": 113_46, "job income": -113_46}
    assert example.treatments(job) == {("work", "not taxed"), ("goods", "not taxed"), ("delivery", "not taxed")}
    sent = read_shipment(books, job.id)
    assert sent is not None
    assert (sent.place, sent.insured_cents) == ("Lower Tessaly, Ondrey", 450_00)


def test_a_rush_is_charged_a_quarter_more_and_tipped(example: Example) -> None:
    job = example.job("Baby quilt, wanted in five days")
    # the least for dense work 50.00, batting 56 in at 0.24 is 13.44, a quarter more is 15.86; tax on 79.30 is 5.1545
    assert example.sale(job) == {
        "cash box": 94_45,
        "job income": -79_30,
        "sales tax payable": -5_15,
        "tips": -10_00,
    }


def test_a_small_piece_is_topped_up_to_the_minimum(example: Example) -> None:
    job = example.job("Table runner, pinwheel")
    assert job.pricing.top_up_cents == 8_00
    assert example.sale(job) == {"cash box": 51_12, "job income": -48_00, "sales tax payable": -3_12}


def test_one_pickup_is_paid_in_two_ways(example: Example) -> None:
    job = example.job("Log cabin, twin, for the cabin")
    # 80.78 + 23.04 + 43.68 = 147.50; tax 9.5875; tip 5.00; of 162.09 due 60.00 in cash; fee 2.7 % of 102.09 and 0.10
    assert example.sale(job) == {
        "cash box": 60_00,
        "card settlements": 99_23,
        "card fees": 2_86,
        "job income": -147_50,
        "sales tax payable": -9_59,
        "tips": -5_00,
    }


def test_a_balance_is_paid_later_in_two_parts(example: Example) -> None:
    job = example.job("Sampler, queen, twelve blocks")
    # 8,820 sq in at 0.012 is 105.84; binding 376 in at 0.24 is 90.24; tax on 196.08 is 12.7452
    assert example.sale(job) == {
        "owed by customers": 208_83,
        "job income": -196_08,
        "sales tax payable": -12_75,
    }
    assert [postings_of(entry) for entry in example.entries_of(job, "payment")] == [
        {"cash box": 100_00, "owed by customers": -100_00},
        {"checking": 108_83, "owed by customers": -108_83},
    ]
    assert job.owed_cents == 0


def test_one_balance_is_still_owed(books: Books, example: Example) -> None:
    job = example.job("Memory quilt from shirts, his wife's")
    # 4,608 sq in at 0.018 is 82.944; batting 80 in is 19.20; trimming 10.00; tax on 112.14 at 6.85 % is 7.68159
    assert job.owed_cents == 119_82
    assert [each.id for each in example.jobs if each.owed_cents] == [job.id]
    assert balance(books, "owed_by_customers", EXAMPLE_DAY) == 119_82


def test_a_discount_lowers_the_tax(example: Example) -> None:
    job = example.job("Nine patch, lap, her twelfth this year")
    # 43.52 + 16.80 - 10.00 = 50.32; tax 3.2708; by card, fee 2.7 % of 53.59 and 0.10
    assert example.sale(job) == {
        "card settlements": 52_04,
        "card fees": 1_55,
        "job income": -50_32,
        "sales tax payable": -3_27,
    }


def test_work_given_away_moves_no_money(example: Example) -> None:
    job = example.job("Baby quilt for the neighbour's first")
    assert job.status == "gone"
    assert example.entries_of(job) == []


def test_a_pickup_entered_as_cash_is_undone_and_entered_as_card_on_the_same_day(example: Example) -> None:
    job = example.job("Flying geese, throw, in greens")
    first, undone, second = example.entries_of(job)
    assert [each.kind for each in (first, undone, second)] == ["pickup", "reversal", "pickup"]
    assert first.on == undone.on == second.on
    assert postings_of(undone) == {name: -cents for name, cents in postings_of(first).items()}
    assert postings_of(first)["cash box"] == 82_83
    # 77.52 and its tax at 6.85 %, 5.31; fee 2.7 % of 82.83 and 0.10
    assert example.sale(job) == {
        "card settlements": 80_49,
        "card fees": 2_34,
        "job income": -77_52,
        "sales tax payable": -5_31,
    }


def test_a_piece_goes_back_with_a_backing_too_small_and_comes_again(example: Example) -> None:
    events = example.events_of(example.job("Courthouse steps, queen, with a small backing"))
    assert [what for what, _ in events] == ["in", "back", "in", "ready", "picked up"]


def test_a_piece_has_been_left_for_three_months_with_two_notices_and_storage(books: Books, example: Example) -> None:
    job = example.job("Tumbling blocks, throw, nobody has come for it")
    ready_on = dict(example.events_of(job))["ready"]
    assert job.status == "ready"
    assert timedelta(days=85) <= EXAMPLE_DAY - ready_on <= timedelta(days=95)
    notices = read_notices(books, job.id)
    assert [each.how.split(":")[0] for each in notices] == ["By telephone", "By registered letter"]
    assert ready_on < notices[0].on < notices[1].on < EXAMPLE_DAY
    assert [each.job.id for each in read_waiting(books, 60)] == [job.id]
    # 4,200 sq in at 0.0135 is 56.70; batting 78 in at 0.24 is 18.72; storage 2 months at 6.00
    assert [(line.name, line.cents) for line in job.lines] == [
        ("Edge-to-edge, open", 56_70),
        ("Cotton batting", 18_72),
        ("Storage, by the month", 12_00),
    ]


def test_lessons_were_answered_at_first_and_are_asked_about_now(books: Books, example: Example) -> None:
    lessons = [job for job in example.jobs if any(line.class_name == "lessons" for line in job.lines)]
    assert [example.treatments(job) for job in lessons] == [
        {("lessons", "not taxed")},
        {("lessons", "unanswered")},
        {("lessons", "unanswered")},
    ]
    assert all("sales tax payable" not in example.sale(job) for job in lessons)
    quarter = quarter_holding(EXAMPLE_DAY)
    totals = read_sales_tax(books, quarter.start, quarter.end)
    assert (totals.unanswered, totals.unanswered_cents) == (("lessons",), 63_00)
    assert any("lessons" in question for question in find_questions(books, quarter.start, quarter.end))
    first_year = parse_period("2024-11..2025-10")
    assert read_sales_tax(books, first_year.start, first_year.end).unanswered == ()


def spent(example: Example, words: str) -> list[dict[str, int]]:
    return [postings_of(entry) for entry in example.entries if entry.text.startswith(words)]


def test_a_mixed_receipt_is_split_between_the_purses_and_its_paper_kept(books: Books, example: Example) -> None:
    assert spent(example, "thread, Pantry and Notions") == [
        {
            "thread": 50_00,
            "owner's draws": 30_00,
            "workshop card": -80_00,
            "household spending": 30_00,
            "workshop mirror": -30_00,
        },
        {
            "thread": 20_00,
            "owner's contributions": -20_00,
            "workshop mirror": 20_00,
            "household spending": 30_00,
            "personal card": -50_00,
        },
    ]
    kept = books.rows("select label, digest from attachment where entry is not null")
    assert [row["label"] for row in kept] == ["pantry-and-notions.txt"]
    assert (books.folder / "documents" / kept[0]["digest"]).is_file()


def test_thread_on_the_personal_card_is_a_contribution(example: Example) -> None:
    assert spent(example, "Thread, the workshop card lay at home") == [
        {"thread": 36_20, "owner's contributions": -36_20, "workshop mirror": 36_20, "personal card": -36_20}
    ]


def test_thread_owed_to_the_owner_is_paid_back(books: Books, example: Example) -> None:
    borrowed = [entry for entry in example.entries if "owed to owner" in postings_of(entry)]
    assert [postings_of(entry) for entry in borrowed] == [
        {"thread": 54_75, "owed to owner": -54_75, "workshop mirror": 54_75, "personal card": -54_75},
        {"owed to owner": 54_75, "checking": -54_75, "household checking": 54_75, "workshop mirror": -54_75},
    ]
    assert balance(books, "owed_to_owner", EXAMPLE_DAY) == 0


def test_what_the_owner_put_in_adds_up(books: Books) -> None:
    # 600.00 to carry the first months, 36.20 of thread, 20.00 of the mixed receipt on the personal card
    assert balance(books, "owners_contributions", EXAMPLE_DAY) == -656_20


def test_an_entry_made_in_error_is_reversed_and_entered_again(example: Example) -> None:
    wrong = [entry for entry in example.entries if entry.kind == "spend" and entry.reversed_by]
    assert [postings_of(entry) for entry in wrong] == [{"needles and parts": 246_00, "workshop card": -246_00}]
    mirror, again = (
        next(each for each in example.entries if each.number == number)
        for number in (wrong[0].reversed_by, (wrong[0].reversed_by or 0) + 1)
    )
    assert postings_of(mirror) == {"needles and parts": -246_00, "workshop card": 246_00}
    assert postings_of(again) == {"needles and parts": 24_60, "workshop card": -24_60}
    assert wrong[0].on < mirror.on == again.on <= wrong[0].on + timedelta(days=2)


def test_batting_for_customers_is_bought_without_tax_and_kept_as_such(books: Books) -> None:
    rows = books.rows("select distinct account.name from untaxed_stock join account on account.id = account")
    assert {row["name"] for row in rows} == {"batting", "backing"}


def test_the_machine_was_there_before_the_books_began(books: Books) -> None:
    bought = date.fromisoformat(books.value("select on_date from machine_cost"))
    assert bought == date(2024, 9, 15) < books.settings.begun_on
