"""Every word that the rooms and forms put on a key, a field, a column or a title is an everyday one, or explained."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import ledger.screens
from ledger.actions.registry import ACTS
from ledger.guide.words import read_words
from ledger.screens.doors import DOORS

WORD = re.compile(r"[a-z][a-z'-]*")
# Calls and settings of the screens that hold what stands on them: the place of the label, and the names of settings.
LABELLED = {"Asked": 1, "Binding": 2}
SETTINGS = {"COLUMNS", "title_words"}
# What everybody says. A new word goes here, or into the chapter `words`.
EVERYDAY = """
    above accountant add address after again ahead all already also amount an anew answered answers are around
    asked attach became before began begin begun being belongs below bench beside bills books bought box brought
    build business buy buyer's candidate carrier chapter chapters charge choose chose collect collected colours
    column comes coming counts customer customers' date dates day decimals deposits documents done down each
    earlier earn elsewhere end ends every far field figure figures find first folder from further gets given
    gives glance goes gone good guide had handed has have help hidden hide hours household's how if instead
    insured into items its jobs kept laid late lately later least leave left lender length lent less levies line
    list listed lists look machine's machines made matters may measured merge miles money month months more much
    name names near net new next not now number offer on one ones order others owe page paint papers parts
    payment payments pays picture pieces place post previous price prices print promised quit read reason
    receipts received reference rename renewals retire reword round said save seen self-empl set-up several
    shell shop show side sign signed since skip so somebody spend spent stands state stay still stood stop
    strike table take takes taxable taxed text that them then there they this those through title told took
    total totals tracking transfer two type under used view want was were what when where which whole whom why
    width with without words workshop workshop's wrong year's yes yet your yours zero
"""


def labels() -> Iterator[str]:
    for act in ACTS:
        yield act.words
    for door in DOORS:
        yield door.title
        yield door.purpose
    for path in Path(ledger.screens.__file__).parent.rglob("*.py"):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            yield from (text for part in _labelling(node) for text in _texts(part))


def _labelling(node: ast.AST) -> Iterator[ast.expr]:
    """The parts of the source that hold labels."""
    if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id in LABELLED:
        yield from node.args[LABELLED[node.func.id] :][:1]
    if isinstance(node, ast.Assign) and any(isinstance(to, ast.Name) and to.id in SETTINGS for to in node.targets):
        yield node.value


def _texts(part: ast.expr) -> Iterator[str]:
    for each in ast.walk(part):
        if isinstance(each, ast.Constant) and isinstance(each.value, str):
            yield each.value


def words_of(text: str) -> set[str]:
    return set(WORD.findall(text.casefold()))


def test_every_word_of_a_label_is_an_everyday_one_or_explained_in_the_guide() -> None:
    explained = {part for word in read_words().values() for name in word.names for part in words_of(name)}
    found = {word for label in labels() for word in words_of(label)}
    assert len(found) > 200
    assert sorted(found - explained - set(EVERYDAY.split())) == []
