"""Which form an act opens, given what is selected; an act with nothing left to ask is done at once."""

from __future__ import annotations

from collections.abc import Callable
from importlib import import_module
from typing import Any, Literal

from textual.screen import ModalScreen

from checklists.progress import Standing
from ledger.actions.registry import act
from ledger.books.books import Books
from ledger.books.entries import Entry
from ledger.errors import NotPossible
from ledger.jobs.job import Job
from ledger.periods import Period
from ledger.screens.showing import Showing

OpenedForm = ModalScreen[str | None]


def form_of(act_id: str, books: Books, subject: Any) -> OpenedForm | str:
    """The form, or what was done where the act was done at once. Raises Refused where there is nothing to act on."""
    if act_id not in _FORMS:
        verb = act(act_id).verb
        raise NotPossible("This is not done in the rooms yet.", f"Do it with «twopurse {verb}».", None)
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


def _about_job(module: str, class_name: str) -> Callable[[Books, Any], OpenedForm]:
    """A form about the job that is selected, its module read only now."""

    def form(books: Books, subject: Any) -> OpenedForm:
        forms = import_module(f"ledger.screens.forms.{module}")
        made: OpenedForm = getattr(forms, class_name)(books, _job(subject))
        return made

    return form


def _plain(module: str, class_name: str) -> Callable[[Books, Any], OpenedForm]:
    """A form about nothing that is selected, its module read only now."""

    def form(books: Books, subject: Any) -> OpenedForm:
        made: OpenedForm = getattr(import_module(f"ledger.screens.forms.{module}"), class_name)(books)
        return made

    return form


def _paper_page(module: str, function: str) -> Callable[[Books, Any], OpenedForm]:
    """A page about nothing that is selected: the function is handed the books and how they show things."""

    def page(books: Books, subject: Any) -> OpenedForm:
        made: OpenedForm = getattr(import_module(f"ledger.screens.forms.{module}"), function)(
            books, Showing(books.settings)
        )
        return made

    return page


def _about(module: str, class_name: str) -> Callable[[Books, Any], OpenedForm]:
    """A form that begins with what is selected, whatever that is; its module read only now."""

    def form(books: Books, subject: Any) -> OpenedForm:
        made: OpenedForm = getattr(import_module(f"ledger.screens.forms.{module}"), class_name)(books, subject)
        return made

    return form


def _at_once(module: str, function: str) -> Callable[[Books, Any], OpenedForm | str]:
    """Done at once to what is selected: what was done, or the page that it gave."""

    def do(books: Books, subject: Any) -> OpenedForm | str:
        done: OpenedForm | str = getattr(import_module(f"ledger.screens.forms.{module}"), function)(books, subject)
        return done

    return do


def _sell_gift(books: Books, subject: Any) -> OpenedForm:
    from ledger.screens.forms.gift import GiftForm

    return GiftForm(books)


def _card_payout(books: Books, subject: Any) -> OpenedForm:
    from ledger.screens.forms.card_payout import CardPayoutForm

    return CardPayoutForm(books)


def _take_owed(books: Books, subject: Any) -> OpenedForm:
    from ledger.screens.forms.account import OwedMoneyForm

    return OwedMoneyForm(books, _whose(subject))


def _print_account(books: Books, subject: Any) -> OpenedForm:
    """Printed at once for the customer who is selected; else it is asked whose."""
    from ledger.screens.forms.account import AccountForm, account_page

    return account_page(books, subject.customer) if isinstance(subject, Job) else AccountForm(books, _whose(subject))


def _moved(event: Literal["in", "ready", "back"], words: str) -> Callable[[Books, Any], str]:
    def move(books: Books, subject: Any) -> str:
        from ledger.actions import move_job

        job = move_job.perform(books, move_job.MoveRequest(_job(subject).id, event))
        return f"Job {job.id}, {job.piece}, for {job.customer.name}: {words}."

    return move


def _transfer(act_id: Literal["move", "draw", "put-in", "pay-back"]) -> Callable[[Books, Any], OpenedForm]:
    def form(books: Books, subject: Any) -> OpenedForm:
        from ledger.screens.forms.transfer import TransferForm

        return TransferForm(books, act_id)

    return form


