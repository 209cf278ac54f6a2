"""The chapters are whole, in the little of Markdown that is read, and every word of the trade is explained in them."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

import ledger.guide
from ledger.errors import NotFound
from ledger.guide.chapters import CHAPTERS, OF_ROOM, find, read_chapter, read_text_of
from ledger.guide.markdown import Run, read_blocks, set_lines
from ledger.guide.words import read_words, words_in

# What Markdown has beside what is read here: links, pictures, tables, quotations, numbers, rules, deeper headings.
NOT_READ = re.compile(r"^(###|\||>|\d+\. |\* |---|    |```\w)|\]\(|!\[|<\w|\*[^*\s]", re.MULTILINE)
SENTENCE = re.compile(r"[.?!](?=\s|$)")


def test_every_file_is_a_chapter_and_every_chapter_a_file_that_begins_with_its_title() -> None:
    folder = Path(ledger.guide.__file__).parent
    assert {path.stem for path in folder.glob("*.md")} == set(CHAPTERS)
    for name, title in CHAPTERS.items():
        first = read_chapter(name)[0]
        assert (first.kind, first.plain) == ("title", title)


def test_every_room_has_a_chapter() -> None:
    assert set(OF_ROOM.values()) <= set(CHAPTERS)


@pytest.mark.parametrize("name", CHAPTERS)
def test_a_chapter_is_written_in_what_is_read(name: str) -> None:
    text = read_text_of(name)
    prose = re.sub(r"^```\n.*?^```", "", text, flags=re.MULTILINE | re.DOTALL)
    assert NOT_READ.findall(prose.replace("**", "")) == []
    assert prose.count("`") % 2 == 0
    assert text.count("```") % 2 == 0
    assert all(len(line) <= 130 for line in text.splitlines())
    paragraphs = [each for each in read_blocks(text) if each.kind in ("paragraph", "item")]
    assert max(len(each.plain) for each in paragraphs) < 450, "a short paragraph is read, a long one is not"


def test_an_unknown_chapter_is_refused_with_the_names_of_all() -> None:
    with pytest.raises(NotFound, match=r"no chapter «nowhere».* first, job"):
        read_chapter("nowhere")


def test_a_word_has_one_or_two_sentences_and_so_has_its_caution() -> None:
    for word in read_words().values():
        for said in filter(None, (word.meaning, word.caution)):
            assert 1 <= len(SENTENCE.findall(said)) <= 2, word.name
            assert said.endswith("."), word.name


def test_no_name_is_explained_twice() -> None:
    names = [name.casefold() for word in read_words().values() for name in word.names]
    assert sorted({each for each in names if names.count(each) > 1}) == []


def test_words_are_found_as_words_and_by_each_of_their_names() -> None:
    assert [each.name for each in words_in("A deposit")] == ["Deposit"]
    assert [each.name for each in words_in("what it is worth")] == ["Declared value"]
    assert words_in("undepositable") == []


def test_finding_names_the_chapter_and_the_heading_of_every_place() -> None:
    found = list(find("MISTAKE mirror"))
    assert {(each.chapter, each.heading) for each in found} >= {("wrong", "")}
    assert all("mirror" in each.words.casefold() for each in found)
    assert list(find("  ")) == []
    assert list(find("no such words anywhere")) == []


def test_lines_are_no_longer_than_the_width_and_hold_every_word() -> None:
    for name in CHAPTERS:
        blocks = read_chapter(name)
        for width in (40, 76):
            lines = list(set_lines(blocks, width))
            assert all(len(each.plain) <= width for each in lines if each.kind != "commands"), name
            said = " ".join(" ".join(each.plain for each in lines).split())
            for block in blocks:
                assert " ".join(block.plain.split()) in said.replace(" - ", " "), (name, block)


def test_marks_keep_what_belongs_together_in_one_word() -> None:
    (block,) = read_blocks("Press `p`, then **two words** and\ngo on.")
    assert block.plain == "Press p, then two words and go on."
    (first, *_) = set_lines([block], 8)
    assert first.runs == (Run("Press"), Run(" "), Run("p", "key"), Run(","))
