"""Draw the rooms into demo/pictures, as the invented workshop has them on a fixed day: `python -m demo.draw_pictures`.

Run it inside .venv after the rooms changed. SVG names a font of the web for text; that is taken out, so that a picture
asks nobody for anything.
"""

from __future__ import annotations

import asyncio
import re
import shutil
import tempfile
from datetime import datetime
from pathlib import Path

from ledger.books.clock import Clock
from ledger.books.opening import open_books
from ledger.example.build import build_example
from ledger.screens.app import TwopurseApp

FOLDER = Path(__file__).parent / "pictures"
DAY = datetime(2026, 11, 25)
# Name of the picture, width and height of the window, and the keys that lead there.
PICTURES: tuple[tuple[str, tuple[int, int], tuple[str, ...]], ...] = (
    ("home", (80, 24), ()),
    ("bench", (110, 30), ("1",)),
    ("pickup", (80, 24), ("p", "enter", "c")),
    ("receipt", (80, 24), ("p", "enter", "c", "enter")),
    ("new-job", (100, 30), ("n",)),
    ("spend", (80, 24), ("s",)),
    ("money", (110, 30), ("2",)),
    ("machine", (80, 24), ("3",)),
    ("set-aside", (80, 26), ("4",)),
    ("quarter", (80, 40), ("5",)),
    ("set-up", (110, 30), ("6",)),
)


async def draw(folder: Path, size: tuple[int, int], keys: tuple[str, ...]) -> str:
    """The window as SVG after the keys were pressed."""
    books = open_books(folder, Clock(DAY.date(), DAY))
    try:
        app = TwopurseApp(books)
        async with app.run_test(size=size) as pilot:
            await pilot.pause()
            for key in keys:
                await pilot.press(key)
                await pilot.pause()
            return without_remote_font(app.export_screenshot(title=" "))
    finally:
        books.close()


def without_remote_font(svg: str) -> str:
    """The picture with the fonts of whoever looks at it, and the same marks in it every time."""
    own = re.sub(r"@font-face\s*\{.*?\}\s*", "", svg, flags=re.DOTALL)
    own = own.replace("Fira Code", "DejaVu Sans Mono, Menlo, Consolas")
    # Some of those who draw it leave out spaces at the edge of a text.
    own = own.replace("<svg ", '<svg xml:space="preserve" ', 1)
    return re.sub(r"terminal-\d+", "terminal", own)


def main() -> None:
    FOLDER.mkdir(exist_ok=True)
    with tempfile.TemporaryDirectory() as scratch:
        built = Path(scratch) / "built"
        build_example(built, Clock(DAY.date(), DAY)).close()
        for name, size, keys in PICTURES:
            books = Path(scratch) / name
            shutil.copytree(built, books)
            picture = asyncio.run(draw(books, size, keys)).replace(scratch, "~")
            (FOLDER / f"{name}.svg").write_text(picture, encoding="utf-8")
            print(f"demo/pictures/{name}.svg")


if __name__ == "__main__":
    main()
