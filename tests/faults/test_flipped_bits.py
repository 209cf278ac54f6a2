"""A single bit that flips anywhere in the file: it is noticed, or nothing that the books say has changed."""

from __future__ import annotations

import random
from collections import Counter
from contextlib import closing
from pathlib import Path

import pytest

from ledger.books.opening import open_books
from ledger.books.places import books_file
from ledger.books.prove import prove
from ledger.errors import BooksNotUsable
from tests.books import sample
from tests.books.plain_sql import content_of

pytestmark = [pytest.mark.slow, pytest.mark.faults]
FLIPS_A_SEED = 500


@pytest.mark.parametrize("seed", range(6))
def test_no_change_by_a_flipped_bit_goes_unseen(seed: int, sample_folder: Path) -> None:
    """500 bits for each seed, 3,000 in all: two of three in bytes that hold something, one anywhere."""
    file, chance, ends = books_file(sample_folder), random.Random(seed), Counter[str]()
    sound, expected = file.read_bytes(), content_of(file)
    filled = [place for place, byte in enumerate(sound) if byte]
    for flip in range(FLIPS_A_SEED):
        place = chance.choice(filled) if flip % 3 else chance.randrange(len(sound))
        bit = chance.randrange(8)
        write_byte(file, place, sound[place] ^ 1 << bit)
        end = noticed(sample_folder)
        assert end or content_of(file) == expected, f"seed {seed}: bit {bit} of byte {place} changed the books unseen"
        ends[end or "no change"] += 1
        if file.stat().st_size != len(sound) or flip % 50 == 0:
            file.write_bytes(sound)
        write_byte(file, place, sound[place])
    assert file.read_bytes() == sound, "opening or proving wrote into the file"
    print(f"seed {seed}: {dict(ends)}")
    assert len(ends) == 4, f"a way to notice never came up: {dict(ends)}"


def noticed(folder: Path) -> str | None:
    """How the program notices, None where it takes the books for sound."""
    try:
        books = open_books(folder, sample.clock_on(sample.TODAY))
    except BooksNotUsable:
        return "not opened"
    with closing(books):
        proof = prove(books)
        assert proof.findings or books.damage is None, "damaged, and proved whole"
        if books.damage is not None:
            return "opened to look at"
        return None if proof.ok else "proved not whole"


def write_byte(file: Path, place: int, byte: int) -> None:
    with file.open("r+b") as opened:
        opened.seek(place)
        opened.write(bytes([byte]))
