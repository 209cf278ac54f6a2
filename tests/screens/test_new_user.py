"""From an empty folder to the first paying customer, in the rooms and by keyboard alone."""

from __future__ import annotations

from pathlib import Path

import pytest

from checklists.progress import Standing, tally_by_stage
from checklists.records import read_catalogue_of, read_standings
from checklists.values import example_of, form_of
from ledger.books.prove import prove
from ledger.screens.begin import BeginApp
from ledger.taxes.rules import answers_on
from tests.screens.small_books import TODAY
from tests.screens.window import Window, opened, shown
from tests.workshop import balance_of, clock_of, reopened

# Where the example of a kind of answer does not fit its item: the parts of her rooms, and how she works.
TYPED = {
    "rooms_measured": "180 square feet, 900 square feet, 1800 square feet, 0, 0",
    "how_you_work": "0, 0, 9 am to 5 pm",
    "filing_frequency": "quarterly, 20",
}
NAMES = {" ": "space", ".": "full_stop", ",": "comma", "%": "percent_sign", "_": "underscore", "-": "minus"}


def keys_for(text: str) -> list[str]:
    return [NAMES.get(each, each) for each in text]


async def begin(folder: Path) -> None:
    """The six questions: her name, and what is known before anything is bought."""
    async with shown(BeginApp(folder, clock_of(TODAY), {})) as window:
        await window.press(*keys_for("Lantern"), "enter", "enter")
        await window.press(*keys_for("not yet known"), "enter", *keys_for("500"), "enter")
        await window.press(*keys_for("not yet known"), "enter", "1", "enter")
        assert window.app.return_value is True


async def answer(window: Window, standing: Standing) -> None:
    assert standing.item is not None
    said = TYPED.get(standing.id) or ("ok" if form_of(standing.item) == "text" else example_of(standing.item))
    await window.pilot.press("a", *keys_for(said), "enter", *keys_for("Jo"), "ctrl+s")
    await window.settle()
    assert window.place == "SetUpRoom", f"{standing.id}: {window.text()}"


@pytest.mark.slow
async def test_a_new_user_comes_from_an_empty_folder_to_the_first_paying_customer(tmp_path: Path) -> None:
    await begin(tmp_path / "books")
    books = reopened(tmp_path / "books", TODAY)
    async with opened(books) as window:
        await window.press("6")
        answered = []
        while (standing := window.screen.selected()) is not None and standing.can_be_asked:  # type: ignore[attr-defined]
            await answer(window, standing)
            answered.append(standing.id)
            # What was answered moves down, so that the next question stands under the cursor; a stage's heading and
            # what still waits are passed with the arrow.
            for _ in range(40):
                found = window.screen.selected()  # type: ignore[attr-defined]
                if found is not None and found.can_be_asked:
                    break
                await window.pilot.press("up" if _has_open_above(window) else "down")
        first_two = tally_by_stage(read_catalogue_of(books), read_standings(books))[:2]
        assert [(counted.settled, counted.items) for _, counted in first_two] == [(19, 19), (30, 30)]
        assert len(set(answered)) == len(answered)
        assert set(answers_on(books, TODAY)) >= {"goods", "work", "delivery"}
        assert prove(books).ok


class Keys:
    """What is pressed, counted."""

    def __init__(self) -> None:
        self.pressed = 0

    async def press(self, window: Window, *keys: str) -> None:
        self.pressed += len(keys)
        await window.press(*keys)

    async def next_step(self, window: Window) -> str:
        """The keys that home says come next, pressed; what they do."""
        told, _, words = window.said_by("#next").splitlines()[0].partition("  ")
        await self.press(window, *told.split(" then "))
        return words.strip()


async def test_the_screens_alone_lead_from_an_empty_folder_to_the_first_pickup(tmp_path: Path) -> None:
    keys = Keys()
    async with shown(BeginApp(tmp_path / "books", clock_of(TODAY), {})) as window:
        # Her name; everything else can wait.
        await keys.press(window, *keys_for("Wren"), *["enter"] * 6)
        assert window.app.return_value is True
    books = reopened(tmp_path / "books", TODAY)
    async with opened(books) as window:
        assert (await keys.next_step(window)).startswith("At work before today?")
        assert window.place == "OpeningForm"
        await keys.press(window, "escape", "escape")
        # She was not, so it is the step after that.
        told = window.said_by("#next").splitlines()[1]
        await keys.press(window, *told.partition("  ")[0].split(" then "))
        assert window.place == "PriceForm"
        await keys.press(window, *keys_for("Edge-to-edge"), "enter", *keys_for("ar"), "enter", *keys_for("0.02"))
        await keys.press(window, "enter", "w", "ctrl+s", "escape")
        assert "n         Take in the first piece" in window.said_by("#next")
        await keys.press(window, "n", *keys_for("Ada"), "enter", *keys_for("Star"), "enter", *keys_for("50"), "enter")
        await keys.press(window, *keys_for("60"), "enter", "enter", "x", "ctrl+s")
        assert await keys.next_step(window) == "When its owner comes: the slip, how it is paid, receipt."
        await keys.press(window, "enter")
        assert "Set-up (6) asks; a keeps the answer." in window.text()
        await keys.press(window, "c", "enter")
        assert window.place == "ReceiptPage"
        await keys.press(window, "enter")
        assert window.said_by("#next").splitlines()[0].startswith("6 ")
        assert prove(books).ok
        assert balance_of(books, "cash box") == 60_00
    assert keys.pressed <= 75, keys.pressed


def _has_open_above(window: Window) -> bool:
    """Whether an earlier row can be asked: settling one item frees those that waited for it."""
    table = window.screen.query_one("#items")
    rows = window.screen.rows[: table.cursor_row]  # type: ignore[attr-defined]
    return any(isinstance(each, Standing) and each.can_be_asked for each in rows)
