"""The digests, worked out a second time from the sentence in ledger/books/digests.py: by hand, with hashlib alone.

Source: that sentence, read without the code below it. A form is a JSON array (RFC 8259) with fixed places: a version
tag, the digest before, the fields. NFC text, integers, null for what is absent, no white space, UTF-8. Hashed is the
form's length in bytes, a colon, the form.
"""

from __future__ import annotations

import hashlib
import sqlite3
from pathlib import Path

import pytest

from ledger.books.digests import GENESIS, entry_digest, record_digest
from ledger.books.places import books_file

NOUGHTS = "0000000000000000000000000000000000000000000000000000000000000000"
OTHERS = "2b4f46cbfdf52b4f46cbfdf52b4f46cbfdf52b4f46cbfdf52b4f46cbfdf52b4f"

# What the canonical form is, written by hand; then what the code is handed: entry, postings, slip lines, tax lines.
ENTRIES = {
    "the first entry of all": (
        f'["twopurse entry 1","{NOUGHTS}",1,"2026-01-05",null,"In the bank",null,"opening",null,null,'
        '[[1,1,"business",50000],[2,14,"business",-50000]],[],[]]',
        (1, "2026-01-05", None, "In the bank", None, "opening", None, None),
        [(1, 1, "business", 50000), (2, 14, "business", -50000)],
        [],
        [],
    ),
    "an entry with every field, that belongs on another day": (
        f'["twopurse entry 1","{OTHERS}",12,"2026-04-01","2026-03-30","Pickup",3,"pickup",7,null,'
        '[[1,2,"business",10],[2,17,"business",-10]],[],[]]',
        (12, "2026-04-01", "2026-03-30", "Pickup", 3, "pickup", 7, None),
        [(1, 2, "business", 10), (2, 17, "business", -10)],
        [],
        [],
    ),
    "a reversal in both purses": (
        f'["twopurse entry 1","{OTHERS}",13,"2026-04-02","2026-04-01","Reversal of 12: typed twice",3,"reversal",null,'
        '12,[[1,24,"business",-3000],[2,7,"business",3000],[3,47,"personal",-3000],[4,52,"personal",3000]],[],[]]',
        (13, "2026-04-02", "2026-04-01", "Reversal of 12: typed twice", 3, "reversal", None, 12),
        [(1, 24, "business", -3000), (2, 7, "business", 3000), (3, 47, "personal", -3000), (4, 52, "personal", 3000)],
        [],
        [],
    ),
    "a sale with slip lines and tax lines": (
        f'["twopurse entry 1","{OTHERS}",5,"2026-01-06",null,"Quilt",1,"pickup",1,null,'
        '[[1,2,"business",15163],[2,19,"business",-14400],[3,8,"business",-763]],'
        '[[1,1,"work",14400,"taxed",null],[2,null,"goods",0,"exempt",4]],'
        '[[1,1,"4.3",14400,619],[2,2,"1",14400,144]]]',
        (5, "2026-01-06", None, "Quilt", 1, "pickup", 1, None),
        [(1, 2, "business", 15163), (2, 19, "business", -14400), (3, 8, "business", -763)],
        [(1, 1, "work", 14400, "taxed", None), (2, None, "goods", 0, "exempt", 4)],
        [(1, 1, "4.3", 14400, 619), (2, 2, "1", 14400, 144)],
    ),
    "text with marks that JSON writes otherwise": (
        f'["twopurse entry 1","{NOUGHTS}",1,"2026-01-05",null,"18\\" x 20\\", a \\\\ and / and\\ttab",null,"k",'
        "null,null,[],[],[]]",
        (1, "2026-01-05", None, '18" x 20", a \\ and / and\ttab', None, "k", None, None),
        [],
        [],
        [],
    ),
    "letters with accents typed as two characters are sealed as one": (
        f'["twopurse entry 1","{NOUGHTS}",1,"2026-01-05",null,"caf\N{LATIN SMALL LETTER E WITH ACUTE}",null,"k",'
        "null,null,[],[],[]]",
        (1, "2026-01-05", None, "cafe\N{COMBINING ACUTE ACCENT}", None, "k", None, None),
        [],
        [],
        [],
    ),
    "letters and pictures beyond Latin stand as they are": (
        f'["twopurse entry 1","{NOUGHTS}",1,"2026-01-05",null,"\N{HIRAGANA LETTER KA}\N{BLACK SCISSORS}'
        '\N{SPOOL OF THREAD}",null,"k",null,null,[],[],[]]',
        (1, "2026-01-05", None, "\N{HIRAGANA LETTER KA}\N{BLACK SCISSORS}\N{SPOOL OF THREAD}", None, "k", None, None),
        [],
        [],
        [],
    ),
    "the largest amounts": (
        f'["twopurse entry 1","{OTHERS}",999999,"9999-12-31",null,"All",null,"k",null,null,'
        '[[1,1,"business",100000000000000],[2,2,"business",-100000000000000]],[],[]]',
        (999999, "9999-12-31", None, "All", None, "k", None, None),
        [(1, 1, "business", 100000000000000), (2, 2, "business", -100000000000000)],
        [],
        [],
    ),
}
RECORDS = {
    "a record tells its columns by name, in the order of the alphabet": (
        f'["twopurse record 1","{NOUGHTS}","setting",[["id",1],["key","name"],["value","Alder Lane"]]]',
        "setting",
        {"value": "Alder Lane", "key": "name", "id": 1},
    ),
    "a record leaves out what is null": (
        f'["twopurse record 1","{OTHERS}","rate",[["from_date","2026-01-01"],["id",2],["jurisdiction",1],'
        '["made_on","2026-01-05"],["percent","4.3"]]]',
        "rate",
        {
            "id": 2,
            "jurisdiction": 1,
            "percent": "4.3",
            "from_date": "2026-01-01",
            "until_date": None,
            "made_on": "2026-01-05",
        },
    ),
}
FIELDS = ("number", "date", "belongs_on", "text", "who", "kind", "job", "reverses")


