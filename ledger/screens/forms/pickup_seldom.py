"""What a pickup seldom has: a reason for a discount, gift certificates, goods for work, a deposit back, a parcel."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from ledger.books.balances import read_accounts
from ledger.books.books import Books
from ledger.errors import NotUnderstood
from ledger.jobs.gift_certificates import read_certificates
from ledger.jobs.payments import WAYS, How
from ledger.jobs.pickup import Barter, Sending
from ledger.money import read_percent
from ledger.screens.forms.field import Asked
from ledger.screens.forms.form import Form
from ledger.screens.reading import typed_amount, with_points

_PARCEL = ("place", "carrier", "tracking", "insured")
_SHORT = 120


@dataclass(frozen=True)
class Seldom:
    """As in a pickup's request."""

    coupon: str | None
    gifts: tuple[str, ...]
    deposit_back: How | None
    barter: Barter | None
    sending: Sending | None


def seldom_asked(books: Books) -> tuple[Asked, ...]:
    """The fields that stand below the usual ones."""
    categories = [each.name for each in read_accounts(books).of_kind("expense")]
    gifts = [each.code for each in read_certificates(books) if each.left_cents]
    return (
        Asked("coupon", "Why less", hint="such as coupon"),
        Asked("gift", "Certificate", hint="such as G-1001-05", known=gifts),
        Asked("deposit_back", "Deposit back", hint="if empty: held", known=WAYS, only_known=True),
        Asked("barter", "Goods worth", hint="what you take"),
        Asked("category", "Goods are", hint="such as backing", known=categories, only_known=True),
        Asked("what", "What goods"),
        Asked("sent", "By post?", hint="yes if so", known=("yes", "no"), only_known=True),
        Asked("place", "Taxed where", hint="if empty: at home"),
        Asked("carrier", "Carrier"),
        Asked("tracking", "Tracking no."),
        Asked("insured", "Insured for"),
    )


def read_seldom(form: Form) -> Seldom:
    """What stands in these fields; what is wrong with one is told beside it."""
    return Seldom(
        coupon=form.words("coupon", limit=_SHORT),
        gifts=tuple(form.text("gift").replace(",", " ").split()),
        deposit_back=form.choice("deposit_back", WAYS, "How does it go back?") if form.text("deposit_back") else None,
        barter=_barter(form),
        sending=form.read("sent", lambda text: _sending(form, text), None),
    )


def read_discount(form: Form) -> tuple[int, Decimal]:
    """Cents and percent: an amount, or a percent such as `10%`."""
    locale, currency = form.books.settings.locale, form.books.currency

    def read(text: str) -> tuple[int, Decimal]:
        if text.endswith("%"):
            return 0, read_percent(with_points(text, locale), "discount")
        return typed_amount(text, currency, locale, "discount", zero=True) if text else 0, Decimal(0)

    return form.read("discount", read, (0, Decimal(0)))


def _barter(form: Form) -> Barter | None:
    if not any(form.text(name) for name in ("barter", "category", "what")):
        return None
    cents = form.amount("barter")
    what = form.words("what", limit=_SHORT) or form.read("what", lambda text: _needed(text, "what"), "")
    account = form.read("category", lambda text: read_accounts(form.books).category(text, "category"), None)
    return Barter(account, cents, what) if account is not None else None


def _sending(form: Form, text: str) -> Sending | None:
    """Sent where it says so, and where anything is said of the parcel."""
    is_told = any(form.text(name) for name in _PARCEL)
    if text.casefold() not in ("", "y", "yes", "n", "no") or (is_told and text.casefold() in ("n", "no")):
        raise NotUnderstood("Does it go by post?", "Type y, or leave the parcel out.", "sent")
    if not is_told and not text.casefold().startswith("y"):
        return None
    return Sending(
        place=form.words("place", limit=_SHORT),
        carrier=form.words("carrier", limit=_SHORT),
        tracking=form.words("tracking", limit=_SHORT),
        insured_cents=form.amount("insured", zero=True),
    )


def _needed(text: str, field: str) -> str:
    if not text:
        raise NotUnderstood("This is still empty.", "Say what the goods are.", field)
    return text
