"""A call sheet has every open question for one office, with room to write, on one page where they fit on one."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date
from io import BytesIO

import pytest
from pypdf import PdfReader

from checklists.call_sheet import HERSELF, WIDTH, call_sheet, office_of, offices, open_questions
from checklists.catalogue import shipped_catalogue
from checklists.item import AnswerPart, Catalogue, Item, Stage
from checklists.progress import KeptAnswer, State, standings
from ledger.errors import NotFound, NotPossible
from ledger.money import Currency
from ledger.paper.fonts import ShippedLetters
from ledger.paper.letterhead import Letterhead
from ledger.paper.locales import LETTER, LocalForms
from ledger.paper.marks import Stroke, Words
from ledger.paper.pages import set_pages
from ledger.paper.pdf import sheet_pdf
from ledger.paper.plain import sheet_text
from ledger.paper.sheet import MARGIN, Questions, Sheet
from tests.paper.test_picture_file import read

DAY = date(2026, 6, 1)
FORMS = LocalForms("en_US", Currency("USD", 2))
LETTERS = ShippedLetters()
ZONING, BANK = "zoning office of the town or county", "bank"
PLAIN = Item(
    id="item",
    title="Item",
    why="Why.",
    ask=ZONING,
    questions=("May I put up a sign?", "How large may it be?"),
    proof="",
    caution="",
    parts=(AnswerPart("value", "count"),),
    feeds=None,
    recurs=None,
    blocked_by=(),
    differs=(),
    sources=(),
)


def item(name: str, ask: str = ZONING, **more: object) -> Item:
    return replace(PLAIN, id=name, title=f"Title of {name}", ask=ask, **more)  # type: ignore[arg-type]


def listed(*items: Item) -> Catalogue:
    return Catalogue((Stage("a", "A", 1, items),))


def answered(name: str, state: State) -> KeptAnswer:
    return KeptAnswer(1, name, state, None, "Mr Hale", None, None, date(2026, 5, 4), None, None)


def pages_of(sheet: Sheet) -> int:
    return len(set_pages(sheet, LETTER, LETTERS))


def sheet_for(office: str, catalogue: Catalogue, answers: Sequence[KeptAnswer] = ()) -> Sheet:
    call = open_questions("Lantern", DAY, office, standings(catalogue, answers, DAY))
    return call_sheet(call, FORMS, pages_of)


def headings_of(sheet: Sheet) -> list[str]:
    return [heading for heading, _ in questions_of(sheet).groups]


def questions_of(sheet: Sheet) -> Questions:
    (found,) = (block for block in sheet.blocks if isinstance(block, Questions))
    return found


def test_only_what_is_open_or_put_to_this_office_is_asked() -> None:
    catalogue = listed(
        item("open"),
        item("asked"),
        item("done"),
        item("elsewhere"),
        item("bank", BANK),
        item("waits", blocked_by=("open",)),
    )
    answers = [answered("asked", "asked"), answered("done", "done"), answered("elsewhere", "does not apply")]
    assert headings_of(sheet_for(ZONING, catalogue, answers)) == [
        "Title of open",
        "Title of asked (put to Mr Hale on May 4, 2026)",
        "Title of waits",
    ]


def test_an_answer_that_feeds_the_books_is_told_in_its_form() -> None:
    count = item("count", feeds="visits_a_day")
    text = item("words", feeds="permit", parts=(AnswerPart("value", "text"),))
    assert headings_of(sheet_for(ZONING, listed(count, text))) == [
        "Title of count (record it as: count)",
        "Title of words",
    ]


def test_what_is_due_again_is_asked_again() -> None:
    catalogue = listed(item("policy", recurs="FREQ=MONTHLY"))
    old = replace(answered("policy", "done"), on=date(2026, 3, 1))
    assert headings_of(sheet_for(ZONING, catalogue, [old])) == ["Title of policy"]


def test_every_question_has_a_line_to_write_on_and_the_text_has_them_too() -> None:
    sheet = sheet_for(ZONING, listed(item("one"), item("two")))
    (page,) = set_pages(sheet, LETTER, LETTERS)
    right_half = [mark for mark in page if isinstance(mark, Stroke) and mark.x > LETTER.width / 2]
    assert len([mark for mark in right_half if mark.tone == "ink"]) == 4 + 1, "four answers, and the day"
    text = sheet_text(sheet, WIDTH)
    assert text.count("How large may it be?") == 2
    assert max(map(len, text.splitlines())) <= 80
    assert text.count("\n  ____") == 4


@pytest.mark.parametrize("office", offices(shipped_catalogue()))
def test_the_shipped_questions_for_every_office_are_all_on_the_sheet(office: str) -> None:
    sheet = sheet_for(office, shipped_catalogue())
    pdf = PdfReader(BytesIO(sheet_pdf(sheet, LETTER)))
    words = " ".join(" ".join(page.extract_text().split()) for page in pdf.pages)
    asked = [question for each in shipped_catalogue() if each.ask == office for question in each.questions]
    text = " ".join(sheet_text(sheet, WIDTH).split())
    assert asked
    for question in asked:
        assert question in text
        assert question.split()[0] in words


@pytest.mark.parametrize("office", offices(shipped_catalogue()))
def test_the_shipped_questions_for_every_office_fit_one_page_in_letters_that_can_be_read(office: str) -> None:
    """Also while nothing is answered, when the revenue office and the accountant have some forty each."""
    sheet = sheet_for(office, shipped_catalogue())
    assert pages_of(sheet) == 1
    assert questions_of(sheet).size >= 7.0


@pytest.mark.parametrize("office", ["state revenue office", "accountant", ZONING, BANK])
def test_a_letterhead_with_a_picture_takes_no_question_off_its_page_and_makes_no_letter_smaller(office: str) -> None:
    call = open_questions("Lantern", DAY, office, standings(shipped_catalogue(), (), DAY))
    headed = call_sheet(call, FORMS, pages_of, Letterhead(("14 Alder Lane", "555 0142"), read("tall.png")))
    assert headed.picture is not None
    assert pages_of(headed) == 1
    assert questions_of(headed) == questions_of(sheet_for(office, shipped_catalogue()))
    assert "14 Alder Lane" not in headed.letterhead


def test_where_room_is_scarce_an_answer_begins_on_the_last_line_of_its_question_and_crosses_no_word() -> None:
    (page,) = set_pages(sheet_for("state revenue office", shipped_catalogue()), LETTER, LETTERS)
    lines = [mark for mark in page if isinstance(mark, Stroke) and mark.tone == "ink"]
    words = [mark for mark in page if isinstance(mark, Words)]
    ends = [(each, each.x + LETTERS.width_of(each.text, each.face, each.size)) for each in words if not each.ends_at_x]
    level = [
        (line, end)
        for line in lines
        for each, end in ends
        if each.down - each.size < line.down < each.down + each.size / 2
    ]
    same_column = [(line, end) for line, end in level if line.x < LETTER.width / 2 or end > LETTER.width / 2]
    assert len(same_column) > 10
    assert all(end < line.x or end > line.to_x for line, end in level)


@pytest.mark.parametrize(
    ("number", "in_columns", "pages"), [(4, False, 1), (12, False, 1), (40, True, 1), (48, False, 2)]
)
def test_answers_move_under_their_questions_where_that_saves_a_page(number: int, in_columns: bool, pages: int) -> None:
    question = "How much may it be in all, and for one piece, and what is my part?"
    items = [item(f"item_{place}", questions=(question,) * 4) for place in range(number // 4)]
    sheet = sheet_for(ZONING, listed(*items))
    assert (questions_of(sheet).in_columns, pages_of(sheet)) == (in_columns, pages)
    lines = [mark for page in set_pages(sheet, LETTER, LETTERS) for mark in page if isinstance(mark, Stroke)]
    assert len([mark for mark in lines if mark.tone == "ink"]) == len(items) * 4 + 3
    for page in set_pages(sheet, LETTER, LETTERS):
        assert all(sheet.margin - 0.1 <= mark.down <= LETTER.height - sheet.margin + 0.1 for mark in page)


def test_few_questions_have_the_most_room_and_many_less() -> None:
    few = sheet_for(ZONING, listed(item("one")))
    many = sheet_for(ZONING, listed(*(item(f"item_{number}") for number in range(9))))
    assert questions_of(few).room > 2 * questions_of(many).room > 20
    assert pages_of(many) == 1


def test_more_questions_than_a_page_holds_go_on_and_none_is_dropped() -> None:
    questions = tuple(f"Question {number}, and what does it cost in our town?" for number in range(90))
    sheet = sheet_for(ZONING, listed(item("long", questions=questions)))
    assert pages_of(sheet) > 1
    (group,) = questions_of(sheet).groups
    assert (len(group[1]), questions_of(sheet).room) == (90, 26.0)
    for page in set_pages(sheet, LETTER, LETTERS):
        assert all(MARGIN <= mark.down <= LETTER.height - MARGIN for mark in page)


# Which office


def test_an_office_is_found_by_its_name_and_by_an_item_that_asks_it() -> None:
    catalogue = listed(item("floor_share"), item("account", BANK), item("own", HERSELF))
    assert offices(catalogue) == (ZONING, BANK)
    assert office_of(catalogue, " Zoning  Office of the town or county ") == ZONING
    assert office_of(catalogue, "floor-share") == ZONING
    assert office_of(catalogue, "Account") == BANK


def test_an_unknown_office_is_refused_with_the_nearest_ones() -> None:
    with pytest.raises(NotFound) as refused:
        office_of(listed(item("a"), item("b", BANK)), "bnk")
    assert refused.value.field == "office"
    assert "«bank»" in refused.value.do


def test_an_item_that_she_answers_herself_has_no_office() -> None:
    for name in ("own", "Own"):
        with pytest.raises(NotPossible) as refused:
            office_of(listed(item("own", HERSELF)), name)
        assert (refused.value.field, "no office" in refused.value.what) == ("office", True)
    with pytest.raises(NotFound):
        office_of(listed(item("own", HERSELF), item("bank", BANK)), HERSELF)


def test_an_office_with_nothing_open_is_refused() -> None:
    with pytest.raises(NotPossible) as refused:
        open_questions("Lantern", DAY, BANK, standings(listed(item("a")), [], DAY))
    assert refused.value.field == "office"


def test_the_files_are_named_by_office_and_day() -> None:
    call = open_questions("Lantern", DAY, ZONING, standings(listed(item("a")), [], DAY))
    assert call.name == "call-sheet-zoning-office-of-the-town-or-2026-06-01"
    odd = open_questions("Lantern", DAY, "../Bürgeramt", standings(listed(item("a", "../Bürgeramt")), [], DAY))
    assert odd.name == "call-sheet-b-rgeramt-2026-06-01"
    none = open_questions("Lantern", DAY, "役所", standings(listed(item("a", "役所")), [], DAY))
    assert none.name == "call-sheet-office-2026-06-01"
