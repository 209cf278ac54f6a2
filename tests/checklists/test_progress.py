"""States, progress, and what waits for what, for any list and any answers."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from checklists.item import AnswerPart, Catalogue, Item, Stage
from checklists.progress import STATES, KeptAnswer, State, due_day, standings, tally, tally_by_stage

FIRST = date(2026, 1, 1)
PLAIN = Item("", "", "", "", ("",), "", "", (AnswerPart("value", "text"),), None, None, (), (), ())
RULES = (None, None, "FREQ=MONTHLY", "FREQ=YEARLY")


def item(name: str, *blocked_by: str, recurs: str | None = None) -> Item:
    return replace(PLAIN, id=name, blocked_by=blocked_by, recurs=recurs)


def catalogue_of(*items: Item) -> Catalogue:
    """The items in two stages."""
    half = (len(items) + 1) // 2
    return Catalogue((Stage("early", "Early", 1, items[:half]), Stage("late", "Late", 2, items[half:])))


def answer(number: int, name: str, state: State = "done", on: date = FIRST, expires: date | None = None) -> KeptAnswer:
    return KeptAnswer(number, name, state, None, "the office", None, None, on, expires, None)


NAMES = [f"item_{number}" for number in range(6)]


@st.composite
def catalogues(draw: st.DrawFn) -> Catalogue:
    """Up to six items, each waiting for some of those before it, in any order."""
    ends = draw(st.lists(st.tuples(st.sets(st.sampled_from(NAMES)), st.sampled_from(RULES)), min_size=1, max_size=6))
    items = [
        item(NAMES[place], *sorted(set(NAMES[:place]) & blockers), recurs=rule)
        for place, (blockers, rule) in enumerate(ends)
    ]
    return catalogue_of(*draw(st.permutations(items)))


def answer_lists() -> st.SearchStrategy[list[KeptAnswer]]:
    """Up to eight answers, some of them to items that are gone from the list."""
    offsets = st.integers(0, 60)
    drawn = st.tuples(st.sampled_from([*NAMES, "gone"]), st.sampled_from(STATES), offsets, st.none() | offsets)
    return st.lists(drawn, max_size=8).map(
        lambda rows: [
            answer(number, name, state, day_after(begun), day_after(begun + lasts) if lasts is not None else None)
            for number, (name, state, begun, lasts) in enumerate(rows, start=1)
        ]
    )


def day_after(number: int) -> date:
    return FIRST + timedelta(days=number)


days = st.integers(-1, 90).map(day_after)


@settings(max_examples=40)
@given(catalogues(), answer_lists(), days)
def test_every_item_stands_once_in_the_order_of_the_list(
    catalogue: Catalogue, answers: Sequence[KeptAnswer], today: date
) -> None:
    standing = standings(catalogue, answers, today)
    listed = [each.id for each in standing if each.item is not None]
    assert listed == [each.id for each in catalogue]


@settings(max_examples=40)
@given(catalogues(), answer_lists(), days)
def test_no_answer_is_lost_where_its_item_is_gone(
    catalogue: Catalogue, answers: Sequence[KeptAnswer], today: date
) -> None:
    standing = standings(catalogue, answers, today)
    assert {each.item for each in answers if each.on <= today} == {each.id for each in standing if each.answer}
    assert {each.id for each in standing if each.item is None}.isdisjoint(each.id for each in catalogue)


@settings(max_examples=40)
@given(catalogues(), answer_lists(), days)
def test_the_states_add_up_by_stage_and_in_all(
    catalogue: Catalogue, answers: Sequence[KeptAnswer], today: date
) -> None:
    standing = standings(catalogue, answers, today)
    in_all = tally(standing)
    by_stage = [counted for _, counted in tally_by_stage(catalogue, standing)]
    assert in_all.items == sum(each.items for each in by_stage) == len(list(catalogue))
    assert in_all.settled == sum(each.settled for each in by_stage) <= in_all.items


@settings(max_examples=40)
@given(catalogues(), answer_lists(), days)
def test_what_can_be_asked_waits_for_nothing_and_something_always_can(
    catalogue: Catalogue, answers: Sequence[KeptAnswer], today: date
) -> None:
    standing = standings(catalogue, answers, today)
    settled = {each.id for each in standing if each.is_settled}
    for each in standing:
        if each.item is not None:
            assert set(each.waits_for) == set(each.item.blocked_by) - settled
            assert each.can_be_asked == (each.state == "open" and settled.issuperset(each.item.blocked_by))
    unsettled = [each for each in standing if each.item is not None and not each.is_settled]
    assert not unsettled or any(each.can_be_asked or each.state == "asked" for each in unsettled)


@settings(max_examples=40)
@given(catalogues(), answer_lists(), days)
def test_the_order_in_which_answers_are_read_changes_nothing(
    catalogue: Catalogue, answers: Sequence[KeptAnswer], today: date
) -> None:
    assert standings(catalogue, answers[::-1], today) == standings(catalogue, answers, today)


@settings(max_examples=40)
@given(catalogues(), answer_lists(), days)
def test_an_answer_of_a_later_day_changes_nothing_today(
    catalogue: Catalogue, answers: Sequence[KeptAnswer], today: date
) -> None:
    until_today = [each for each in answers if each.on <= today]
    assert standings(catalogue, until_today, today) == standings(catalogue, answers, today)


@settings(max_examples=40)
@given(catalogues(), answer_lists(), days)
def test_a_done_item_holds_through_its_due_day(
    catalogue: Catalogue, answers: Sequence[KeptAnswer], today: date
) -> None:
    for each in standings(catalogue, answers, today):
        if each.state == "done" and each.item is not None:
            assert each.due is None or each.due >= today
        if each.due is not None:
            assert each.answer is not None
            assert each.answer.state == "done"


def test_an_item_without_answer_is_open() -> None:
    (standing,) = standings(catalogue_of(item("power")), [], FIRST)
    assert (standing.state, standing.due, standing.can_be_asked) == ("open", None, True)


def test_the_latest_answer_counts_and_of_one_day_the_last() -> None:
    answers = [
        answer(3, "power", "asked", FIRST),
        answer(2, "power", "done", FIRST),
        answer(4, "power", "open", FIRST - timedelta(days=1)),
    ]
    (standing,) = standings(catalogue_of(item("power")), answers, FIRST)
    assert standing.state == "asked"


@pytest.mark.parametrize(("days_after", "state"), [(10, "done"), (11, "open")])
def test_an_answer_holds_on_its_last_day_and_no_longer(days_after: int, state: str) -> None:
    kept = answer(1, "power", expires=FIRST + timedelta(days=10))
    (standing,) = standings(catalogue_of(item("power")), [kept], FIRST + timedelta(days=days_after))
    assert (standing.state, standing.answer) == (state, kept)


def test_what_is_first_of_running_out_and_coming_round_is_the_due_day() -> None:
    yearly = item("power", recurs="FREQ=YEARLY")
    assert due_day(yearly, answer(1, "power", expires=date(2026, 6, 30))) == date(2026, 6, 30)
    assert due_day(yearly, answer(1, "power", expires=date(2028, 6, 30))) == date(2027, 1, 1)


@pytest.mark.parametrize("state", ["asked", "open", "does not apply"])
def test_only_what_is_done_comes_round(state: State) -> None:
    assert due_day(item("power", recurs="FREQ=MONTHLY"), answer(1, "power", state, expires=FIRST)) is None


def test_what_came_round_holds_up_what_waits_for_it_and_not_what_is_done() -> None:
    catalogue = catalogue_of(item("permit"), item("work", "permit"), item("goods", "permit"))
    answers = [answer(1, "permit", expires=FIRST), answer(2, "work")]
    permit, work, goods = standings(catalogue, answers, FIRST + timedelta(days=1))
    assert (permit.state, work.state, goods.waits_for) == ("open", "done", ("permit",))


def test_does_not_apply_settles_an_item() -> None:
    catalogue = catalogue_of(item("permit"), item("work", "permit"))
    _, work = standings(catalogue, [answer(1, "permit", "does not apply")], FIRST)
    assert work.can_be_asked


def test_nothing_waits_for_an_item_that_is_not_on_the_list() -> None:
    (work,) = standings(catalogue_of(item("work", "permit")), [], FIRST)
    assert work.can_be_asked
