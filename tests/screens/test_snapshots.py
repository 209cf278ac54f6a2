"""Six rooms, home and two forms as pictures, on one day, with small books.

`pytest tests/screens/test_snapshots.py --snapshot-update` draws them anew. Look at those that changed before they are
kept: they open in any browser.
"""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET

import pytest
from syrupy.assertion import SnapshotAssertion
from syrupy.extensions.image import SVGImageSnapshotExtension

from ledger.books.books import Books
from tests.screens.drawing import drawn
from tests.screens.window import LARGE, SMALL, opened

SHOWN = {"home": (), "bench": "1", "money": "2", "machine": "3", "set_aside": "4", "quarter": "5", "set_up": "6"}
SIZES = {"80x24": SMALL, "200x60": LARGE}


@pytest.fixture
def picture(snapshot: SnapshotAssertion) -> SnapshotAssertion:
    return snapshot.use_extension(SVGImageSnapshotExtension)


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("name", SHOWN)
async def test_a_room_looks_as_before(books: Books, picture: SnapshotAssertion, name: str, size: str) -> None:
    async with opened(books, SIZES[size]) as window:
        await window.press(*SHOWN[name])
        assert drawn(window) == picture


@pytest.mark.parametrize(
    ("name", "keys"), [("pickup", ("p", "enter", "c")), ("new_job", ("n",))], ids=["pickup", "new_job"]
)
async def test_a_form_looks_as_before(
    books: Books, picture: SnapshotAssertion, name: str, keys: tuple[str, ...]
) -> None:
    async with opened(books) as window:
        await window.press(*keys)
        window.without_blinking()
        assert drawn(window) == picture


async def test_a_picture_is_whole_and_asks_nobody_for_anything(books: Books) -> None:
    async with opened(books) as window:
        svg = drawn(window)
        texts = [each.text for each in ET.fromstring(svg).iter("{http://www.w3.org/2000/svg}text")]
        assert "2 ready for pickup" in texts
        assert re.findall(r"https?://[^\"]*", svg) == ["http://www.w3.org/2000/svg"]
        assert drawn(window) == svg
