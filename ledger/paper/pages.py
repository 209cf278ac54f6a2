"""A sheet on its pages: strips are stacked, and a page ends where the next ones have no room. Nothing is drawn here."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace

from ledger.paper.block_setting import set_block
from ledger.paper.fonts import Letters
from ledger.paper.head_setting import set_letterhead
from ledger.paper.locales import PaperSize
from ledger.paper.marks import SMALL, Mark, Page, Strip, Stroke, Words, height_of
from ledger.paper.setting import Setting
from ledger.paper.sheet import Sheet

FOOT_HEIGHT = 30.0


def set_pages(sheet: Sheet, paper: PaperSize, letters: Letters) -> tuple[Page, ...]:
    """Every page of a sheet: its marks, placed from the top left corner, the foot among them."""
    setting = Setting(letters, sheet.margin, paper.width - 2 * sheet.margin)
    strips = [*set_letterhead(setting, sheet)]
    for block in sheet.blocks:
        strips += set_block(setting, block)
    stacks = stack(strips, paper.height - 2 * sheet.margin - FOOT_HEIGHT)
    return tuple(
        (*_placed(stacked, sheet.margin), *_foot(setting, sheet, paper, f"Page {number} of {len(stacks)}"))
        for number, stacked in enumerate(stacks, start=1)
    )


def stack(strips: Sequence[Strip], room: float) -> list[list[Strip]]:
    """The strips of each page. Those that stay together move on together, unless no page could hold them."""
    pages: list[list[Strip]] = [[]]
    for group in _groups(strips):
        fits_a_page = height_of([*group[0].heads, *group]) <= room
        for strip in group:
            needed = height_of(group) if fits_a_page and strip is group[0] else strip.height
            if pages[-1] and height_of(pages[-1]) + needed > room:
                pages.append(list(strip.heads))
            pages[-1].append(strip)
    return pages


def _groups(strips: Sequence[Strip]) -> list[list[Strip]]:
    groups: list[list[Strip]] = []
    stays = False
    for strip in strips:
        if stays:
            groups[-1].append(strip)
        else:
            groups.append([strip])
        stays = strip.stays
    return groups


def _placed(strips: Iterable[Strip], top: float) -> list[Mark]:
    """The marks of strips stacked from so far below the top of the page."""
    marks: list[Mark] = []
    for strip in strips:
        marks += (replace(mark, down=mark.down + top) for mark in strip.marks)
        top += strip.height
    return marks


def _foot(setting: Setting, sheet: Sheet, paper: PaperSize, page: str) -> list[Mark]:
    """What the sheet says at its foot, and which page this is; one line, cut where it is longer."""
    down = paper.height - sheet.margin
    right = setting.left + setting.room
    page_width = setting.letters.width_of(page, "regular", SMALL)
    text = setting.lines(sheet.foot, setting.room - page_width - 130, "regular", SMALL)[0]
    digits = setting.letters.drawable(sheet.digits, "digits")[:16]
    after = setting.letters.width_of(text, "regular", SMALL) + 6 if text else 0.0
    return [
        Stroke(setting.left, down - 14, right),
        Words(setting.left, down, text, SMALL, tone="quiet"),
        Words(setting.left + after, down, digits, SMALL, "digits", "quiet"),
        Words(right, down, page, SMALL, tone="quiet", ends_at_x=True),
    ]