def hashed(form: str) -> str:
    content = form.encode("utf-8")
    return hashlib.sha256(str(len(content)).encode("ascii") + b":" + content).hexdigest()


def previous_in(form: str) -> str:
    return form.split('","')[1][:64]


@pytest.mark.parametrize("name", ENTRIES)
def test_an_entry_is_sealed_over_its_canonical_form(name: str) -> None:
    form, fields, postings, slip_lines, tax_lines = ENTRIES[name]
    entry = dict(zip(FIELDS, fields, strict=True))
    assert entry_digest(previous_in(form), entry, postings, slip_lines, tax_lines) == hashed(form)


@pytest.mark.parametrize("name", RECORDS)
def test_a_row_is_recorded_over_its_canonical_form(name: str) -> None:
    form, table, row = RECORDS[name]
    assert record_digest(previous_in(form), table, row) == hashed(form)


def test_there_are_ten_vectors_and_no_two_alike() -> None:
    forms = [vector[0] for vector in (*ENTRIES.values(), *RECORDS.values())]
    assert len({hashed(form) for form in forms}) == 10


def test_one_digest_is_known_to_the_last_digit() -> None:
    """From `sha256sum` over the 202 bytes of the form and their length: not even hashlib is taken at its word."""
    form = ENTRIES["the first entry of all"][0]
    assert len(form.encode()) == 202
    assert hashed(form) == "0c9ad9a9363250d8b2e978072fc842d620dc9c3d03a93af9c031cf0c68f1dae0"


def test_the_chain_begins_with_noughts() -> None:
    assert NOUGHTS == GENESIS


@pytest.mark.parametrize("value", [1.0, True, b"1"])
def test_nothing_but_text_and_whole_numbers_is_ever_sealed(value: object) -> None:
    with pytest.raises(AssertionError):
        record_digest(GENESIS, "setting", {"value": value})  # type: ignore[dict-item]


def test_every_seal_of_the_sample_follows_from_its_rows_by_the_second_reading(made_sample: Path) -> None:
    connection = sqlite3.connect(books_file(made_sample))
    previous = NOUGHTS
    seals = connection.execute("select number, previous, digest from seal order by number").fetchall()
    for number, link, digest in seals:
        fields = connection.execute(f"select {', '.join(FIELDS)} from entry where number = ?", (number,)).fetchone()
        lists = [
            connection.execute(f"select {columns} from {table} where entry = ? order by line", (number,)).fetchall()
            for table, columns in (
                ("posting", "line, account, purse, cents"),
                ("slip_line", "line, job_line, class, cents, treatment, certificate"),
                ("tax_line", "line, rate, percent, base, cents"),
            )
        ]
        form = written(["twopurse entry 1", previous, *fields, *lists])
        assert (link, digest) == (previous, hashed(form)), form
        previous = digest
    connection.close()
    assert len(seals) > 10


def written(part: object) -> str:
    """JSON by hand: the sample holds no character that needs an escape."""
    if part is None:
        return "null"
    if isinstance(part, list | tuple):
        return f"[{','.join(map(written, part))}]"
    if isinstance(part, int):
        return str(part)
    assert isinstance(part, str)
    assert not set(part) & set('"\\\t\n')
    return f'"{part}"'
