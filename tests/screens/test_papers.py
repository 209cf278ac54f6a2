"""Papers in the rooms: the letterhead, what a job wants printed, its documents, and pages that fit the window."""

from __future__ import annotations

from pathlib import Path

import pytest
from textual.containers import VerticalScroll

from ledger.actions.attach import AttachRequest, perform
from ledger.books.books import Books
from ledger.books.letterhead import read_letterhead
from tests.paper.test_picture_file import PICTURES
from tests.screens.small_books import BOOKED, IN_HAND, READY
from tests.screens.window import LARGE, SMALL, Window, opened
from tests.workshop import picked_up


async def on_bench(window: Window, job: int) -> None:
    window.app.enter("bench", job)  # type: ignore[attr-defined]
    await window.settle()


def printed(books: Books) -> set[str]:
    return {path.name for path in (books.folder / "receipts").glob("*.pdf")}


async def test_the_letterhead_is_shown_as_it_would_be_and_begins_with_what_it_is(books: Books) -> None:
    async with opened(books) as window:
        await window.press("6", "t")
        await window.type(line0="14 Alder Lane", line1="785 555 0142", picture=str(PICTURES / "wide.png"))
        assert "A picture of 200 by 40 pixels" in window.text()
        await window.press("ctrl+s")
        assert window.told()[-1].startswith("Your papers carry it from today on.")
        await window.press("t")
        assert window.values() | {"picture": ""} == {
            "line0": "14 Alder Lane",
            "line1": "785 555 0142",
            "line2": "",
            "line3": "",
            "picture": "",
        }
        await window.type(line1="", picture="none")
        await window.press("ctrl+s")
        kept = read_letterhead(books, books.today)
        assert (kept.lines, kept.picture) == (("14 Alder Lane",), None)


@pytest.mark.parametrize("name", ["cut_off.jpg", "moving.png", "jpeg_named.png", "white_on_white.png"])
async def test_what_is_wrong_with_a_picture_stands_at_its_field(name: str, books: Books) -> None:
    async with opened(books) as window:
        await window.press("6", "t")
        await window.type(picture=str(PICTURES / "bad" / name))
        await window.press("ctrl+s")
        assert window.place == "LetterheadForm"
        assert window.faults()["picture"].startswith(f"«{name}» ")
        assert read_letterhead(books, books.today).picture is None


async def test_a_key_prints_what_the_job_wants_now(books: Books) -> None:
    before = printed(books)
    async with opened(books) as window:
        for job, title in ((BOOKED, "Quote for job"), (IN_HAND, "Intake form and quote"), (READY, "Intake form")):
            await on_bench(window, job)
            await window.press("j")
            assert window.place == "PaperPage"
            assert title in window.text()
            await window.press("enter")
        assert printed(books) - before == {
            f"quote-job-{BOOKED}-{books.today}.pdf",
            f"intake-form-job-{IN_HAND}-{books.today}.pdf",
            f"intake-form-job-{READY}-{books.today}.pdf",
        }
        done = picked_up(books, READY, "cash", tendered="100")
        first = done.pdf.read_bytes()
        await on_bench(window, READY)
        assert f"Printed: {done.pdf.name}" in window.said_by("#detail")
        await window.press("j")
        assert "Receipt for job" in window.text()
        assert done.pdf.read_bytes() == first, "that with the cash handed over stays"
        assert f"{done.pdf.stem}-again.pdf" in printed(books)


async def test_the_documents_of_a_job_stand_with_it_and_the_newest_is_opened(
    books: Books, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    shown: list[str] = []
    monkeypatch.setattr("ledger.screens.forms.papers.show_document", lambda _, document: shown.append(document.label))
    for name in ("seam.png", "label.png"):
        (tmp_path / name).write_bytes((PICTURES / "grey.png").read_bytes())
        perform(books, AttachRequest(tmp_path / name, job=READY))
    async with opened(books, LARGE) as window:
        await on_bench(window, READY)
        assert "With it: label.png (View, with /, opens the newest)" in window.said_by("#detail")
        assert "With it: seam.png" in window.said_by("#detail")
        window.app.do_here("view")  # type: ignore[attr-defined]
        await window.settle()
        assert shown == ["label.png"]
        await on_bench(window, IN_HAND)
        window.app.do_here("view")  # type: ignore[attr-defined]
        await window.settle()
        assert shown == ["label.png"]
        assert "«Attach», found with /, keeps one." in window.told()[-1]


@pytest.mark.parametrize("size", [SMALL, LARGE])
async def test_after_a_pickup_change_and_total_are_seen_whatever_the_length_of_the_receipt(
    size: tuple[int, int], books: Books
) -> None:
    async with opened(books, size) as window:
        await window.press("p", "enter", "c")
        await window.type(tendered="100")
        await window.press("enter")
        assert window.place == "ReceiptPage"
        assert any("Change $35.60 · Total $114.40 · Due $64.40" in line for line in window.lines())


@pytest.mark.parametrize("key", ["c", "l"])
async def test_a_paper_of_the_set_up_list_is_no_wider_than_its_window(key: str, books: Books) -> None:
    async with opened(books) as window:
        await window.press("6", key)
        assert window.place == "PaperPage"
        text = window.screen.query_one("VerticalScroll > Static")
        room = window.screen.query_one(VerticalScroll).scrollable_content_region.width
        lines = str(text.render()).splitlines()  # type: ignore[attr-defined]
        assert 48 < max(map(len, lines)) <= room
