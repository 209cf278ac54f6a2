"""The room of the set-up list: stages with progress, what can be asked first, what waits for what, a whole call."""

from __future__ import annotations

from pathlib import Path

import pytest
from icalendar import Calendar

from checklists.catalogue import shipped_catalogue
from checklists.item import Stage
from checklists.records import read_standings
from ledger.actions.answers import AnswerRequest, perform
from ledger.actions.registry import ACTS
from ledger.books.books import Books
from ledger.screens import set_up_page
from tests.screens.conftest import OpenBooks
from tests.screens.small_books import begin_small
from tests.screens.window import LARGE, SMALL, Window, opened


def told(books: Books, item: str, value: str | None, state: str = "done") -> None:
    perform(books, AnswerRequest(item, value, "Mr Hale", state))


def ids(window: Window) -> list[str]:
    return [each.id for each in window.screen.rows]  # type: ignore[attr-defined]


async def select(window: Window, item: str) -> str:
    """Put the cursor on an item; its page in one line."""
    window.screen.select(item)  # type: ignore[attr-defined]
    await window.settle()
    return " ".join(window.said_by("#page").split())


async def test_each_stage_has_its_progress_and_what_can_be_asked_stands_first(books: Books) -> None:
    told(books, "home_occupation", "by permit")
    told(books, "power", None, "asked")
    told(books, "covenants_or_lease", None, "does not apply")
    async with opened(books, LARGE) as window:
        await window.press("6")
        assert [str(cell) for cell in window.table(0)] == ["■□□□□□□□□□", "2 of 19", "Before you buy the machine"]
        first = ids(window)[1 : next(at for at, each in enumerate(ids(window)) if at and _is_stage(window, at))]
        by_id = {each.id: each for each in read_standings(books)}
        ranks = [
            3 if by_id[each].is_settled else 0 if by_id[each].can_be_asked else 2 if by_id[each].waits_for else 1
            for each in first
        ]
        assert ranks == sorted(ranks)
        assert set(ranks) == {0, 1, 2, 3}
        assert first[-2:] == ["home_occupation", "covenants_or_lease"]
        assert "visits_a_day" in first[:5], "what waited for the permit can be asked now"
        await window.press("ctrl+home")
        page = " ".join(window.said_by("#page").split())
        assert "1 done, 1 not here, 1 asked, 16 open." in page


def _is_stage(window: Window, at: int) -> bool:
    return isinstance(window.screen.rows[at], Stage)  # type: ignore[attr-defined]


async def test_a_page_says_by_title_what_comes_first_and_what_waits_for_it(books: Books) -> None:
    async with opened(books, LARGE) as window:
        await window.press("6")
        assert "Settle first: Sales tax permit before the first sale" in await select(window, "goods_taxed")
        assert "Waits for this: Your own resale certificate;" in await select(window, "sales_tax_permit")


async def test_after_an_answer_the_next_question_stands_under_the_cursor(books: Books) -> None:
    async with opened(books) as window:
        await window.press("6")
        assert window.screen.selected().id == "home_occupation"  # type: ignore[attr-defined]
        await window.press("a")
        assert "1. I want to finish other people's quilts" in window.text(), "the questions stand in the form"
        await window.type(value="by permit", asked="Mr Hale")
        await window.press("ctrl+s")
        following = window.screen.selected()  # type: ignore[attr-defined]
        assert following.id == ids(window)[1] == "floor_share", "it waited for the permit, and is the first one now"
        page = await select(window, "home_occupation")
        assert page.startswith("done: by permit, said Mr Hale on Mar 18, 2026")
        await window.press("a")
        await window.type(value="by another permit", asked="Mr Hale")
        await window.press("ctrl+s")
        page = await select(window, "home_occupation")
        assert page.index("by another permit") < page.index("done: by permit"), "the history stands there, newest first"


async def test_what_another_window_answered_leaves_the_cursor_where_it_was(books: Books) -> None:
    async with opened(books) as window:
        await window.press("6")
        told(books, "home_occupation", "by permit")
        window.screen.reload()  # type: ignore[attr-defined]
        await window.settle()
        assert window.screen.selected().id == "home_occupation"  # type: ignore[attr-defined]


async def test_an_answer_on_taxability_given_in_the_room_changes_the_next_pickup(open_copy: OpenBooks) -> None:
    books = open_copy(begin_small)
    async with opened(books) as window:
        await window.press("1", "p")
        before = window.text()
        await window.press("escape", "6")
        await select(window, "work_taxed")
        await window.press("a")
        await window.type(value="no", asked="Ms Roe")
        assert "The books go by it: «work» is not taxed" in window.text()
        await window.press("ctrl+s", "escape", "1", "p")
        after = window.text()
    tax = [line for line in before.splitlines() if "tax" in line.casefold()]
    assert tax != [line for line in after.splitlines() if "tax" in line.casefold()]


