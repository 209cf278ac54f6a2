"""A document shown by the system's own viewer: a copy whose ending fits its content, and no shell in between."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Callable, Mapping, Sequence
from pathlib import Path

from ledger.books.books import Books
from ledger.books.documents import ENDINGS, Document, kind_of, read_content
from ledger.books.places import DOCUMENTS, write_durably
from ledger.errors import BooksNotUsable, NotPossible

Runner = Callable[[Sequence[str]], None]
Finder = Callable[[str], str | None]
# Viewers that may still be open: one that is forgotten while it runs would be complained of.
_STARTED: list[subprocess.Popen[bytes]] = []


def show_document(books: Books, document: Document, run: Runner | None = None) -> Path:
    """Hand a document to the system's viewer; the copy that it was handed. run: what starts a program.

    The copy lies in a folder of its own for the owner alone, where a viewer can do nothing to the document itself.
    Raises NotPossible where there is no viewer, or for a kind that could be a program; NotFound and BooksDamaged for
    the document; BooksNotUsable where no copy can be made.
    """
    content = read_content(books, document.digest)
    kind = kind_of(content)
    if kind != "text" and kind not in ENDINGS:
        raise NotPossible(
            f"«{document.label}» is a {kind}, and only pictures, PDF and text are opened from here.",
            f"It lies in the books folder as {DOCUMENTS}/{document.digest}.",
            None,
        )
    words = viewer_words(sys.platform, os.environ, shutil.which)
    if words is None:
        raise NotPossible(
            "There is no viewer to open a document with here.",
            f"Open it yourself: it is {books.folder / DOCUMENTS / document.digest}.",
            None,
        )
    ending = ".txt" if kind == "text" else ENDINGS[kind][0]
    try:
        copy = Path(tempfile.mkdtemp(prefix="twopurse-")) / f"document-{document.digest[:12]}{ending}"
        write_durably(copy, content)
        (run or _run)((*words, str(copy)))
    except OSError as error:
        raise BooksNotUsable(
            f"The document cannot be shown: {error.strerror or error}.",
            f"It lies in the books folder as {DOCUMENTS}/{document.digest}.",
        ) from error
    return copy


def viewer_words(platform: str, environment: Mapping[str, str], find: Finder) -> tuple[str, ...] | None:
    """The program that opens a file as the desktop would, None where there is none."""
    if platform == "win32":
        return ("start",)
    if platform == "darwin":
        return ("open",)
    has_screen = environment.get("DISPLAY") or environment.get("WAYLAND_DISPLAY")
    opener = find("xdg-open") if has_screen else None
    return None if opener is None else (opener,)


def _run(words: Sequence[str]) -> None:
    if sys.platform == "win32":
        os.startfile(words[-1])  # what `start` does, without a shell
        return
    nowhere = subprocess.DEVNULL
    _STARTED[:] = [each for each in _STARTED if each.poll() is None]
    _STARTED.append(subprocess.Popen(words, stdin=nowhere, stdout=nowhere, stderr=nowhere, start_new_session=True))
