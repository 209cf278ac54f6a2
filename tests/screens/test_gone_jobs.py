"""Jobs that are gone: reached from the Bench, told with what became of them, and acted on there."""

from __future__ import annotations

from dataclasses import replace

import pytest

from ledger.actions import call_off, gift, give_up, pick_up, refund, retax, returned_payment, send_notice
from ledger.actions.registry import ACTS
from ledger.books.books import Books
from ledger.errors import Refused
from ledger.jobs.pickup import Sending
from ledger.jobs.refund import RefundRequest
from ledger.jobs.retax import RetaxRequest
from ledger.jobs.returned import ReturnedRequest
from ledger.screens.doors import room
from ledger.screens.forms.doors import form_of
from tests import workshop as w
from tests.screens.conftest import OpenBooks
from tests.screens.ended_books import BY_CARD, BY_CHECK, OVERPAID, OWES_FIRST, OWES_SECOND, begin_ended
from tests.screens.small_books import ASKED, READY, SECOND_READY
from tests.screens.window import SMALL, Window, opened

# Gone and paid since Jan 22.
LONG_GONE = 7
OF_GONE_JOBS = ("Refund", "Check back", "Pay", "Pay several", "Void", "Tax right", "Give up", "Account", "Bench")


@pytest.fixture
def ended(open_copy: OpenBooks) -> Books:
    return open_copy(begin_ended)


async def select(window: Window, job: int) -> None:
    window.app.enter("bench", job)
    await window.settle()
    assert window.table()[1] == str(job), window.text()


def foot(window: Window) -> list[str]:
    """The line of keys at the foot, as lines."""
    return [line for line in window.said_by("KeyLine").splitlines() if line.strip()]


async def test_h_lists_what_left_the_bench_the_latest_first_and_h_goes_back(ended: Books) -> None:
    async with opened(ended) as window:
        await window.press("1", "h")
        listed = [window.table(row)[1] for row in range(7)]
        assert listed == ["9", "11", "12", "10", "6", "8", "7"]
        assert [window.table(row)[0] for row in (0, 1)] == ["  gone", "$ owes"]
        await window.press("h")
        assert window.table(0)[0] == "● ready"


async def test_the_keys_at_the_foot_are_those_of_gone_jobs_while_they_are_listed(ended: Books) -> None:
    async with opened(ended) as window:
        await window.press("1")
        on_the_bench = foot(window)
        assert "Refund" not in " ".join(on_the_bench)
        await window.press("h")
        assert len(on_the_bench) <= 2
        assert len(foot(window)) <= 2
        assert all(words in " ".join(foot(window)) for words in OF_GONE_JOBS), foot(window)
        await window.press("h")
        assert foot(window) == on_the_bench


async def test_a_job_called_off_is_listed_among_them_and_none_that_came_back(ended: Books) -> None:
    call_off.perform(ended, call_off.CallOffRequest(SECOND_READY))
    async with opened(ended) as window:
        await window.press("1", "h")
        assert window.table(0)[:2] == ["  called off", str(SECOND_READY)]
        assert "Called off." in window.said_by("#detail")
        await select(window, BY_CHECK)
        await window.press("v")
        await window.type(why="another piece")
        await window.press("ctrl+s")
        assert window.told()[-1].endswith("undoes the pickup; job 9 is in hand again.")
        assert str(BY_CHECK) not in [window.table(row)[1] for row in range(7)]


async def test_one_is_found_by_its_name(ended: Books) -> None:
    async with opened(ended) as window:
        await window.press("slash", *"pinwheel", "enter")
        assert window.table()[:2] == ["  gone", str(LONG_GONE)]
        await window.press("f")
        assert window.place == "RefundForm"


async def test_gone_jobs_that_still_owe_stay_on_the_bench(ended: Books) -> None:
    async with opened(ended) as window:
        await window.press("1")
        table = [window.table(row)[:2] for row in range(9)]
        assert [row for row in table if row[0] == "$ owes"] == [["$ owes", "6"], ["$ owes", "10"], ["$ owes", "11"]]


async def test_a_job_called_off_that_owes_for_a_check_is_on_the_bench(ended: Books) -> None:
    returned_payment.perform(ended, ReturnedRequest(READY, charge_cents=25_00))
    call_off.perform(ended, call_off.CallOffRequest(READY))
    async with opened(ended) as window:
        await select(window, READY)
        assert window.table()[0] == "$ owes"