async def test_a_whole_call_is_one_form_with_a_field_for_each_item(books: Books) -> None:
    async with opened(books) as window:
        await window.press("6", "c")
        assert window.place == "PaperPage"
        assert "For paper:" in window.text()
        await window.press("enter", "o")
        assert "Answered by the zoning office" in window.text()
        fields = list(window.values())
        assert fields[0] == "asked"
        assert fields[-2:] == ["reference", "on"]
        await window.type(asked="Mr Hale", home_occupation="by permit", visits_a_day="four", sign_size="-")
        assert "no whole number" in window.faults()["visits_a_day"]
        await window.press("ctrl+s")
        assert window.place == "HeardForm"
        await window.type(visits_a_day="4", people_working="?")
        assert "The books go by it: visits a day: 4" in window.text()
        await window.press("ctrl+s")
        assert window.told()[-1].startswith("Kept: 4 of 7 answers of the zoning office")
        states = {each.id: each.state for each in read_standings(books)}
        wanted = ("home_occupation", "visits_a_day", "sign_size", "people_working", "floor_share")
        assert [states[each] for each in wanted] == ["done", "done", "does not apply", "asked", "open"]


async def test_her_own_words_are_typed_in_a_form_and_taken_back_in_it(books: Books) -> None:
    async with opened(books) as window:
        await window.press("6", "w")
        await window.type(title="Ask the town", question_1="May I?", question_2="", question_3="", question_4="")
        await window.press("ctrl+s")
        page = await select(window, "home_occupation")
        assert window.table()[2].strip() == "Ask the town"
        assert "1. May I? 2. May I put up a sign" in page
        await window.press("w")
        await window.type(listed="y")
        await window.press("ctrl+s")
        assert window.table()[2].strip() == "Work at home: what the zoning rules say"
        await window.press("w", "ctrl+s")
        assert "No other words were given" in window.faults()["title"]


async def test_an_item_is_hidden_brought_back_and_put_elsewhere(books: Books) -> None:
    async with opened(books) as window:
        await window.press("6", "h")
        assert "home_occupation" not in ids(window)
        assert window.told()[-1] == "Work at home: what the zoning rules say is hidden. g brings it back."
        await window.press("g", "ctrl+s")
        assert "home_occupation" in ids(window)
        await select(window, "home_occupation")
        await window.press("m")
        await window.type(before="no such item")
        await window.press("ctrl+s")
        assert "No item is called so" in window.faults()["before"]
        await window.type(before="", stage="every")
        await window.press("ctrl+s")
        found = ids(window)
        assert found.index("home_occupation") > found.index("every_quarter_and_year")
        await window.press("escape", "6", "g")
        assert window.told()[-1].startswith("No item is hidden.")


async def test_a_document_is_kept_with_an_item_and_its_name_stands_on_the_page(books: Books, tmp_path: Path) -> None:
    (tmp_path / "permit scan.pdf").write_bytes(b"no permit")
    async with opened(books) as window:
        await window.press("6", "f")
        assert window.values()["owner"] == "item home_occupation"
        await window.type(file=f"'{tmp_path / 'permit scan.pdf'}'")
        await window.press("ctrl+s")
        assert "by its content it is text" in window.told()[-1]
        page = " ".join(window.said_by("#page").split())
        assert "Proof: permit scan.pdf, kept Mar 18, 2026" in page


async def test_the_renewals_go_to_a_file_that_a_calendar_library_opens(books: Books, tmp_path: Path) -> None:
    told(books, "sales_tax_permit", "R-77")
    told(books, "insurance_limit", "25000")
    async with opened(books) as window:
        await window.press("6", "k")
        await window.type(file=str(tmp_path / "renewals.ics"))
        await window.press("ctrl+s")
        assert window.place == "SetUpRoom", window.text()
    calendar = Calendar.from_ical((tmp_path / "renewals.ics").read_bytes())
    assert [str(each["summary"]) for each in calendar.walk("VEVENT")]


@pytest.mark.parametrize("size", [SMALL, LARGE])
async def test_within_a_rule_is_told_on_the_page_too_and_the_value_in_care_beside_the_policy(
    books: Books, size: tuple[int, int]
) -> None:
    told(books, "insurance_limit", "2500")
    async with opened(books, size) as window:
        await window.press("6")
        page = await select(window, "insurance_limit")
        assert "Insurance limit: 2000.00 USD" in page
        assert "within what you were told (2500.00 USD)" in page
        assert "Here today:" in page


@pytest.mark.parametrize(
    ("act", "form", "file", "said"),
    [
        ("compare_prices", "PricesForm", "prices.toml", "each sets her own"),
        ("compare_machines", "MachinesForm", "machines.toml", "in all"),
    ],
)
async def test_a_worksheet_is_read_in_the_rooms_and_keeps_nothing(
    books: Books, act: str, form: str, file: str, said: str
) -> None:
    worksheet = Path(__file__).parents[1] / "commands" / "worksheets" / file
    async with opened(books) as window:
        window.app.do_here(act)  # type: ignore[attr-defined]
        await window.settle()
        assert window.place == form
        await window.type(file="no such file")
        await window.press("ctrl+s")
        assert set(window.faults()) == {"file"}
        await window.type(file=str(worksheet))
        assert window.faults() == {}
        await window.press("ctrl+s")
        assert window.place == "PaperPage"
        assert any(said in line for line in window.screen.lines)  # type: ignore[attr-defined]


def test_an_item_with_a_worksheet_names_it() -> None:
    for item, words in set_up_page._WORKSHEETS.items():
        assert any(each.words == words for each in ACTS)
        assert shipped_catalogue().item(item).id == item
