"""Which form an act opens, given what is selected; an act with nothing left to ask is done at once."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, Literal

from textual.screen import ModalScreen

from ledger.books.books import Books
from ledger.errors import NotPossible
from ledger.jobs.job import Job

OpenedForm = ModalScreen[str | None]


def form_of(act_id: str, books: Books, subject: Any) -> OpenedForm | None:
    """The form; None where the act was done at once. Raises Refused where there is nothing to act on."""
    return _FORMS[act_id](books, subject)


def _pick_up(books: Books, subject: Any) -> OpenedForm:
    from ledger.screens.forms.pickup import PickupChoice, PickupForm

    if isinstance(subject, Job) and subject.status in ("ready", "in-hand"):
        return PickupForm(books, subject.id)
    return PickupChoice(books)


def _take_in(books: Books, subject: Any) -> OpenedForm:
    from ledger.screens.forms.take_in import TakeInForm

    return TakeInForm(books)


def _spend(books: Books, subject: Any) -> OpenedForm:
    from ledger.screens.forms.spend import SpendForm

    return SpendForm(books)


def _money(act_id: str) -> Callable[[Books, Any], OpenedForm]:
    def form(books: Books, subject: Any) -> OpenedForm:
        from ledger.screens.forms.job_money import JobMoneyForm

        return JobMoneyForm(books, act_id, _job(subject))

    return form


def _moved(event: Any) -> Callable[[Books, Any], None]:
    def move(books: Books, subject: Any) -> None:
        from ledger.actions import move_job

        move_job.perform(books, move_job.MoveRequest(_job(subject).id, event))

    return move


def _transfer(act_id: Literal["move", "draw", "put-in", "pay-back"]) -> Callable[[Books, Any], OpenedForm]:
    def form(books: Books, subject: Any) -> OpenedForm:
        from ledger.screens.forms.transfer import TransferForm

        return TransferForm(books, act_id)

    return form


def _reverse(books: Books, subject: Any) -> OpenedForm:
    from ledger.screens.forms.reverse import ReverseForm

    if subject is None:
        raise NotPossible("No entry is selected.", "Choose one in Money, then press u.", None)
    return ReverseForm(books, subject)


def _answer(books: Books, subject: Any) -> OpenedForm:
    from ledger.screens.forms.answer import AnswerForm

    if subject is None:
        raise NotPossible("No item is selected.", "Choose one in Set-up, then press a.", None)
    return AnswerForm(books, subject)


def _job(subject: Any) -> Job:
    if not isinstance(subject, Job):
        raise NotPossible("No job is selected.", "Choose one on the Bench first.", None)
    return subject


_FORMS: dict[str, Callable[[Books, Any], OpenedForm | None]] = {
    "pick_up": _pick_up,
    "take_in": _take_in,
    "spend": _spend,
    "take_deposit": _money("take_deposit"),
    "take_balance": _money("take_balance"),
    "bring_in": _moved("in"),
    "make_ready": _moved("ready"),
    "give_back": _moved("back"),
    "move": _transfer("move"),
    "draw": _transfer("draw"),
    "put_in": _transfer("put-in"),
    "pay_back": _transfer("pay-back"),
    "reverse": _reverse,
    "answer": _answer,
}
