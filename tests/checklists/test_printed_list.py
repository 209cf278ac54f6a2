"""The list on paper: every item with every question, what she was told, and room to write where it is open."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

from checklists.catalogue import shipped_catalogue
from checklists.item import Catalogue, Item
from checklists.printed_list import WIDTH, ListOnPaper, list_name, list_sheet
from checklists.progress import KeptAnswer, State, standings
from ledger.money import Currency
from ledger.paper.locales import LocalForms
from ledger.paper.plain import sheet_text
from ledger.paper.sheet import Facts, Heading, Notes, Sheet, Signatures, Title

DAY = date(2026, 6, 1)
FORMS = LocalForms("en_US", Currency("USD", 2))


def told(number: int, item: str, state: State, **more: str | date) -> KeptAnswer:
    plain = KeptAnswer(number, item, state, None, "Mr Ohm", None, None, date(2026, 3, 2), None, None)
    return replace(plain, **more)  # type: ignore[arg-type]


def sheet_of(*answers: KeptAnswer, catalogue: Catalogue | None = None) -> Sheet:
    catalogue = catalogue or shipped_catalogue()
    history: dict[str, list[KeptAnswer]] = {}
    for each in answers:
        history.setdefault(each.item, []).append(each)
    return list_sheet(ListOnPaper("Lantern", DAY, catalogue, standings(catalogue, answers, DAY), history), FORMS)


def words_of(sheet: Sheet) -> str:
    """Everything that the sheet says, in one line."""
    return " ".join(sheet_text(sheet, WIDTH).split())


def block_after(sheet: Sheet, heading: str, kind: type) -> list[object]:
    """The blocks of a kind between the heading of an item and the next one."""
    places = [place for place, each in enumerate(sheet.blocks) if isinstance(each, Heading | Title)]
    start = next(
        place for place, each in enumerate(sheet.blocks) if isinstance(each, Heading) and each.text.endswith(heading)
    )
    end = next((place for place in places if place > start), len(sheet.blocks))
    return [each for each in sheet.blocks[start:end] if isinstance(each, kind)]


def test_every_item_is_printed_with_every_question_in_the_order_of_the_list() -> None:
    sheet = sheet_of()
    headings = [each.text for each in sheet.blocks if isinstance(each, Heading)]
    assert headings == [f"[ ] {item.title}" for item in shipped_catalogue()]
    for item in shipped_catalogue():
        (facts,) = block_after(sheet, item.title, Facts)
        assert isinstance(facts, Facts)
        said = [value for _, value in facts.first]
        assert said == [item.ask, *item.questions, *item.differs, item.proof, item.caution, item.source_words]


def test_each_stage_begins_with_its_title_and_the_head_counts_them() -> None:
    sheet = sheet_of(told(1, "power", "does not apply"))
    stages = shipped_catalogue().stages
    titles = [each.text for each in sheet.blocks if isinstance(each, Title)]
    assert titles == ["Set-up list", *(f"{stage.order}. {stage.title}" for stage in stages)]
    head = next(each for each in sheet.blocks if isinstance(each, Facts))
    assert head.first[0] == (stages[0].title, f"1 of {len(stages[0].items)} settled")
    assert head.first[-1] == ("In all", f"1 of {len(list(shipped_catalogue()))} settled, 0 asked")


def test_every_answer_so_far_is_printed_and_room_to_write_only_where_it_is_not_settled() -> None:
    sheet = sheet_of(
        told(1, "power", "asked"),
        told(2, "power", "done", value="its own circuit", reference="E-117", note="Inspected.", on=date(2026, 3, 9)),
        told(3, "structure", "asked"),
    )
    title = shipped_catalogue().item("power").title
    notes = block_after(sheet, title, Notes)
    assert notes[-1] == Notes(
        (
            "Mar 2, 2026, Mr Ohm: asked.",
            "Mar 9, 2026, Mr Ohm: done, its own circuit, number E-117. Inspected.",
        )
    )
    assert block_after(sheet, f"[x] {title}", Signatures) == []
    asked = shipped_catalogue().item("structure").title
    assert len(block_after(sheet, f"[?] {asked}", Signatures)) == 1
    assert "holds through" not in words_of(sheet)
    assert "holds through Dec 31, 2026." in words_of(sheet_of(told(1, "power", "done", expires=date(2026, 12, 31))))


def test_an_item_of_her_own_is_printed_without_empty_lines() -> None:
    own = Item(
        "own_lamp", "A lamp", "", "yourself", ("Is it bright?",), "", "", (), None, None, (), (), (), is_own=True
    )
    first, *others = shipped_catalogue().stages
    sheet = sheet_of(catalogue=Catalogue((replace(first, items=(*first.items, own)), *others)))
    (facts,) = block_after(sheet, "A lamp", Facts)
    assert facts == Facts((("Ask", "yourself"), ("Question 1", "Is it bright?"), ("Source", "your own item")))
    assert block_after(sheet, "A lamp", Notes) == []


def test_what_is_gone_from_the_list_is_printed_with_its_answers() -> None:
    sheet = sheet_of(told(1, "moon_phase", "done", value="waning"))
    assert Title("No longer on the list") in sheet.blocks
    assert block_after(sheet, "moon_phase", Notes) == [Notes(("Mar 2, 2026, Mr Ohm: done, waning.",))]


def test_it_says_on_its_first_page_who_decides() -> None:
    words = words_of(sheet_of())
    assert words.index("The office or the licensed person") < words.index(next(iter(shipped_catalogue())).title)


def test_no_line_of_the_text_is_wider_than_a_screen() -> None:
    assert max(map(len, sheet_text(sheet_of(), WIDTH).splitlines())) <= WIDTH


def test_its_files_are_named_by_the_day() -> None:
    assert list_name(ListOnPaper("Lantern", DAY, shipped_catalogue(), (), {})) == "set-up-list-2026-06-01"