async def test_the_detail_tells_payments_refunds_and_what_was_put_right(ended: Books) -> None:
    refund.perform(ended, RefundRequest(BY_CHECK, 20_00, "cash", why="thread broke"))
    returned_payment.perform(ended, ReturnedRequest(BY_CHECK, charge_cents=25_00))
    retax.perform(ended, RetaxRequest(BY_CARD, "city rate", "cash"))
    give_up.perform(ended, give_up.GiveUpRequest(OWES_FIRST, "moved away"))
    async with opened(ended, (200, 60)) as window:
        await select(window, BY_CHECK)
        # 264 in of binding at 0.30, 5.3 percent, a tip of 5.00, and 25.00 for the check with the city's rate too.
        assert told(window)[2:10] == [
            "Charged, less what was given back 60.21",
            "Sales tax of it 3.19",
            "Tip 5.00",
            "Mar 16 Deposit, check 1018 10.00",
            "Mar 18 Paid, check 1021 78.40",
            "Mar 18 Given back, cash: thread broke 20.00",
            "Mar 18 Returned check 1021 78.40",
            "Mar 18 Charged for that 26.45",
        ]
        await select(window, BY_CARD)
        assert "Mar 18 Sales tax put right, cash: city rate 0.43" in told(window)
        await select(window, OWES_FIRST)
        assert "Mar 18 Given up: moved away 83.40" in told(window)
        assert not any("Still owed" in line for line in told(window))


async def test_the_detail_tells_notices_the_parcel_a_certificate_and_a_deposit_handed_back(ended: Books) -> None:
    send_notice.perform(ended, send_notice.NoticeRequest(READY, "phoned, left a message"))
    _, code = gift.perform(ended, gift.GiftRequest(30_00, "cash"))
    sending = Sending("Oregon", "Post", "9400 1", 400_00)
    request = w.pickup_request(SECOND_READY, "card")
    pick_up.perform(ended, replace(request, gifts=(code,), sending=sending))
    async with opened(ended, (200, 60)) as window:
        await select(window, READY)
        assert "Mar 18 Told: phoned, left a message" in told(window)
        assert "Feb 16 Deposit, check 50.00" in told(window)
        await select(window, SECOND_READY)
        assert f"Mar 18 Paid, certificate {code} 30.00" in told(window)
        assert "Sent by post: to Oregon, by Post, 9400 1, insured for $400.00" in told(window)


async def test_text_from_outside_is_shown_as_text_in_the_detail(ended: Books) -> None:
    refund.perform(ended, RefundRequest(BY_CHECK, 20_00, "cash", why="[red]x[/] \x1b]0;owned\x07"))
    send_notice.perform(ended, send_notice.NoticeRequest(READY, "[@click=app.quit]go[/] \u202eevil"))
    async with opened(ended, (200, 60)) as window:
        await select(window, BY_CHECK)
        assert "Given back, cash: [red]x[/] \ufffd]0;owned\ufffd" in window.text()
        await select(window, READY)
        assert "Told: [@click=app.quit]go[/] \ufffdevil" in window.text()


async def test_what_was_undone_is_told_no_more(ended: Books) -> None:
    _, _, sealed = refund.perform(ended, RefundRequest(BY_CHECK, 20_00, "cash"))
    w.reversed_entry(ended, sealed.number)
    async with opened(ended, (200, 60)) as window:
        await select(window, BY_CHECK)
        assert "Mar 18 Paid, check 1021 78.40" in told(window)
        assert not any("Given back," in line for line in told(window))


def told(window: Window) -> list[str]:
    """The selected job's detail, each line with single spaces."""
    return [" ".join(line.split()) for line in window.said_by("#detail").splitlines()]


@pytest.mark.parametrize(
    ("key", "job", "sentence"),
    [
        ("f", READY, "has no sale"),
        ("k", LONG_GONE, "No check and no card payment"),
        ("v", READY, "has no pickup to void"),
        ("c", LONG_GONE, "is gone"),
        ("o", LONG_GONE, "Nothing is owed on job 7."),
        ("x", LONG_GONE, "The tax of this sale is"),
        ("l", LONG_GONE, "Work is added before pickup"),
        ("t", ASKED, "is not here"),
        ("z", LONG_GONE, "There is nothing to hand back."),
        ("d", LONG_GONE, "A deposit is taken before pickup."),
        ("y", READY, "There is nothing to pay on it."),
    ],
)
async def test_an_act_that_cannot_be_done_says_so_before_anything_is_typed(
    ended: Books, key: str, job: int, sentence: str
) -> None:
    async with opened(ended) as window:
        await select(window, job)
        await window.press(key)
        assert window.place == "BenchRoom"
        assert sentence in window.told()[-1]


async def test_a_statement_of_account_is_printed_for_the_customer_who_is_selected(ended: Books) -> None:
    async with opened(ended) as window:
        await select(window, OWES_SECOND)
        await window.press("a")
        assert window.place == "PaperPage"
        assert "Kit Lane" in window.text()
        names = {path.name for path in (ended.folder / "receipts").iterdir()}
        assert {"account-C-010-2026-03-18.pdf", "account-C-010-2026-03-18.txt"} <= names
        await window.press("enter", "2", "a")
        assert window.place == "AccountForm"
        await window.type(customer="Lou Mercer")
        await window.press("ctrl+s")
        assert window.place == "PaperPage"
        assert "Nothing is owed." in window.text()


