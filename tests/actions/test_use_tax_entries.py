"""What use tax books, each entry whole: untaxed stock kept, given, shown or used up, and goods bought without tax."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from pathlib import Path

import pytest

from ledger.actions import use_untaxed
from ledger.actions.use_untaxed import SoldRequest, Used, UseRequest, WorkAnswerRequest
from ledger.books.books import Books
from ledger.books.entries import read_entry
from ledger.books.prove import prove
from ledger.errors import NotFound, NotPossible, NotUnderstood
from ledger.machine.payback_record import read_payback
from ledger.taxes.untaxed_stock_records import read_lots, read_uses
from ledger.taxes.use_tax import read_use_tax
from tests.workshop import (
    add_rate,
    begin,
    begin_taxed,
    cents,
    crossing_sum,
    lines_of,
    on_day,
    purse_sums,
    reversed_entry,
    spent,
    written,
)

FIRST, LAST = date(2026, 1, 5), date(2026, 12, 31)
LATER = date(2026, 4, 1)


@pytest.fixture
def books(tmp_path: Path) -> Iterator[Books]:
    opened = begin_taxed(tmp_path / "books", opening_cents=1_000_00)
    yield opened
    assert purse_sums(opened) == {"business": 0, "personal": 0}
    assert crossing_sum(opened) == 0
    assert prove(opened).findings == ()
    opened.close()


@pytest.fixture
def batting(books: Books) -> int:
    """The entry that bought batting for 100.00 without tax."""
    return spent(books, "100.00", "batting", "checking", untaxed=True)


def use(books: Books, amount: str, purpose: str = "own", what: str = "a quilt", **more: object) -> tuple[Used, int]:
    used, sealed = use_untaxed.perform(books, UseRequest(cents(amount), what, purpose, **more))  # type: ignore[arg-type]
    return used, sealed.number if sealed is not None else 0


def sell(books: Books, amount: str, **more: object) -> None:
    use_untaxed.perform_sold(books, SoldRequest(cents(amount), "for Ada", **more))  # type: ignore[arg-type]


def say(books: Books, answer: str, category: str | None = None, from_date: date | None = None) -> list[int]:
    request = WorkAnswerRequest(answer, "the revenue office", category, from_date)  # type: ignore[arg-type]
    return [each.number for each in use_untaxed.answer(books, request)]


def left(books: Books, day: date | None = None) -> list[int]:
    return [each.left_cents for each in read_lots(books, day or books.today)]


@pytest.mark.parametrize("purpose", ["own", "charity"])
@pytest.mark.usefixtures("batting")
def test_what_she_keeps_or_gives_to_charity_is_a_draw_with_its_use_tax(books: Books, purpose: str) -> None:
    used, entry = use(books, "40.00", purpose)
    assert used.tax_cents == 2_12
    assert lines_of(books, entry) == written("owner's draws +42.12", "batting -40.00", "use tax payable -2.12")
    assert lines_of(books, entry, "personal") == written("household spending +42.12", "workshop mirror -42.12")
    assert left(books) == [60_00]


@pytest.mark.parametrize("purpose", ["customer", "sample"])
@pytest.mark.usefixtures("batting")
def test_what_is_given_to_a_customer_or_made_a_sample_is_advertising(books: Books, purpose: str) -> None:
    _, entry = use(books, "40.00", purpose)
    assert lines_of(books, entry) == written("advertising +42.12", "batting -40.00", "use tax payable -2.12")
    assert lines_of(books, entry, "personal") == []


def test_needles_used_up_bear_their_use_tax_where_the_state_calls_it_use(books: Books) -> None:
    spent(books, "40.00", "needles and parts", "checking", untaxed=True)
    say(books, "use")
    _, entry = use(books, "40.00", "work")
    assert lines_of(books, entry) == written("needles and parts +2.12", "use tax payable -2.12")
    assert left(books) == [0]


def test_thread_used_up_owes_nothing_where_the_state_calls_it_resale(books: Books) -> None:
    spent(books, "40.00", "thread", "checking", untaxed=True)
    say(books, "resale", "thread")
    used, entry = use(books, "15.00", "work")
    assert (used.tax_cents, entry, used.unanswered_cents) == (0, 0, 0)
    assert left(books) == [25_00]


def test_without_an_answer_what_is_used_up_waits_and_is_booked_once_she_has_one(books: Books) -> None:
    spent(books, "40.00", "thread", "checking", untaxed=True)
    used, entry = use(books, "15.00", "work")
    assert (used.tax_cents, entry, used.unanswered_cents) == (0, 0, 15_00)
    assert left(books) == [25_00]
    (booked,) = say(on_day(books, LATER), "use")
    assert lines_of(books, booked) == written("thread +0.80", "use tax payable -0.80")
    assert read_entry(books, booked).belongs_on == FIRST
    later = on_day(books, LATER)
    assert [each.how for each in read_uses(later, LATER)] == ["work as use"]
    assert left(later) == [25_00]
    assert say(later, "use") == [], "nothing is booked twice"


def test_what_waited_is_taxed_at_the_rate_of_the_day_on_which_it_was_used(books: Books) -> None:
    spent(books, "100.00", "thread", "checking", untaxed=True)
    use(books, "100.00", "work")
    add_rate(books, "Riley county", "2.0", LATER)
    (booked,) = say(on_day(books, LATER), "use")
    assert lines_of(books, booked) == written("thread +5.30", "use tax payable -5.30")


def test_what_owes_less_than_half_a_cent_is_used_up_without_an_entry(books: Books) -> None:
    spent(books, "40.00", "thread", "checking", untaxed=True)
    use(books, "0.09", "work")
    assert say(books, "use") == []
    used, entry = use(books, "0.09", "work")
    assert (used.tax_cents, entry, used.unanswered_cents) == (0, 0, 0)
    assert [(each.how, each.entry) for each in read_uses(books, FIRST)] == [("work as use", None)] * 2
    assert left(books) == [39_82]
    with pytest.raises(NotPossible, match="comes to nothing"):
        use(books, "0.09", "bought", category="thread")
    _, entry = use(books, "0.09")
    assert lines_of(books, entry) == written("owner's draws +0.09", "thread -0.09")


def test_an_answer_for_one_category_goes_before_that_for_all(books: Books) -> None:
    spent(books, "30.00", "batting", "checking", untaxed=True)
    spent(books, "20.00", "thread", "checking", untaxed=True)
    say(books, "resale")
    say(books, "use", "thread")
    used, entry = use(books, "50.00", "work")
    assert lines_of(books, entry) == written("thread +1.06", "use tax payable -1.06")
    assert used.tax_cents == 1_06
    assert [(each.how, each.cents) for each in read_uses(books, FIRST)] == [
        ("work as resale", 30_00),
        ("work as use", 20_00),
    ]


@pytest.mark.usefixtures("batting")
def test_what_was_sold_books_nothing_and_can_be_said_by_what_lies_there_still(books: Books) -> None:
    sell(books, "25.00")
    assert left(books) == [75_00]
    sell(books, "30.00", is_left=True)
    assert left(books) == [30_00]
    with pytest.raises(NotPossible, match="nothing was sold") as refused:
        sell(books, "30.00", is_left=True)
    assert refused.value.field == "left"
    assert read_use_tax(books, FIRST, LAST).tax_cents == 0


@pytest.mark.usefixtures("batting")
def test_what_was_told_without_an_entry_can_be_taken_back_and_what_was_booked_is_undone(books: Books) -> None:
    sell(books, "25.00")
    use_untaxed.strike(books, 1)
    assert left(books) == [100_00]
    with pytest.raises(NotFound, match="no use 1 of stock"):
        use_untaxed.strike(books, 1)
    _, entry = use(books, "40.00")
    with pytest.raises(NotPossible, match=f"booked with entry {entry}"):
        use_untaxed.strike(books, 3)
    reversed_entry(books, entry)
    assert left(books) == [100_00]
    assert read_uses(books, FIRST) == ()
    assert read_use_tax(books, FIRST, LAST).tax_cents == 0


def test_a_purchase_of_which_something_was_used_is_not_undone(books: Books, batting: int) -> None:
    _, entry = use(books, "40.00")
    with pytest.raises(NotPossible, match=f"Stock of entry {batting} was used"):
        reversed_entry(books, batting)
    reversed_entry(books, entry)
    reversed_entry(books, batting)
    assert left(books) == []


def test_what_the_shop_takes_back_is_gone_and_is_no_more_than_is_left(books: Books, batting: int) -> None:
    use(books, "40.00")
    with pytest.raises(NotPossible, match="Only 60.00 of batting"):
        spent(books, "60.01", "batting", "checking", untaxed=True, is_back=True)
    spent(books, "50.00", "batting", "checking", untaxed=True, is_back=True)
    assert left(books) == [10_00]
    with pytest.raises(NotPossible, match="Only 10.00"):
        use(books, "10.01")
    with pytest.raises(NotPossible, match=f"Stock of entry {batting}"):
        reversed_entry(books, batting)


def test_what_is_entered_late_does_not_use_stock_twice(books: Books, batting: int) -> None:
    use(on_day(books, LATER), "90.00", purchase=batting)
    with pytest.raises(NotPossible, match="Only 10.00"):
        use(books, "20.00")
    assert left(books) == [100_00], "by the end of the first day nothing was used"


def test_use_tax_is_split_by_largest_remainder_and_told_by_jurisdiction(books: Books, batting: int) -> None:
    _, entry = use(books, "40.00", purchase=batting)
    told = read_use_tax(books, FIRST, LAST)
    assert [(each.jurisdiction, each.base_cents, each.tax_cents) for each in told.by_jurisdiction] == [
        ("Kansas state", 40_00, 1_72),
        ("Riley county", 40_00, 40),
    ]
    assert (told.base_cents, told.tax_cents) == (40_00, 2_12)
    reversed_entry(on_day(books, LATER), entry)
    assert read_use_tax(books, LATER, LAST).tax_cents == -2_12, "undone in another period it is taken off there"


def test_the_machine_bought_without_tax_costs_its_use_tax_too(books: Books) -> None:
    before = read_payback(books).cost_cents
    used, entry = use(books, "18500.00", "bought", "the machine", category="Machine")
    assert used.tax_cents == 980_50
    assert lines_of(books, entry) == written("machine +980.50", "use tax payable -980.50")
    assert read_payback(books).cost_cents == before + 980_50
    reversed_entry(books, entry)
    assert read_payback(books).cost_cents == before


def test_what_was_bought_online_is_taxed_as_of_the_day_it_was_bought_and_only_once(books: Books) -> None:
    order = spent(books, "30.00", "office supplies", "checking")
    add_rate(books, "Riley county", "2.0", LATER)
    later = on_day(books, LATER)
    _, entry = use(later, "20.00", "bought", "paper", purchase=order)
    assert lines_of(books, entry) == written("office supplies +1.06", "use tax payable -1.06")
    with pytest.raises(NotPossible, match="Only 10.00 of entry"):
        use(later, "10.01", "bought", purchase=order)
    with pytest.raises(NotPossible, match=f"was booked with entry {entry}"):
        reversed_entry(later, order)


def test_what_cannot_be_used_is_refused_with_the_field_that_says_it(books: Books, batting: int) -> None:
    for error, field, request in (
        (NotPossible, "amount", UseRequest(100_01, "a quilt")),
        (NotFound, "bought_in", UseRequest(1_00, "a quilt", purchase=99)),
        (NotFound, "category", UseRequest(1_00, "a quilt", category="cotton")),
        (NotPossible, "amount", UseRequest(1_00, "a quilt", category="thread")),
        (NotPossible, "bought_in", UseRequest(1_00, "a quilt", "bought", "batting", batting)),
        (NotPossible, "category", UseRequest(1_00, "a quilt", "bought")),
        (NotUnderstood, "what", UseRequest(1_00, "  ")),
    ):
        with pytest.raises(error) as refused:
            use_untaxed.perform(books, request)
        assert refused.value.field == field, request


def test_without_a_rate_use_tax_is_not_guessed(tmp_path: Path) -> None:
    bare = begin(tmp_path / "books")
    spent(bare, "40.00", "batting", "checking", untaxed=True)
    with pytest.raises(NotPossible, match="No rate is in force"):
        use(bare, "40.00")
    assert read_uses(bare, LAST) == ()
    bare.close()
