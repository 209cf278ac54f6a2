"""Answer an item of the set-up list: the answer, its proof and what it feeds go into the books together, or nothing.

Each item that feeds the books names one function of `answer_feeds`, which says what its answer puts there. Only an
answer that is done feeds anything. «Does not apply» takes back the choices that an earlier answer made; a tax class and
a filing frequency stand until they are answered anew, since sales and returns already went by them. They also outlast
the last day of their answer, which makes the item due again: a class that nobody confirmed is not untaxed for that.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path

from checklists import choices
from checklists.item import Item
from checklists.progress import STATES, State
from checklists.records import add_answer, read_answers, read_catalogue_of
from checklists.values import example_of, form_of, read_open_text, read_values
from ledger.actions.answer_feeds import FEEDS, TAKEN_BACK, Choice, Fed, Filing, TaxClass
from ledger.books.books import Books
from ledger.books.documents import attach, odd_name, read_document
from ledger.books.settings import choose
from ledger.books.transaction import Writing
from ledger.errors import NotPossible, NotUnderstood
from ledger.jobs.records import read_custody
from ledger.money import plain_amount, read_amount
from ledger.taxes import filing_rules, rules
from ledger.text import shown


@dataclass(frozen=True)
class AnswerRequest:
    """An answer as it is said. item: its id. value: needed where the state is done; several parts with commas between.
    asked: whom. reference: what the office calls it. expires: the last day on which it holds. proof: a file to keep."""

    item: str
    value: str | None
    asked: str
    state: str = "done"
    reference: str | None = None
    expires: date | None = None
    proof: Path | None = None
    note: str | None = None


@dataclass(frozen=True)
class SettledAnswer:
    """What an answer would put in the books. value: as it is kept. fed: what the books go by from today. remarks:
    sentences for her on what follows."""

    item: Item
    state: State
    value: str | None
    asked: str
    reference: str | None
    note: str | None
    expires: date | None
    fed: tuple[Fed, ...]
    remarks: tuple[str, ...]


def preview(books: Books, request: AnswerRequest) -> SettledAnswer:
    """What an answer would put in the books. Raises NotFound for an item, NotUnderstood, NotPossible."""
    item = read_catalogue_of(books).item(request.item)
    state = _read_state(request.state)
    value, fed = _read_answer(books, item, state, request)
    if state == "done" and request.expires is not None and request.expires < books.today:
        raise NotPossible(f"This ran out on {request.expires}.", "Ask for what holds today.", "expires")
    return SettledAnswer(
        item=item,
        state=state,
        value=value,
        asked=read_open_text(request.asked, "asked"),
        reference=read_open_text(request.reference, "reference") if request.reference is not None else None,
        note=read_open_text(request.note, "note") if request.note is not None else None,
        expires=request.expires,
        fed=fed,
        remarks=(*_remarks(books, fed), *_still_standing(books, item, state)),
    )


def perform(books: Books, request: AnswerRequest) -> SettledAnswer:
    """Keep an answer with its proof, and feed the books. Raises as `preview` does, and for a proof that is no file."""
    content = read_document(request.proof, "proof") if request.proof is not None else None
    with books.writing() as write:
        settled = preview(books, request)
        document = None
        if content is not None and request.proof is not None:
            document = attach(books, write, content, request.proof.name, item=settled.item.id)
        add_answer(
            books,
            write,
            settled.item.id,
            settled.state,
            value=settled.value,
            asked=settled.asked,
            reference=settled.reference,
            note=settled.note,
            expires=settled.expires,
            document=document,
        )
        for fed in settled.fed:
            _feed(books, write, fed, settled.asked)
    odd = odd_name(request.proof.name, content) if content is not None and request.proof is not None else None
    return replace(settled, remarks=(*settled.remarks, odd)) if odd else settled


def _read_state(text: str) -> State:
    wanted = " ".join(text.replace("-", " ").split()).casefold()
    found = next((each for each in STATES if each == wanted), None)
    if found is None:
        said = ", ".join(each.replace(" ", "-") for each in STATES)
        raise NotUnderstood(f"«{shown(text)[:40]}» is no state of an item.", f"Say one of {said}.", "state")
    return found


def _read_answer(books: Books, item: Item, state: State, request: AnswerRequest) -> tuple[str | None, tuple[Fed, ...]]:
    """The value as it is kept, and what it feeds. Unless the item is done, what was said is kept as it was said."""
    if state == "done":
        if request.value is None or not request.value.strip():
            do = f"Give it as {form_of(item)}, such as «{example_of(item)}»."
            raise NotUnderstood("An item that is done has an answer.", do, item.parts[0].name)
        values = read_values(item, request.value, books.currency)
        fed = FEEDS[item.feeds](values, request.expires) if item.feeds is not None else ()
        return ", ".join(values.values()), fed
    said = read_open_text(request.value, "value") if request.value is not None and request.value.strip() else None
    if state != "does not apply":
        return said, ()
    keys = TAKEN_BACK.get(item.feeds or "", ())
    held = [key for key in keys if choices.held_choice(books, key, books.today) is not None]
    return said, tuple(Choice(key, "") for key in held)


def _feed(books: Books, write: Writing, fed: Fed, asked: str) -> None:
    match fed:
        case TaxClass(class_name, taxed):
            rules.answer_class(books, write, class_name, taxed, asked, books.today)
        case Filing(frequency, due_day):
            filing_rules.choose_filing(books, write, frequency, due_day)
        case Choice(key, value):
            choose(write, key, value, books.today, books.today, asked)


def _remarks(books: Books, fed: tuple[Fed, ...]) -> tuple[str, ...]:
    return tuple(remark for each in fed for remark in _remarks_on(books, each))


def _remarks_on(books: Books, fed: Fed) -> list[str]:
    if isinstance(fed, TaxClass) and fed.taxed:
        return _before_tax_is_taken(books)
    if fed == Choice(choices.STRUCTURE, "something else"):
        return [
            "Twopurse is made for a sole proprietor or a one-owner LLC taxed as one, without employees: "
            "ask your accountant what you need."
        ]
    if isinstance(fed, Choice) and fed.key == choices.INSURANCE_LIMIT and fed.value:
        care = read_custody(books, books.today)
        if care.highest_cents > read_amount(fed.value, books.currency, zero=True):
            most = plain_amount(care.highest_cents, books.currency)
            return [f"Pieces worth {most} were in your care on {care.highest_on}, above this limit: ask your agent."]
    return []


def _still_standing(books: Books, item: Item, state: State) -> list[str]:
    """That the books go on by an earlier answer, where this one feeds nothing and takes nothing back."""
    if state == "done" or item.feeds is None or (state == "does not apply" and item.feeds in TAKEN_BACK):
        return []
    before = [each for each in read_answers(books, item.id) if each.state == "done"]
    return [
        f"Until it is answered anew, the books go by the answer of {each.on}: {each.value}." for each in before[-1:]
    ]


def _before_tax_is_taken(books: Books) -> list[str]:
    permit = choices.sales_tax_permit(books, books.today)
    said = []
    if permit is None:
        said.append("No sales tax permit is recorded yet: collect no tax before you hold one.")
    elif not permit.holds(books.today):
        said.append(f"The sales tax permit ran out on {permit.expires}: collect no tax until you hold a new one.")
    if not rules.rates_on(books, books.today):
        said.append("No rate is in force yet: enter it with «twopurse tax rate».")
    return said