def _reverse(books: Books, subject: Any) -> OpenedForm:
    """The entry that is selected; in a room without entries, the last one that still stands."""
    from ledger.screens.forms.reverse import last_to_undo, undo_form

    return undo_form(books, subject) if isinstance(subject, Entry) else last_to_undo(books)


def _answer(books: Books, subject: Any) -> OpenedForm:
    from ledger.screens.forms.answer import AnswerForm

    if not isinstance(subject, Standing):
        raise NotPossible("No item is selected.", "Choose one in Set-up, then press a.", None)
    return AnswerForm(books, subject)


def _about_period(module: str, class_name: str) -> Callable[[Books, Any], OpenedForm]:
    """A form about the period that the quarter shows, or the one that is the next to be handed over."""

    def form(books: Books, subject: Any) -> OpenedForm:
        from ledger.screens.quarter import period_to_hand_over

        forms = import_module(f"ledger.screens.forms.{module}")
        period = subject if isinstance(subject, Period) else period_to_hand_over(books)
        made: OpenedForm = getattr(forms, class_name)(books, period)
        return made

    return form


def _worksheet(books: Books, subject: Any) -> OpenedForm:
    from ledger.screens.worksheet_page import WorksheetPage

    return WorksheetPage(books)


def _keep_certificate(books: Books, subject: Any) -> OpenedForm:
    from ledger.screens.forms.certificates import ExemptionForm

    return ExemptionForm(books, subject.customer.name if isinstance(subject, Job) else None)


def _statements(books: Books, subject: Any) -> OpenedForm:
    """The page on which lines are placed, and placed lines undone."""
    from ledger.screens.statement import StatementPage

    return StatementPage(books)


def _whose(subject: Any) -> str | None:
    """The customer of the job, or the name on the entry, that is selected."""
    if isinstance(subject, Job):
        return subject.customer.name
    return subject.who if isinstance(subject, Entry) else None


def _job(subject: Any) -> Job:
    if not isinstance(subject, Job):
        raise NotPossible("No job is selected.", "Choose one on the Bench first.", None)
    return subject