async def test_a_certificate_that_was_sold_is_shown_with_its_number_until_it_is_written_down(ended: Books) -> None:
    async with opened(ended) as window:
        await window.press("2", "g")
        assert "unclaimed property" in window.text()
        await window.type(amount="20", paid="cash")
        await window.press("ctrl+s")
        assert window.place == "PaperPage"
        assert "G-1002-02" in window.text()
        assert "unclaimed property" in window.text()


async def test_money_tells_what_customers_owe_what_cards_bring_and_which_gifts_are_out(ended: Books) -> None:
    async with opened(ended) as window:
        await window.press("2")
        # Owed: 6 with 52.65, 10 with 83.40, 11 with 29.48; the card's 90.98 less its fee and a gift's 75.00.
        line = window.said_by("#balances").splitlines()[-1]
        assert line == "Open (o)   customers owe $165.53 · cards $164.88 · gifts $75.00"
        await window.press("o")
        assert window.place == "PaperPage"
        assert "Job 10    Kit Lane             since Mar 16, 2026, 2 days" in window.text()
        assert "G-1001-05, sold Mar 18, 2026 over 75.00 to Fay Lund" in window.text()
        assert "state's law" in window.text()


async def test_a_deposit_above_the_total_stays_in_sight_until_it_is_handed_back(ended: Books) -> None:
    w.picked_up(ended, OVERPAID)
    async with opened(ended) as window:
        await window.press("2")
        # 40.00 held for batting of 80 in at 0.35 with 5.8 percent.
        assert window.said_by("#balances").splitlines()[-1].endswith("held $10.38")
        await window.press("o")
        assert "Deposits held for jobs that are gone" in window.text()
        await window.press("enter")
        await select(window, OVERPAID)
        assert "Deposit held 10.38" in told(window)
        await window.press("slash", *"deposit back", "enter", "ctrl+s")
        assert window.told()[-1].endswith("hands $10.38 back.")
        await window.press("2")
        assert "held" not in window.said_by("#balances").splitlines()[-1]


async def test_work_given_away_is_voided_though_no_entry_was_booked(ended: Books) -> None:
    w.picked_up(ended, SECOND_READY, discount="158.40")
    async with opened(ended) as window:
        await select(window, SECOND_READY)
        assert "Given away: nothing was charged." in told(window)
        await window.press("v")
        assert "no money moved" in window.said_by("#preview")
        await window.type(why="she pays after all")
        await window.press("ctrl+s")
        assert window.told()[-1] == "Job 2 is ready again; no money had moved."


async def test_a_payout_far_below_its_payments_is_doubted_and_one_that_was_taken_needs_money_that_went_back(
    ended: Books,
) -> None:
    async with opened(ended) as window:
        await window.press("2", "c")
        assert "2 payments on the way" in window.said_by("#preview")
        await window.type(amount="120")
        assert "That is a large fee" in window.said_by("#preview")
        await window.type(amount="160")
        assert "That is a large fee" not in window.said_by("#preview")
        await window.type(taken="yes")
        assert "less than that is not taken" in window.faults()["amount"]


async def test_keeping_a_deposit_waiting_pieces_goods_for_work_and_gifts_of_work_come_with_their_cautions(
    ended: Books,
) -> None:
    async with opened(ended) as window:
        await select(window, READY)
        await window.press("c")
        await window.type(deposit="kept")
        assert "state law decide" in window.said_by("#preview")
        await window.press("escape", "y", "t")
        assert "ask a lawyer" in window.said_by("#preview")
        await window.press("escape", "p")
        await window.type(barter="10", category="backing", what="cotton", paid="cash")
        assert "Barter is income" in window.said_by("#preview")
        await window.type(barter="", category="", what="", discount="100%")
        assert "your own time is no deduction" in window.said_by("#preview")


@pytest.mark.parametrize("act_id", [each.id for each in ACTS])
def test_every_act_has_a_form_or_is_done_at_once(ended: Books, act_id: str) -> None:
    said = ""
    try:
        form_of(act_id, ended, None)
    except Refused as refused:
        said = str(refused)
    assert "not done in the rooms" not in said


@pytest.mark.parametrize("name", ["bench", "money"])
async def test_no_key_has_two_meanings_in_a_room_and_the_footer_has_two_lines_at_most(ended: Books, name: str) -> None:
    keys = [binding.key for binding in type(room(name)).BINDINGS]
    assert len(keys) == len(set(keys))
    async with opened(ended, SMALL) as window:
        window.app.enter(name)
        await window.settle()
        assert len(foot(window)) <= 2
        assert "Find" in foot(window)[-1]
