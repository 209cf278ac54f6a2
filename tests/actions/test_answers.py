"""An answer, its proof and what it feeds reach the books together, or nothing does; and the next figure goes by it."""

from __future__ import annotations

import hashlib
import shutil
from collections.abc import Iterator
from dataclasses import replace
from datetime import date
from pathlib import Path
from typing import Any

import pytest

from checklists import choices, records
from checklists.catalogue import shipped_catalogue
from checklists.item import Catalogue
from checklists.progress import Standing, standings
from checklists.records import add_answer, read_answers, read_standings
from ledger.actions.answers import AnswerRequest, Choice, SettledAnswer, perform, preview
from ledger.books.books import Books
from ledger.books.places import DOCUMENTS
from ledger.books.prove import prove
from ledger.books.settings import chosen
from ledger.errors import NotFound, NotPossible, NotUnderstood, Refused
from ledger.taxes import rules
from tests import workshop

DAY = date(2026, 2, 10)
OFFICE = "Ms Vance, revenue office"


@pytest.fixture(scope="module")
def begun(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The folder of books with rates, and no answer on any class."""
    books = workshop.begin(tmp_path_factory.mktemp("begun") / "books")
    workshop.add_rate(books, "Kansas state", "4.3")
    workshop.add_rate(books, "Riley county", "1.0")
    books.close()
    return books.folder


@pytest.fixture
def books(begun: Path, tmp_path: Path) -> Iterator[Books]:
    """A copy of these books, on a day in February."""
    copy = workshop.reopened(Path(shutil.copytree(begun, tmp_path / "books")), DAY)
    yield copy
    copy.close()


def answered(books: Books, item: str, value: str | None = None, **more: Any) -> SettledAnswer:
    return perform(books, AnswerRequest(item, value, **{"asked": OFFICE, **more}))


def standing_of(books: Books, item: str) -> Standing:
    return next(each for each in read_standings(books) if each.id == item)


def tables(books: Books) -> dict[str, int]:
    """The number of rows of every table that an answer can reach."""
    names = ("answer", "attachment", "choice", "class_answer", "record")
    return {name: books.value(f"select count(*) from {name}") for name in names}


# What she is told


def test_taxed_without_permit_or_rate_is_told_so(tmp_path: Path) -> None:
    bare = workshop.begin(tmp_path / "books")
    said = preview(bare, AnswerRequest("work_taxed", "yes", OFFICE)).remarks
    assert [each.split(":")[0] for each in said] == ["No sales tax permit is recorded yet", "No rate is in force yet"]
    assert preview(bare, AnswerRequest("work_taxed", "no", OFFICE)).remarks == ()
    bare.close()


def test_taxed_with_a_permit_that_ran_out_is_told_so(books: Books) -> None:
    answered(books, "sales_tax_permit", "004-1234", expires=DAY)
    assert preview(books, AnswerRequest("work_taxed", "yes", OFFICE)).remarks == ()
    tomorrow = workshop.on_day(books, date(2026, 2, 11))
    (said,) = preview(tomorrow, AnswerRequest("work_taxed", "yes", OFFICE)).remarks
    assert said.startswith("The sales tax permit ran out on 2026-02-10")


def test_another_form_of_business_is_told_whom_to_ask(books: Books) -> None:
    (said,) = answered(books, "structure", "something else").remarks
    assert "ask your accountant" in said


# States


def test_a_preview_writes_nothing_and_tells_what_would_be(books: Books) -> None:
    before = tables(books)
    settled = preview(books, AnswerRequest("Work-Taxed", " YES ", OFFICE))
    assert (settled.item.id, settled.state, settled.value) == ("work_taxed", "done", "yes")
    assert [str(each) for each in settled.fed] == ["«work» is taxed"]
    assert tables(books) == before


@pytest.mark.parametrize("state", ["asked", "open"])
def test_what_is_not_done_feeds_nothing_and_keeps_what_was_said(books: Books, state: str) -> None:
    settled = answered(books, "work_taxed", "they will call back", state=state)
    assert (settled.fed, settled.value) == ((), "they will call back")
    assert rules.answers_on(books, DAY) == {}
    assert standing_of(books, "work_taxed").state == state


def test_the_books_go_by_the_answer_before_while_she_asks_again(books: Books) -> None:
    answered(books, "work_taxed", "yes")
    settled = answered(books, "work_taxed", state="asked")
    assert settled.remarks == ("Until it is answered anew, the books go by the answer of 2026-02-10: yes.",)
    assert rules.answers_on(books, DAY) == {"work": True}


def test_does_not_apply_takes_a_choice_back(books: Books) -> None:
    answered(books, "visits_a_day", "4")
    settled = answered(books, "visits_a_day", state="does-not-apply")
    assert (settled.state, settled.fed) == ("does not apply", (Choice(choices.VISITS_A_DAY, ""),))
    assert choices.visits_a_day(books, DAY) is None
    assert answered(books, "visits_a_day", state="does not apply").fed == ()


def test_does_not_apply_takes_no_tax_class_back(books: Books) -> None:
    answered(books, "delivery_taxed", "no")
    settled = answered(books, "delivery_taxed", state="does not apply")
    assert rules.answers_on(books, DAY) == {"delivery": False}
    assert len(settled.remarks) == 1


def test_a_class_stays_as_it_was_answered_when_the_answer_is_due_again(books: Books) -> None:
    answered(books, "work_taxed", "yes", expires=date(2026, 3, 31))
    later = workshop.on_day(books, date(2026, 4, 1))
    assert standing_of(later, "work_taxed").state == "open"
    assert rules.answers_on(later, later.today) == {"work": True}


def test_an_item_that_waits_for_another_can_be_answered_all_the_same(books: Books) -> None:
    assert standing_of(books, "work_taxed").waits_for == ("sales_tax_permit",)
    answered(books, "work_taxed", "yes")
    assert standing_of(books, "work_taxed").state == "done"


def test_an_answer_comes_back_as_it_was_given(books: Books) -> None:
    answered(books, "work_taxed", "yes", reference="TSB 7", note="Mr Ames says so too.", expires=date(2027, 1, 31))
    (kept,) = read_answers(books)
    assert (kept.item, kept.state, kept.value, kept.asked) == ("work_taxed", "done", "yes", OFFICE)
    assert (kept.reference, kept.note, kept.on, kept.expires) == (
        "TSB 7",
        "Mr Ames says so too.",
        DAY,
        date(2027, 1, 31),
    )


# Proof


def test_a_proof_is_kept_with_the_item(books: Books, tmp_path: Path) -> None:
    letter = tmp_path / "letter.txt"
    letter.write_bytes(b"Work is taxed.")
    answered(books, "work_taxed", "yes", proof=letter)
    digest = hashlib.sha256(b"Work is taxed.").hexdigest()
    assert (books.folder / DOCUMENTS / digest).read_bytes() == b"Work is taxed."
    row = books.row("select * from attachment")
    assert row is not None
    assert (row["item"], row["digest"], row["label"]) == ("work_taxed", digest, "letter.txt")
    answer = standing_of(books, "work_taxed").answer
    assert answer is not None
    assert answer.document == digest
    assert prove(books).ok


@pytest.mark.parametrize("proof", ["missing.txt", "empty.txt"])
def test_a_proof_that_is_no_document_is_refused_whole(books: Books, tmp_path: Path, proof: str) -> None:
    (tmp_path / "empty.txt").touch()
    before = tables(books)
    with pytest.raises(Refused) as refused:
        answered(books, "work_taxed", "yes", proof=tmp_path / proof)
    assert refused.value.field == "proof"
    assert tables(books) == before


# Refusals


@pytest.mark.parametrize(
    ("item", "value", "more", "field", "kind"),
    [
        ("work_taxd", "yes", {}, "item", NotFound),
        ("work_taxed", "perhaps", {}, "value", NotUnderstood),
        ("work_taxed", None, {}, "value", NotUnderstood),
        ("work_taxed", " ", {}, "value", NotUnderstood),
        ("insurance_limit", "lots", {}, "value", NotUnderstood),
        ("income_tax_percent", "15", {}, "includes_self_employment", NotUnderstood),
        ("income_tax_percent", "115, yes, no", {}, "percent", NotUnderstood),
        ("filing_frequency", "quarterly, 32", {}, "due_day", NotUnderstood),
        ("filing_frequency", "weekly, 20", {}, "frequency", NotUnderstood),
        ("business_account", "123456789", {}, "value", NotUnderstood),
        ("sales_tax_permit", "123-45-6789", {}, "value", NotUnderstood),
        ("floor_share", "130 % of the house", {}, "value", NotUnderstood),
        ("floor_share", "25", {}, "value", NotUnderstood),
        ("sign_size", "large", {}, "value", NotUnderstood),
        ("people_working", "nobody", {}, "value", NotUnderstood),
        ("customer_hours", "9 to 5", {}, "value", NotUnderstood),
        ("rooms_measured", "180, 900, 1650", {}, "workshop_in_garage", NotUnderstood),
        ("rooms_measured", "1170, 900, 1650, 0, 0", {}, "workshop", NotUnderstood),
        ("rooms_measured", "180, 1700, 1650, 0, 0", {}, "floor", NotUnderstood),
        ("rooms_measured", "180, 900, 1650, 260, 200", {}, "workshop_in_garage", NotUnderstood),
        ("how_you_work", "0, 2, daily", {}, "hours", NotUnderstood),
        ("sales_tax_permit", "004", {"expires": date(2026, 2, 9)}, "expires", NotPossible),
        ("work_taxed", "yes", {"state": "finished"}, "state", NotUnderstood),
        ("work_taxed", "yes", {"asked": "  "}, "asked", NotUnderstood),
        ("work_taxed", "yes", {"note": "her number is 123-45-6789"}, "note", NotUnderstood),
        ("work_taxed", "yes", {"reference": ""}, "reference", NotUnderstood),
    ],
)
def test_what_is_wrong_is_refused_by_its_field_and_nothing_is_written(
    books: Books, item: str, value: str | None, more: dict[str, Any], field: str, kind: type[Refused]
) -> None:
    before = tables(books)
    with pytest.raises(kind) as refused:
        answered(books, item, value, **more)
    assert refused.value.field == field
    assert tables(books) == before


def test_where_feeding_fails_no_answer_and_no_proof_stays(
    books: Books, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fails(*_: object) -> None:
        raise NotPossible("The classes are closed.", "Try again.", "class")

    monkeypatch.setattr(rules, "answer_class", fails)
    letter = tmp_path / "letter.txt"
    letter.write_bytes(b"Work is taxed.")
    before = tables(books)
    with pytest.raises(NotPossible):
        answered(books, "work_taxed", "yes", proof=letter)
    assert tables(books) == before
    assert list((books.folder / DOCUMENTS).iterdir()) == []


# An update of the list


def without(catalogue: Catalogue, name: str) -> Catalogue:
    """The list as a later version could ship it, with one item gone."""
    stages = (
        replace(stage, items=tuple(each for each in stage.items if each.id != name)) for stage in catalogue.stages
    )
    return Catalogue(tuple(stages))


def test_an_answer_outlives_its_item_whichever_it_is(books: Books) -> None:
    names = [item.id for item in shipped_catalogue()]
    with books.writing() as write:
        for name in names:
            add_answer(books, write, name, "done", value=f"on {name}", asked=OFFICE)
    kept = read_answers(books)
    for name in names:
        standing = standings(without(shipped_catalogue(), name), kept, DAY)
        (gone,) = [each for each in standing if each.item is None]
        assert (gone.id, gone.state, gone.stage) == (name, "done", None)
        assert gone.answer is not None
        assert gone.answer.value == f"on {name}"
        assert {each.id for each in standing} == set(names)


def test_what_the_books_were_fed_outlives_the_item(books: Books, monkeypatch: pytest.MonkeyPatch) -> None:
    answered(books, "business_account", "County Bank, ending 4417")
    later = without(shipped_catalogue(), "business_account")
    monkeypatch.setattr(records, "shipped_catalogue", lambda: later)
    assert [each.id for each in read_standings(books) if each.item is None] == ["business_account"]
    assert chosen(books, choices.BUSINESS_ACCOUNT, DAY) == "County Bank, ending 4417"
    with pytest.raises(NotFound):
        answered(books, "business_account", "County Bank, ending 4417")


def test_answers_leave_the_books_whole(books: Books) -> None:
    answered(books, "work_taxed", "yes")
    answered(books, "filing_frequency", "yearly, 31")
    answered(books, "visits_a_day", state="does not apply")
    assert prove(books).findings == ()


def test_an_answer_entered_for_an_earlier_day_does_not_hide_a_later_one(books: Books) -> None:
    answered(books, "visits_a_day", "4")
    answered(workshop.on_day(books, date(2026, 1, 20)), "visits_a_day", "2")
    latest = standing_of(books, "visits_a_day").answer
    assert latest is not None
    assert latest.value == "4"
    assert choices.visits_a_day(books, DAY) == 4
    assert choices.visits_a_day(books, date(2026, 1, 31)) == 2
