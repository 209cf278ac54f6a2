"""The list that comes with the program, laid under what she added and changed: nothing is lost, whatever comes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from checklists.item import OWN, AnswerPart, Catalogue, Item, Stage
from checklists.own_list import (
    FIRST,
    ItemChange,
    What,
    Wording,
    hidden_ids,
    id_for,
    merged,
    new_items,
    places,
    stage_called,
)
from tests.checklists.test_progress import FIRST as FIRST_DAY
from tests.checklists.test_progress import PLAIN

NAMES = [f"item_{number}" for number in range(6)]
OWN_NAMES = ["own_chair", "own_lamp"]
STAGES = ["early", "late"]


def item(name: str) -> Item:
    return replace(PLAIN, id=name, title=name, ask="office", questions=("Is it?",))


def listed(*stages: Sequence[str]) -> Catalogue:
    """A stage for each list of ids."""
    return Catalogue(
        tuple(
            Stage(name, name.title(), order, tuple(map(item, ids)))
            for order, (name, ids) in enumerate(zip(STAGES, stages, strict=True), start=1)
        )
    )


def change(number: int, name: str, what: What, **told: str | None | Wording) -> ItemChange:
    return ItemChange(number, name, what, FIRST_DAY, **told)  # type: ignore[arg-type]


def added(number: int, name: str, stage: str = "late", follows: str | None = None) -> ItemChange:
    wording = Wording(title=name, ask="yourself", questions=("Is it?",))
    return change(number, name, "added", stage=stage, follows=follows, wording=wording)


def ids_of(catalogue: Catalogue) -> list[list[str]]:
    return [[each.id for each in stage.items] for stage in catalogue.stages]


@st.composite
def shipped_lists(draw: st.DrawFn) -> Catalogue:
    names = draw(st.permutations(NAMES))
    count, cut = draw(st.integers(0, len(names))), draw(st.integers(0, len(names)))
    return listed(names[: min(count, cut)], names[min(count, cut) : max(count, cut)])


@st.composite
def changes_of_hers(draw: st.DrawFn) -> list[ItemChange]:
    """Items of her own, then up to ten changes of any item, in any place."""
    anywhere = st.sampled_from([*NAMES, *OWN_NAMES, FIRST, None])
    stages = st.sampled_from([*STAGES, "gone"])
    found = [added(number, name, draw(stages), draw(anywhere)) for number, name in enumerate(OWN_NAMES, start=1)]
    acts = st.tuples(
        st.sampled_from([*NAMES, *OWN_NAMES]), st.sampled_from(["moved", "hidden", "shown"]), stages, anywhere
    )
    for number, (name, what, stage, follows) in enumerate(draw(st.lists(acts, max_size=10)), start=len(found) + 1):
        found.append(change(number, name, what, stage=stage, follows=follows))
    return found


@settings(max_examples=60)
@given(shipped_lists(), changes_of_hers())
def test_every_item_that_was_shipped_or_added_is_there_once(shipped: Catalogue, changes: list[ItemChange]) -> None:
    made = merged(shipped, changes)
    there = sorted(each.id for each in (*made, *made.hidden))
    assert there == sorted([*(each.id for each in shipped), *OWN_NAMES])
    assert [stage.id for stage in made.stages] == [stage.id for stage in shipped.stages]


@settings(max_examples=60)
@given(shipped_lists(), changes_of_hers())
def test_what_she_hid_is_off_the_list_and_nothing_else_is(shipped: Catalogue, changes: list[ItemChange]) -> None:
    made = merged(shipped, changes)
    assert {each.id for each in made.hidden} == hidden_ids(changes) & {*OWN_NAMES, *(each.id for each in shipped)}


@settings(max_examples=60)
@given(shipped_lists(), changes_of_hers())
def test_items_that_she_did_not_move_stand_in_the_order_of_the_list(
    shipped: Catalogue, changes: list[ItemChange]
) -> None:
    moved = {each.item for each in changes if each.what in ("moved", "added")}
    for before, after in zip(shipped.stages, merged(shipped, changes).stages, strict=True):
        left = [each.id for each in before.items if each.id not in moved | hidden_ids(changes)]
        assert [each.id for each in after.items if each.id in left] == left


@settings(max_examples=60)
@given(shipped_lists(), changes_of_hers())
def test_the_last_move_stands_as_she_made_it(shipped: Catalogue, changes: list[ItemChange]) -> None:
    moves = [each for each in changes if each.what == "moved" and each.item in {*OWN_NAMES, *ids(shipped)}]
    if moves:
        last = moves[-1]
        order = places(shipped, changes)
        stage = last.stage if last.stage in STAGES else STAGES[-1]
        names = order[str(stage)]
        assert last.item in names
        if last.follows == FIRST:
            assert names[0] == last.item
        elif last.follows in names and last.follows != last.item:
            assert names[names.index(last.follows) + 1] == last.item
        else:
            assert names[-1] == last.item


@settings(max_examples=60)
@given(shipped_lists(), shipped_lists(), changes_of_hers())
def test_a_newer_list_loses_none_of_her_items_and_words(
    shipped: Catalogue, newer: Catalogue, changes: list[ItemChange]
) -> None:
    """Whatever the newer list has, adds and leaves out."""
    words = [change(99, "item_0", "reworded", wording=Wording(title="In my words"))]
    later = merged(newer, [*changes, *words])
    titles = {each.id: each.title for each in (*later, *later.hidden)}
    assert set(OWN_NAMES) <= titles.keys()
    assert titles.get("item_0", "In my words") == "In my words"
    assert new_items(newer, set(ids(shipped)), ()) == set(ids(newer)) - set(ids(shipped))


def ids(catalogue: Catalogue) -> list[str]:
    return [each.id for each in catalogue]


def test_a_list_without_changes_is_the_shipped_one() -> None:
    shipped = listed(["power"], ["permit"])
    assert merged(shipped, []) is shipped


def test_an_item_of_her_own_goes_where_she_put_it() -> None:
    shipped = listed(["power", "lease"], ["permit"])
    made = merged(shipped, [added(1, "own_chair", "early", "power"), added(2, "own_lamp", "late", FIRST)])
    assert ids_of(made) == [["power", "own_chair", "lease"], ["own_lamp", "permit"]]
    chair = made.item("own_chair")
    assert (chair.is_own, chair.title, chair.questions, chair.parts) == (
        True,
        "own_chair",
        ("Is it?",),
        (AnswerPart("value", "text"),),
    )
    assert chair.source_words == "your own item"


def test_moves_are_gone_through_in_the_order_in_which_she_made_them() -> None:
    """Lamp was put after power while power stood last; power going back to the front leaves lamp where it was."""
    shipped = listed(["power", "lease"], ["permit"])
    changes = [
        change(1, "power", "moved", stage="late"),
        added(2, "own_lamp", "late", "power"),
        change(3, "power", "moved", stage="early", follows=FIRST),
    ]
    assert ids_of(merged(shipped, changes)) == [["power", "lease"], ["permit", "own_lamp"]]


def test_a_new_item_of_a_newer_list_stands_where_that_list_has_it() -> None:
    moved = [change(1, "permit", "moved", stage="early", follows="power")]
    newer = listed(["power", "floor", "lease"], ["account", "permit"])
    assert ids_of(merged(newer, moved)) == [["power", "permit", "floor", "lease"], ["account"]]


def test_a_hidden_item_comes_back_to_its_place() -> None:
    shipped = listed(["power", "lease"], ["permit"])
    hidden = [change(1, "power", "hidden")]
    assert ids_of(merged(shipped, hidden)) == [["lease"], ["permit"]]
    assert merged(shipped, hidden).item("power").id == "power"
    assert merged(shipped, [*hidden, change(2, "power", "shown")]).stages == shipped.stages


def test_her_words_stand_until_she_takes_them_back() -> None:
    shipped = listed(["power"], [])
    mine = change(1, "power", "reworded", wording=Wording(title="The socket", questions=("Which one?",)))
    (reworded,) = merged(shipped, [mine])
    assert (reworded.title, reworded.questions, reworded.ask) == ("The socket", ("Which one?",), "office")
    assert reworded.is_reworded
    assert list(merged(shipped, [mine, change(2, "power", "reworded")])) == list(shipped)


def test_words_for_an_item_that_is_gone_do_no_harm_and_count_again_when_it_comes_back() -> None:
    mine = [change(1, "power", "reworded", wording=Wording(title="The socket")), change(2, "power", "moved")]
    assert ids_of(merged(listed(["lease"], []), mine)) == [["lease"], []]
    assert merged(listed(["power"], []), mine).item("power").title == "The socket"


@pytest.mark.parametrize(
    ("seen", "touched", "new"),
    [
        (None, (), set()),
        ((), (), {"power", "lease", "permit"}),
        (("power", "permit"), (), {"lease"}),
        (("power",), ("lease",), {"permit"}),
        (("power", "lease", "permit", "gone"), (), set()),
    ],
)
def test_what_is_new_is_what_was_never_seen_nor_touched(
    seen: Sequence[str] | None, touched: Sequence[str], new: set[str]
) -> None:
    assert new_items(listed(["power", "lease"], ["permit"]), seen, touched) == new


@pytest.mark.parametrize(
    ("title", "taken", "name"),
    [
        ("A chair to rest on", (), "own_a_chair_to"),
        ("Nähmaschine", (), "own_nahmaschine"),
        ("Antidisestablishment", (), "own_antidisestabli"),
        ("縫い", (), "own_item"),
        ("Chair", ("own_chair",), "own_chair2"),
        ("Chair", ("own_chair", "own_chair2"), "own_chair3"),
    ],
)
def test_an_id_of_her_own_is_made_of_the_title(title: str, taken: Sequence[str], name: str) -> None:
    assert id_for(title, taken) == name


@given(st.text(min_size=1, max_size=40), st.sets(st.sampled_from(["own_a", "own_b", "own_item", "own_item2"])))
def test_an_id_of_her_own_is_always_a_free_one(title: str, taken: set[str]) -> None:
    name = id_for(title, taken)
    assert name.startswith(OWN)
    assert name not in taken
    assert name.replace("_", "a").isalnum()
    assert name.isascii()


@pytest.mark.parametrize("name", ["early", "Early", " EARLY ", "1"])
def test_a_stage_is_called_by_id_number_or_title(name: str) -> None:
    found = stage_called(listed([], []), name)
    assert found is not None
    assert found.id == "early"


@pytest.mark.parametrize("name", ["", "3", "ear", "lately"])
def test_what_is_no_stage_is_none(name: str) -> None:
    assert stage_called(listed([], []), name) is None
