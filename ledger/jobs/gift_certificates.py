"""Gift certificates: a liability from the day of sale, a payment when used, and what is still out.

A certificate's number ends in two check digits by ISO/IEC 7064 (MOD 97-10), so that a slip of the pen names no other
certificate. What becomes of one that is never used, state law decides.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from datetime import date
from itertools import accumulate

from ledger.books.before_books import STOOD_BEFORE
from ledger.books.books import Books
from ledger.books.parties import read_party
from ledger.books.transaction import Writing
from ledger.errors import NotFound, NotPossible, NotUnderstood
from ledger.money import plain_amount

UNUSED = "What becomes of a certificate that is never used, your state's law on unclaimed property decides."
_FIRST = 1001
_CODE = re.compile(r"[Gg]?\s*-?\s*([0-9]{4,9})\s*-?\s*([0-9]{2})")


@dataclass(frozen=True)
class GiftCertificate:
    """left_cents: what can still be used. holder: whom it was sold to, where that is known."""

    id: int
    code: str
    sold_on: date
    sold_cents: int
    left_cents: int
    holder: str | None


@dataclass(frozen=True)
class GiftMovement:
    """cents: above zero what was sold, below zero what was used. job: on which it was used."""

    on: date
    entry: int
    job: int | None
    cents: int


def code_of(number: int) -> str:
    """`G-1001-05`: the number and its check digits by ISO/IEC 7064 MOD 97-10."""
    return f"G-{number}-{98 - number * 100 % 97:02d}"


def read_code(text: str) -> str:
    """A certificate's code as it is kept. Raises NotUnderstood for one whose check digits do not fit."""
    found = _CODE.fullmatch(text.strip())
    if found is None or code_of(int(found[1])) != f"G-{int(found[1])}-{found[2]}":
        raise NotUnderstood(
            f"«{text.strip()[:40]}» is no number of a gift certificate.",
            "Type it as it stands on the certificate, such as G-1001-05.",
            "gift",
        )
    return code_of(int(found[1]))


def new_certificate(books: Books, write: Writing, entry: int, cents: int, party: int | None) -> str:
    """The code of a new certificate that an entry sold."""
    number = _FIRST + int(books.value("select count(*) from gift_certificate"))
    # One from before the books may have taken a number.
    while books.value("select 1 from gift_certificate where code = ?", (code_of(number),)):
        number += 1
    code = code_of(number)
    certificate = write.add("gift_certificate", code=code, entry=entry, party=party, on_date=books.today.isoformat())
    write.add("gift_movement", certificate=certificate, entry=entry, cents=cents)
    return code


def earlier_certificate(books: Books, write: Writing, code: str, entry: int, cents: int) -> None:
    """A certificate that was out when the books began, under the number that stands on it."""
    certificate = books.value("select id from gift_certificate where code = ?", (code,))
    if certificate is None:
        certificate = write.add("gift_certificate", code=code, entry=entry, party=None, on_date=books.today.isoformat())
    write.add("gift_movement", certificate=certificate, entry=entry, cents=cents)


def use_certificate(write: Writing, certificate: GiftCertificate, entry: int, cents: int) -> None:
    write.add("gift_movement", certificate=certificate.id, entry=entry, cents=-cents)


def certificate_to_use(books: Books, text: str) -> GiftCertificate:
    """The certificate of a code, with something left on it. Raises NotUnderstood, NotFound, NotPossible."""
    found = certificate_of(books, text)
    # What was used on a later day cannot be used again on an earlier one.
    running = accumulate((each.cents for each in _movements(books, found.id) if each.on > books.today), initial=0)
    usable = found.left_cents + min(running)
    if usable <= 0:
        raise NotPossible(
            f"Gift certificate {found.code} over {plain_amount(found.sold_cents, books.currency)} is used up.",
            "Take another way of paying.",
            "gift",
        )
    return replace(found, left_cents=usable)


def certificate_of(books: Books, text: str) -> GiftCertificate:
    """The certificate of a code as it stands today, used up or not. Raises NotUnderstood, NotFound."""
    certificates, typed = read_certificates(books), text.strip().casefold()
    # One from before the books has the number that she gave it, with or without check digits.
    earlier = next((each for each in certificates if each.code.casefold() == typed), None)
    code = earlier.code if earlier is not None else read_code(text)
    found = next((each for each in certificates if each.code == code), None)
    if found is None:
        raise NotFound(
            f"There is no gift certificate {code}.", "See those that are out with «twopurse gift list».", "gift"
        )
    return found


def read_movements(books: Books, certificate: GiftCertificate) -> tuple[GiftMovement, ...]:
    """Its sale and every use of it by today, the oldest first."""
    return tuple(each for each in _movements(books, certificate.id) if each.on <= books.today)


def read_certificates(books: Books) -> tuple[GiftCertificate, ...]:
    """Every certificate sold by today whose sale stands, used up or not."""
    rows = books.rows(
        "select gift_certificate.*, sum(gift_movement.cents) filter (where gift_movement.entry = "
        f"gift_certificate.entry or entry.reverses = gift_certificate.entry or {STOOD_BEFORE}) as sold, "
        "sum(gift_movement.cents) as remaining "
        "from gift_certificate join gift_movement on gift_movement.certificate = gift_certificate.id "
        "join entry on entry.number = gift_movement.entry where entry.date <= ? "
        "group by gift_certificate.id having sold > 0 order by gift_certificate.id",
        (books.today.isoformat(),),
    )
    return tuple(
        GiftCertificate(
            id=row["id"],
            code=row["code"],
            sold_on=date.fromisoformat(row["on_date"]),
            sold_cents=row["sold"],
            left_cents=row["remaining"],
            holder=read_party(books, row["party"]).name if row["party"] is not None else None,
        )
        for row in rows
    )


def _movements(books: Books, certificate: int) -> tuple[GiftMovement, ...]:
    rows = books.rows(
        "select entry.date, entry.number, entry.job, gift_movement.cents from gift_movement "
        "join entry on entry.number = gift_movement.entry where certificate = ? order by entry.date, entry.number",
        (certificate,),
    )
    return tuple(GiftMovement(date.fromisoformat(row[0]), *row[1:]) for row in rows)