_FORMS: dict[str, Callable[[Books, Any], OpenedForm | str]] = {
    "pick_up": _pick_up,
    "take_in": _take_in,
    "spend": _spend,
    "take_deposit": _money("take_deposit"),
    "take_balance": _money("take_balance"),
    "bring_in": _moved("in", "the piece is here"),
    "make_ready": _moved("ready", "ready for pickup"),
    "give_back": _moved("back", "the piece has gone back, the job stays booked"),
    "move": _transfer("move"),
    "draw": _transfer("draw"),
    "put_in": _transfer("put-in"),
    "pay_back": _transfer("pay-back"),
    "reverse": _reverse,
    "build_packet": _about_period("packet", "PacketForm"),
    "close_period": _about_period("close_period", "CloseForm"),
    "reopen_period": _about_period("close_period", "ReopenForm"),
    "ask_question": _plain("question", "QuestionForm"),
    "note_answer": _about_period("question", "AnswerNoteForm"),
    "count_stock": _plain("return_method", "StockForm"),
    "choose_method": _plain("return_method", "ReturnMethodForm"),
    "answer": _answer,
    "refund": _about_job("refund", "RefundForm"),
    "returned_check": _about_job("returned", "ReturnedForm"),
    "void": _about_job("void", "VoidForm"),
    "call_off": _about_job("call_off", "CallOffForm"),
    "hand_back": _about_job("hand_back", "HandBackForm"),
    "give_up": _about_job("give_up", "GiveUpForm"),
    "retax": _about_job("retax", "RetaxForm"),
    "set_price": _plain("price", "PriceForm"),
    "add_work": _about_job("add_work", "AddWorkForm"),
    "send_notice": _about_job("notice", "NoticeForm"),
    "sell_gift": _sell_gift,
    "card_payout": _card_payout,
    "take_owed": _take_owed,
    "print_account": _print_account,
    "print_quote": _at_once("papers", "of_job"),
    "print_intake": _at_once("papers", "intake_form"),
    "print_receipt": _at_once("papers", "receipt"),
    "pay_bill": _plain("bill", "BillForm"),
    "share_bill": _plain("bill", "ShareBillForm"),
    "log_trip": _plain("trip", "TripForm"),
    "attach": _about("document", "DocumentForm"),
    "view": _at_once("papers", "view"),
    "set_letterhead": _plain("letterhead", "LetterheadForm"),
    "limit_documents": _plain("document", "DocumentLimitForm"),
    "choose_household": _plain("household", "HouseholdPaysForm"),
    "let_go": _plain("household", "LetGoForm"),
    "open_household": _plain("household", "OpenHouseholdForm"),
    "compare_prices": _plain("worksheets", "PricesForm"),
    "compare_machines": _plain("worksheets", "MachinesForm"),
    "tell_opening": _plain("opening", "OpeningForm"),
    "add_category": _about("categories", "AddCategoryForm"),
    "rename_category": _about("categories", "RenameForm"),
    "merge_category": _about("categories", "MergeForm"),
    "retire_category": _about("categories", "RetireForm"),
    "bring_back_category": _about("categories", "BringBackForm"),
    "strike_trip": _about("trip", "StrikeTripForm"),
    "pay_for_work": _about("people", "PayForWorkForm"),
    "keep_tax_form": _about("people", "TaxFormForm"),
    "print_call_sheet": _at_once("papers", "call_sheet"),
    "hear_call": _about("heard", "HeardForm"),
    "add_item": _about("own_items", "AddItemForm"),
    "reword_item": _about("own_items", "RewordForm"),
    "move_item": _about("own_items", "MoveItemForm"),
    "hide_item": _at_once("own_items", "hide"),
    "show_item": _plain("own_items", "ShowAgainForm"),
    "keep_calendar": _plain("calendar", "CalendarForm"),
    "print_list": _at_once("papers", "whole_list"),
    "enter_own": _plain("brought_in", "BringInForm"),
    "move_to_savings": _plain("own_tax", "SetAsideForm"),
    "pay_estimated": _plain("own_tax", "OwnTaxForm"),
    "say_income_tax": _plain("own_tax", "IncomeTaxForm"),
    "say_last_year": _plain("own_tax", "LastYearForm"),
    "say_wages": _plain("own_tax", "WagesForm"),
    "settle_year": _plain("own_tax", "SettledForm"),
    "use_untaxed": _plain("use_tax", "UseTaxForm"),
    "stock_sold": _plain("use_tax", "StockSoldForm"),
    "worksheet": _worksheet,
    "file_tax": _about("tax_return", "FileForm"),
    "pay_tax": _about("tax_return", "PayForm"),
    "unfile_tax": _about("tax_return", "UnfileForm"),
    "answer_work": _plain("use_tax", "WorkAnswerForm"),
    "list_stock": _paper_page("use_tax", "stock_page"),
    "set_rate": _plain("tax_rate", "TaxRateForm"),
    "keep_certificate": _keep_certificate,
    "start_up": _plain("start_up", "StartUpForm"),
    "list_certificates": _paper_page("certificates", "certificates_page"),
    "set_own_certificate": _plain("own_certificate", "OwnCertificateForm"),
    "show_own_certificate": _paper_page("own_certificate", "own_page"),
    "give_own_certificate": _plain("own_certificate", "GiveCertificateForm"),
    "add_machine_cost": _plain("machine_cost", "MachineCostForm"),
    "sell_machine": _plain("machine_shares", "SaleForm"),
    "add_machine": _plain("machine_shares", "NewMachineForm"),
    "share_machine": _plain("machine_shares", "MachineShareForm"),
    "pay_loan": _plain("machine_payment", "LoanPaymentForm"),
    "set_loan": _plain("machine_loan", "LoanForm"),
    "skip_loan_month": _plain("machine_loan", "SkipForm"),
    "new_loan_rate": _plain("machine_loan", "RateForm"),
    "show_loan": _paper_page("machine_loan", "schedule_page"),
    "keep_plan": _plain("plan", "PlanForm"),
    "log_hours": _about_job("hours", "HoursForm"),
    "show_memo": _paper_page("machine_memo", "memo_page"),
    "read_statement": _plain("read_statement", "ReadForm"),
    "place_line": _statements,
    "undo_placing": _statements,
    "pick_line": _plain("read_statement", "ReadForm"),
    "agree": _plain("agree", "AgreeForm"),
    "count_cash": _plain("agree", "CountForm"),
}
