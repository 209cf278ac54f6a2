"""What an office said in one call is kept all together, or not at all."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from checklists.records import read_answers, read_standings
from ledger.actions.hear_call import HeardRequest, perform, preview, read_call
from ledger.books.books import Books
from ledger.books.prove import prove
from ledger.errors import NotFound, NotPossible, NotUnderstood, Refused
from ledger.taxes.rules import answers_on
from tests.workshop import begin

REVENUE = "state revenue office"


@pytest.fixture
def books(tmp_path: Path) -> Iterator[Books]:
    opened = begin(tmp_path / "books")
    yield opened
    assert prove(opened).ok
    opened.close()


def states(books: Books) -> dict[str, str]:
    return {each.id: each.state for each in read_standings(books)}


def test_a_whole_call_is_kept_at_once_and_feeds_the_books(books: Books) -> None:
    told = (
        ("filing_frequency", "quarterly, 20"),
        ("goods-taxed", "yes"),
        ("work_taxed", "no"),
        ("delivery_taxed", "?"),
        ("out_of_state", "-"),
    )
    done = perform(books, HeardRequest(REVENUE, "Ms Roe", told, "Ruling 12"))
    assert [each.item.id for each in done] == [
        "goods_taxed",
        "work_taxed",
        "delivery_taxed",
        "out_of_state",
        "filing_frequency",
    ]
    found = states(books)
    assert {found[each] for each in ("goods_taxed", "work_taxed", "filing_frequency")} == {"done"}
    assert (found["delivery_taxed"], found["out_of_state"]) == ("asked", "does not apply")
    assert answers_on(books, books.today) == {"goods": True, "work": False}
    assert {(each.asked, each.reference) for each in read_answers(books)} == {("Ms Roe", "Ruling 12")}
    assert "goods_taxed" not in [each.id for each in read_call(books, REVENUE).items]


def test_one_answer_that_cannot_be_kept_keeps_them_all_out_and_is_named(books: Books) -> None:
    told = (("goods_taxed", "yes"), ("work_taxed", "perhaps"))
    for act in (preview, perform):
        with pytest.raises(Refused) as refused:
            act(books, HeardRequest(REVENUE, "Ms Roe", told))
        assert refused.value.field == "work_taxed"
    assert read_answers(books) == ()
    assert answers_on(books, books.today) == {}


@pytest.mark.parametrize(
    ("office", "asked", "told", "error", "field"),
    [
        (REVENUE, "", (("goods_taxed", "yes"),), NotUnderstood, "asked"),
        (REVENUE, "Ms Roe", (), NotUnderstood, "machine_tax"),
        (REVENUE, "Ms Roe", (("power", "yes"),), NotFound, "power"),
        ("the moon", "Ms Roe", (("power", "yes"),), NotFound, "office"),
        ("rooms_measured", "me", (("rooms_measured", "yes"),), NotPossible, "office"),
    ],
)
def test_a_call_that_cannot_be_kept_names_what_is_wrong(
    books: Books, office: str, asked: str, told: tuple[tuple[str, str], ...], error: type[Refused], field: str
) -> None:
    with pytest.raises(error) as refused:
        perform(books, HeardRequest(office, asked, told))
    assert refused.value.field == field


def test_no_social_security_number_comes_in_by_a_call(books: Books) -> None:
    with pytest.raises(NotUnderstood, match="Social Security"):
        perform(books, HeardRequest(REVENUE, "Ms Roe", (("machine_tax", "123-45-6789"),)))
