"""Pickup at the counter: choose the piece, see the slip, say how it is paid. Four keystrokes when all is usual."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, ClassVar, cast

from textual import events
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Horizontal, Vertical, VerticalScroll
from textual.screen import ModalScreen
from textual.widget import Widget
from textual.widgets import Input, OptionList, Static
from textual.widgets.option_list import Option

from ledger.actions import pick_up
from ledger.books.books import Books
from ledger.errors import NotPossible, NotUnderstood
from ledger.jobs.bench import read_bench
from ledger.jobs.job import Job
from ledger.jobs.payments import OWED, WAYS, PaidPart
from ledger.jobs.pickup import PICKED_UP_FROM, PickupRequest
from ledger.screens.forms.field import Asked, Field
from ledger.screens.forms.form import Form
from ledger.screens.forms.paper_page import PaperPage
from ledger.screens.forms.pickup_seldom import read_discount, read_seldom, seldom_asked
from ledger.screens.forms.pickup_slip import PickupSlip
from ledger.screens.keys import KeyLine
from ledger.screens.reading import typed_amount
from ledger.screens.showing import STATE_WORDS, Showing, cut, padded, plain_lines, plain_text
from ledger.text import folded

if TYPE_CHECKING:
    from ledger.actions.pick_up import PickedUp
    from ledger.screens.app import TwopurseApp

_NOTHING: tuple[PaidPart, ...] = ()
# From this height on, all fields have room beside the slip.
_TALL = 34
LETTERS = {"c": "cash", "k": "check", "d": "card", "t": "transfer", "o": OWED}


class PickupChoice(ModalScreen[str | None]):
    """The pieces that can go home, ready ones first, the first one chosen already; letters go to a name or a piece."""

    KEYS: ClassVar[tuple[Binding, ...]] = (
        Binding("enter", "choose", "choose", key_display="Enter"),
        Binding("escape", "leave", "back", key_display="Esc"),
    )
    BINDINGS: ClassVar[list[BindingType]] = [*KEYS]
    DEFAULT_CSS: ClassVar[str] = """
    PickupChoice {
        align: center middle;
    }
    PickupChoice > Vertical {
        width: 76;
        max-width: 100%;
        height: auto;
        max-height: 90%;
        border: round $primary;
        border-title-color: $primary;
        background: $surface;
        padding: 0 1;
    }
    PickupChoice KeyLine {
        dock: bottom;
        background: $surface;
        padding: 0;
    }
    PickupChoice OptionList, PickupChoice OptionList:focus {
        background: $surface;
        border: none;
        padding: 0;
        height: auto;
        max-height: 16;
    }
    """

    def __init__(self, books: Books) -> None:
        super().__init__()
        self.books = books
        self._typed = ""
        self.jobs = [job for job in read_bench(books) if job.status in PICKED_UP_FROM]
        if not self.jobs:
            raise NotPossible("No piece is here to be picked up.", "Take one in with n.", None)

    def compose(self) -> ComposeResult:
        with Vertical() as frame:
            frame.border_title = plain_text("Who is here? Letters find a name.")
            yield OptionList(*(Option(plain_text(_line(job)), str(job.id)) for job in self.jobs), markup=False)
            yield KeyLine(self.KEYS)

    def on_mount(self) -> None:
        self.query_one(OptionList).highlighted = 0

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        job = self.jobs[event.option_index]
        # The slip takes this list's place, so that Esc on it goes straight back to the room.
        app = cast("TwopurseApp", self.app)
        self.dismiss(None)
        # By the app: what this list opened itself would never be heard of again once it is gone.
        app.call_later(app.do, "pick_up", job)

    def on_key(self, event: events.Key) -> None:
        """Letters go to the first piece that has them; an arrow begins the letters anew."""
        if event.key == "backspace":
            typed = self._typed[:-1]
        elif event.is_printable and event.character:
            typed = self._typed + folded(event.character)
        else:
            self._show_typed("")
            return
        event.stop()
        places = [place for place, job in enumerate(self.jobs) if typed in folded(f"{job.customer.name} {job.piece}")]
        if places:
            self._show_typed(typed)
            self.query_one(OptionList).highlighted = places[0]

    def _show_typed(self, typed: str) -> None:
        self._typed = typed
        self.query_one(Vertical).border_subtitle = plain_text(f" {typed} ") if typed else ""

    def action_choose(self) -> None:
        self.query_one(OptionList).action_select()

    def action_leave(self) -> None:
        self.dismiss(None)


class PickupForm(Form):
    """The slip, and how it is paid."""

    title_words = "Pickup"
    KEYS: ClassVar[tuple[Binding, ...]] = (
        *(Binding(letter, f"paid('{way}')", way) for letter, way in LETTERS.items()),
        Binding("m", "more", "more"),
        Binding("enter", "save", "done", key_display="Enter"),
        Binding("escape", "leave", "back", key_display="Esc"),
    )
    BINDINGS: ClassVar[list[BindingType]] = [*KEYS]
    DEFAULT_CSS: ClassVar[str] = """
    PickupForm > #form {
        width: 92;
    }
    PickupForm #slip {
        width: 44;
        height: auto;
        max-height: 17;
        padding-right: 1;
    }
    PickupForm #slip:focus {
        background: $surface;
    }
    PickupForm Horizontal {
        height: auto;
    }
    PickupForm.narrow Horizontal {
        layout: vertical;
    }
    PickupForm.narrow #slip {
        width: 100%;
        max-height: 7;
    }
    PickupForm.narrow #fields {
        width: 100%;
        max-height: 3;
    }
    PickupForm #fields {
        width: 1fr;
        max-height: 8;
    }
    PickupForm.tall #fields {
        max-height: 22;
    }
    PickupForm Field {
        layout: grid;
        grid-size: 2;
        grid-columns: 13 1fr;
        height: auto;
    }
    PickupForm Field > .label, PickupForm Field > Input {
        width: 100%;
    }
    PickupForm Field > .message {
        column-span: 2;
        width: 100%;
        padding-left: 0;
        height: auto;
    }
    """

    def __init__(self, books: Books, job: int) -> None:
        super().__init__(books)
        self.job = job
        self.seldom = seldom_asked(books)

    def asks(self) -> Sequence[Asked]:
        return (
            Asked("paid", "How paid", hint="cash, or card=40 cash"),
            Asked("tendered", "Handed over"),
            Asked("number", "Check number"),
            Asked("tip", "Tip"),
            Asked("discount", "Discount", hint="such as 5, or 10%"),
            Asked("fee", "Card fee"),
            Asked("amount", "Paid now", hint="if empty: all"),
        )

    def lay_out(self) -> Iterator[Widget]:
        with Horizontal():
            with VerticalScroll(id="slip"):
                yield Static("", id="lines", markup=False)
            with VerticalScroll(id="fields", can_focus=False):
                for each in self.asks():
                    yield Field(each)
                yield Static("m  gifts, goods, post ...", id="seldom", markup=False, classes="quiet")
                for each in self.seldom:
                    yield Field(each)

    def begin_at(self) -> Widget:
        return self.query_one("#slip")

    def on_resize(self, event: events.Resize) -> None:
        self.set_class(event.size.height >= _TALL, "tall")

    def on_input_submitted(self, event: Input.Submitted) -> None:
        # Without this the form's own handler would go on to the next field too, or save once more from the last.
        event.prevent_default()
        self.action_save()

    def action_more(self) -> None:
        """On to the fields that a pickup seldom needs."""
        self.field(self.seldom[0].name).input.focus(scroll_visible=False)
        self.query_one("#fields").scroll_to_widget(self.query_one("#seldom"), top=True, animate=False)

    def action_paid(self, way: str) -> None:
        self.field("paid").input.value = way

    def preview(self) -> Sequence[str]:
        paid = self.read("paid", self._paid, _NOTHING)
        request = self._request(paid)
        settlement = pick_up.preview(self.books, self.sound(replace(request, paid=paid or (PaidPart(OWED),))))
        slip = PickupSlip(self.showing, settlement, request)
        self.query_one("#lines", Static).update(plain_lines(slip.lines()))
        return [*slip.sums(), *map(self.in_words, settlement.warnings)]

    def save(self) -> str:
        paid = self.read("paid", self._paid, _NOTHING)
        done = pick_up.perform(self.books, self.sound(self._request(paid)))
        settlement = done.settlement
        change = self.showing.amount(settlement.paid.change_cents) if settlement.paid.change_cents else None
        self.app.call_later(
            self.app.push_screen, ReceiptPage(done.receipt, change, _at_the_counter(done, self.showing))
        )
        told = f"Job {self.job} has gone home with {settlement.job.customer.name}."
        return f"{told} Change {change}." if change else told

    def _paid(self, text: str) -> tuple[PaidPart, ...]:
        return tuple(self._part(word) for word in text.split())

    def _part(self, word: str) -> PaidPart:
        typed, equals, amount = word.partition("=")
        # The letter of the key does too, since the field has the focus where Enter was pressed before the letter.
        how = LETTERS.get(typed.casefold(), typed.casefold())
        if how not in (*WAYS, OWED):
            raise NotUnderstood(f"«{typed}» is no way of paying.", f"Say {', '.join(WAYS)} or {OWED}.", "paid")
        locale = self.books.settings.locale
        cents = typed_amount(amount, self.books.currency, locale, "paid") if equals else None
        return PaidPart(how, cents)

    def _request(self, paid: tuple[PaidPart, ...]) -> PickupRequest:
        discount_cents, discount_percent = read_discount(self)
        seldom = read_seldom(self)
        return PickupRequest(
            job=self.job,
            paid=paid,
            tendered_cents=self.amount("tendered") if self.text("tendered") else None,
            number=self.text_or_none("number"),
            tip_cents=self.amount("tip", zero=True),
            fee_cents=self.amount("fee", zero=True),
            discount_cents=discount_cents,
            amount_cents=self.amount("amount", zero=True) if self.text("amount") else None,
            discount_percent=discount_percent,
            coupon=seldom.coupon,
            gifts=seldom.gifts,
            deposit_back=seldom.deposit_back,
            barter=seldom.barter,
            sending=seldom.sending,
        )


class ReceiptPage(PaperPage):
    """The receipt. change: what the customer gets back, which stands there until it is closed.

    counted: what the customer waits for, above the receipt, whose total is below the window where it is a long one.
    """

    def __init__(self, receipt: Path, change: str | None, counted: str) -> None:
        title = f"Booked. Change {change}. The receipt" if change else "Booked. The receipt"
        super().__init__(title, _lines_of(receipt), f"For paper: {receipt.with_suffix('.pdf')}", [counted])


def _at_the_counter(done: PickedUp, showing: Showing) -> str:
    """The change first, then what it is the change of, and what stays owed."""
    settlement, amount = done.settlement, showing.amount
    change_cents, owed_cents = settlement.paid.change_cents, settlement.paid.owed_cents
    told = [f"Change {amount(change_cents)}"] if change_cents else []
    told.append(f"Total {amount(settlement.total_cents)}")
    told += [f"Due {amount(settlement.due_cents)}"] if settlement.deposit_cents else []
    told += [f"Still owed {amount(owed_cents)}"] if owed_cents else []
    return " · ".join(told)


def _lines_of(receipt: Path) -> list[str]:
    try:
        return receipt.read_text(encoding="utf-8").splitlines()
    except OSError:
        return ["It is booked, but its text cannot be read again."]


def _line(job: Job) -> str:
    return f"{STATE_WORDS[job.status]:<6} {padded(job.customer.name, 22)} {cut(job.piece, 41)}"
