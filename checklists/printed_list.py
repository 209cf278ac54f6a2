"""The whole set-up list on paper, for a folder: every item with its questions, what she was told, and room to write."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from checklists.item import Catalogue, Item
from checklists.progress import KeptAnswer, Standing, tally, tally_by_stage
from ledger.paper.locales import LocalForms
from ledger.paper.sheet import Block, Facts, Heading, Notes, Sheet, Signatures, Title

# Columns of the text, which is read on a screen of 80 columns in a frame, and not on a strip of paper.
WIDTH = 72
WHO_DECIDES = (
    "This list asks; it does not answer. The office or the licensed person that an item names decides, and nobody else."
)
ELSEWHERE = "«Elsewhere» are published examples of how rules differ from place to place, none of them your rule."


@dataclass(frozen=True)
class ListOnPaper:
    """What is printed. history: every answer so far, by the id of its item."""

    workshop: str
    day: date
    catalogue: Catalogue
    standings: tuple[Standing, ...]
    history: Mapping[str, Sequence[KeptAnswer]]


def list_name(printed: ListOnPaper) -> str:
    """The name of its files."""
    return f"set-up-list-{printed.day.isoformat()}"


def list_sheet(printed: ListOnPaper, forms: LocalForms) -> Sheet:
    """The list stage by stage, then what is gone from it but was answered."""
    day = forms.day(printed.day)
    return Sheet(
        letterhead=(printed.workshop,),
        about=f"{printed.workshop}: set-up list",
        blocks=(
            Title("Set-up list", day),
            Facts(tuple(_progress(printed))),
            Notes((WHO_DECIDES, ELSEWHERE)),
            *(block for each in printed.standings if each.item is not None for block in _item(each, printed, forms)),
            *_gone(printed, forms),
        ),
        foot=f"Set-up list, {day}",
    )


def _progress(printed: ListOnPaper) -> Iterator[tuple[str, str]]:
    for stage, counted in tally_by_stage(printed.catalogue, printed.standings):
        yield stage.title, f"{counted.settled} of {counted.items} settled"
    counted = tally(printed.standings)
    yield "In all", f"{counted.settled} of {counted.items} settled, {counted.asked} asked"


def _item(standing: Standing, printed: ListOnPaper, forms: LocalForms) -> Iterator[Block]:
    item, stage = standing.item, standing.stage
    assert item is not None, "only what is on the list is printed so"
    assert stage is not None, "what is on the list stands in a stage"
    if stage.items and stage.items[0].id == item.id:
        yield Title(f"{stage.order}. {stage.title}")
    yield Heading(f"{_box(standing)} {item.title}")
    if item.why:
        yield Notes((item.why,))
    yield Facts(tuple(_about(item)))
    told = tuple(_told(each, forms) for each in printed.history.get(item.id, ()))
    if told:
        yield Notes(told)
    if not standing.is_settled:
        yield Signatures(("Answer", "Who said so, and on which day"))


def _box(standing: Standing) -> str:
    """A box to tick with a pen, ticked where the item is settled; plain letters, so that any font has them."""
    marks = {"done": "[x]", "does not apply": "[-]", "asked": "[?]", "open": "[ ]"}
    return marks[standing.state]


def _about(item: Item) -> Iterator[tuple[str, str]]:
    yield "Ask", item.ask
    for number, question in enumerate(item.questions, start=1):
        yield f"Question {number}", question
    yield from (("Elsewhere", example) for example in item.differs)
    if item.proof:
        yield "Keep", item.proof
    if item.caution:
        yield "Mind", item.caution
    yield "Source", item.source_words


def _told(answer: KeptAnswer, forms: LocalForms) -> str:
    said = f"{forms.day(answer.on)}, {answer.asked or 'nobody named'}: {answer.state}"
    if answer.value:
        said += f", {answer.value}"
    if answer.reference:
        said += f", number {answer.reference}"
    if answer.expires:
        said += f", holds through {forms.day(answer.expires)}"
    return f"{said}. {answer.note}" if answer.note else f"{said}."


def _gone(printed: ListOnPaper, forms: LocalForms) -> Iterator[Block]:
    gone = [each for each in printed.standings if each.item is None]
    if gone:
        yield Title("No longer on the list")
    for each in gone:
        yield Heading(each.id)
        yield Notes(tuple(_told(answer, forms) for answer in printed.history.get(each.id, ())))
