"""Every key that the guide or the README names is one, and does what the text says there."""

from __future__ import annotations

import importlib
import pkgutil
import re
from collections.abc import Iterator

import pytest
from textual.app import App
from textual.binding import Binding
from textual.screen import Screen

import ledger.screens
from ledger.actions.registry import ACTS, act
from ledger.screens.doors import DOORS, room
from ledger.screens.list_page import ListPage
from tests.guide.written import keys_in, options_in, texts

TEXTS = texts()
# They are in every room under one name, or have none of their own.
EVERYWHERE = {"p", "n", "s", "?", "/", "Enter", "Esc", "Tab", "→", "←", *(each.digit for each in DOORS if each.digit)}
SHARED_OPTIONS = {"--json", "--books", "--on", "--help"}


_BRACKETS = re.compile(r"\('(\w+)'\)")


def is_act(named: str) -> bool:
    return any(each.id == named for each in ACTS)


def below(kind: type[object]) -> Iterator[type[object]]:
    for each in kind.__subclasses__():
        yield each
        yield from below(each)


def bound() -> set[tuple[str, str]]:
    """Every key of a room, a page or a form, as it is shown, with what it is called there."""
    for module in pkgutil.walk_packages(ledger.screens.__path__, "ledger.screens."):
        importlib.import_module(module.name)
    places = [each for each in (*below(Screen), *below(App)) if each.__module__.startswith("ledger.")]
    rooms = [type(room(each.name)) for each in DOORS]
    keys = set()
    for place in {*places, *rooms}:
        for each in (*vars(place).get("BINDINGS", ()), *vars(place).get("KEYS", ())):
            if isinstance(each, Binding):
                called = {
                    each.description,
                    *(act(named).words for named in _BRACKETS.findall(each.action) if is_act(named)),
                }
                shown = (each.key_display or each.key).split(",")
                keys |= {(key, words.casefold()) for key in shown for words in called}
        if issubclass(place, ListPage):
            keys |= {(key, words.casefold()) for key, _, words in place.ACTS}
    return {(key.replace("ctrl+q", "Ctrl+Q"), words) for key, words in keys} | {("Tab", "")}


@pytest.fixture(scope="module")
def all_bound() -> set[tuple[str, str]]:
    return bound()


@pytest.mark.parametrize("name", TEXTS)
def test_every_key_is_bound_and_called_what_the_text_calls_it(name: str, all_bound: set[tuple[str, str]]) -> None:
    introduced: set[str] = set()
    known = {key for key, _ in all_bound}
    for key, words in keys_in(TEXTS[name]):
        assert key in known, f"nothing is on {key}"
        if (key, words.casefold()) in all_bound:
            introduced.add(key)
        else:
            assert key in EVERYWHERE | introduced or len(key) > 1, f"say in brackets what {key} is called: «{words}»"


@pytest.mark.parametrize("name", TEXTS)
def test_every_option_named_alone_goes_with_every_command(name: str) -> None:
    assert options_in(TEXTS[name]) <= SHARED_OPTIONS
