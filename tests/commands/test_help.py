"""Help: every command, argument and option is explained in words, and a list of commands cuts no sentence off."""

from __future__ import annotations

import click
import pytest

from ledger.actions.registry import ACTS
from ledger.cli import SUBJECTS, twopurse
from tests.commands.desk import Desk
from tests.commands.workshop import commands

COMMANDS = dict(commands())
GROUPS = {words.rsplit(" ", 1)[0] for words in COMMANDS if " " in words}
SHARED = {"json", "books", "on"}
# What a word in capitals in the usage line stands for, where the text of the help need not say so.
EXPLAINS_ITSELF = {"JOB", "ENTRY", "AMOUNT", "FROM", "TO", "FILE", "ITEM"}


@pytest.mark.parametrize("words", COMMANDS)
def test_every_option_has_a_sentence(words: str) -> None:
    for option in COMMANDS[words].params:
        if isinstance(option, click.Option):
            assert option.help, f"{words} {option.opts[0]}"
            assert option.help.endswith("."), f"{words} {option.opts[0]}"


@pytest.mark.parametrize("words", COMMANDS)
def test_every_argument_is_named_by_what_stands_there_or_explained(words: str) -> None:
    command = COMMANDS[words]
    for argument in command.params:
        if isinstance(argument, click.Argument) and not isinstance(argument.type, click.Choice):
            called = argument.make_metavar(click.Context(command)).strip("[]")
            assert called in EXPLAINS_ITSELF or called in (command.help or "") or called in ("NAME", "VALUE"), called


@pytest.mark.parametrize("words", COMMANDS)
def test_every_command_takes_the_shared_options(words: str) -> None:
    assert {parameter.name for parameter in COMMANDS[words].params} >= SHARED


@pytest.mark.parametrize("words", [*COMMANDS, *sorted(GROUPS)])
def test_help_is_a_page_on_stdout_that_needs_no_books(empty_desk: Desk, words: str) -> None:
    said = empty_desk.type(*words.split(), "--help")
    assert (said.code, said.err) == (0, "")
    assert said.out.startswith(f"Usage: twopurse {words} ")
    assert all(len(line) <= 80 for line in said.out.splitlines())
    assert not empty_desk.folder.exists()


@pytest.mark.parametrize("words", ["", *sorted(GROUPS)])
def test_a_list_of_commands_cuts_no_sentence_off(empty_desk: Desk, words: str) -> None:
    out = empty_desk.type(*words.split(), "--help").out
    listed = out.split("Commands:\n")[1].splitlines()
    assert len(listed) >= 2
    for line in listed:
        name, _, said = line.strip().partition("  ")
        assert said.strip().endswith("."), line
        assert "..." not in said, line
        assert name in SUBJECTS or f"{words} {name}" in {*COMMANDS, *GROUPS}


def test_commands_stand_in_the_order_in_which_a_workshop_meets_them() -> None:
    listed = list(twopurse.list_commands(click.Context(twopurse)))
    assert listed.index("new") == 0
    assert listed.index("job") < listed.index("pickup")
    jobs = [words.removeprefix("job ") for words in COMMANDS if words.startswith("job ")]
    assert jobs.index("new") < jobs.index("ready") < jobs.index("pay")


def test_commands_and_rooms_say_the_same_of_an_act() -> None:
    for act in ACTS:
        if act.verb in COMMANDS:
            assert COMMANDS[act.verb].help == act.help, act.verb
