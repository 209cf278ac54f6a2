"""Commands for certificates: those that exempt customers, and her own resale certificate for suppliers."""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING, Any

import click

from ledger.actions.registry import act_of_verb
from ledger.books.books import Books
from ledger.commands.manners import Answer, Command, Group, Session, answers, day_or_none, read_path
from ledger.periods import parse_date
from ledger.taxes.certificate_form import CertificateForm
from ledger.taxes.certificates import Certificate, newest_certificate, read_certificates

if TYPE_CHECKING:
    from ledger.actions.own_certificate import OwnCertificate


@click.command("keep", cls=Command, help=act_of_verb("customer keep").help)
@click.argument("name")
@click.option("--exempt", metavar="REASON", help="Why no tax is taken: words, or a letter of the uniform form, A to M.")
@click.option("--certificate", metavar="NO", help="The certificate's number.")
@click.option("--state", metavar="TEXT", help="The state that gave the number.")
@click.option("--from", "from_day", metavar="DATE", help="The certificate's first day; today unless given.")
@click.option("--expires", metavar="DATE", help="The certificate's last day.")
@click.option("--address", metavar="TEXT", help="The buyer's address.")
@click.option("--purchase", metavar="TEXT", help="The one order that it is for; without it, for all purchases.")
@click.option("--business", metavar="TEXT", help="The buyer's type of business.")
@click.option("--signed-by", metavar="NAME", help="Who signed it.")
@click.option("--title", metavar="TEXT", help="The title of who signed it.")
@click.option("--signed", metavar="DATE", help="The day on which it was signed.")
@click.option("--document", metavar="FILE", help="A scan of the certificate to keep with it.")
@click.option("--contact", metavar="TEXT", help="Telephone or mail address.")
@answers
def keep_customer(session: Session, name: str, exempt: str | None, contact: str | None, **given: str | None) -> Answer:
    from ledger.actions import keep_certificate

    if exempt is None and any(value is not None for value in given.values()):
        raise click.UsageError("The details of a certificate go with --exempt REASON.")
    with session.books() as books:
        request = keep_certificate.CertificateRequest(name, exempt, contact=contact, **_certificate_given(given))
        kept = keep_certificate.perform(books, request)
        held = newest_certificate(books, kept.party.id)
        certificate = _certificate(held) if held is not None else None
        data = {"customer": kept.name, "code": kept.code, "contact": kept.party.contact, "exempt": certificate}
        lines = [f"{kept.name} is customer {kept.code}."]
        if held is not None and not held.is_valid(session.today):
            lines.append("The certificate has no number or is not valid today, so tax is taken as from anyone.")
        return Answer(data, lines)


def _certificate_given(given: dict[str, str | None]) -> dict[str, Any]:
    document = given["document"]
    form = CertificateForm(
        address=given["address"],
        single_purchase=given["purchase"],
        business=given["business"],
        signed_by=given["signed_by"],
        title=given["title"],
        signed_on=_day(given["signed"], "signed"),
    )
    return {
        "number": given["certificate"],
        "expires": _day(given["expires"], "expires"),
        "state": given["state"],
        "from_date": _day(given["from_day"], "from"),
        "document": read_path(document, "document") if document is not None else None,
        "form": form if form != CertificateForm() else None,
    }


def _day(text: str | None, field: str) -> date | None:
    return parse_date(text, field) if text is not None else None


def _certificate(held: Certificate) -> dict[str, Any]:
    form = held.form or CertificateForm()
    return {
        "reason": held.reason,
        "letter": form.letter,
        "certificate": held.number,
        "state": held.state,
        "from": held.from_date.isoformat(),
        "expires": day_or_none(held.expires),
        "purchase": form.single_purchase,
        "used_on": day_or_none(held.used_on),
        "address": form.address,
        "business": form.business,
        "signed_by": form.signed_by,
        "title": form.title,
        "signed": day_or_none(form.signed_on),
        "document": held.document,
    }


@click.command("certificates", cls=Command, help=act_of_verb("tax certificates").help)
@click.option("--by", "by_day", metavar="DATE", help="Only those that run out by this day.")
@answers
def list_certificates(session: Session, by_day: str | None) -> Answer:
    with session.books() as books:
        last, today = _day(by_day, "by"), session.today
        held = [
            each
            for each in read_certificates(books, today)
            if last is None or (each.certificate.expires or date.max) <= last
        ]
        certificates = [
            {"customer": each.name, "valid": each.certificate.is_valid(today), **_certificate(each.certificate)}
            for each in held
        ]
        lines = [
            f"{each['expires'] or 'no last day':<12}{'' if each['valid'] else 'not valid  '}{each['customer']}: "
            f"{each['reason']}, {each['certificate'] or 'no number'}"
            for each in certificates
        ]
        return Answer({"certificates": certificates}, lines or ["No customer has an exemption certificate."])


@click.group("resale", cls=Group)
def resale() -> None:
    """Your own resale certificate.

    On it you buy without tax what passes to the customer in a taxed charge. What you keep or use up owes use tax.
    """


@resale.command("show", help=act_of_verb("tax resale show").help)
@answers
def show(session: Session) -> Answer:
    from ledger.actions.own_certificate import read_own

    with session.books() as books:
        return _tell_own(books, read_own(books), [])


@resale.command("set", help=act_of_verb("tax resale set").help)
@click.argument("number", metavar="NUMBER")
@click.option("--asked", metavar="WHOM", required=True, help="Whom you asked.")
@click.option("--state", metavar="TEXT", help="The state that gave it.")
@click.option("--expires", metavar="DATE", help="Its last day.")
@answers
def set_own(session: Session, number: str, asked: str, state: str | None, expires: str | None) -> Answer:
    from ledger.actions import own_certificate

    with session.books() as books:
        request = own_certificate.OwnRequest(number, asked, state, _day(expires, "expires"))
        return _tell_own(books, own_certificate.perform(books, request), ["Recorded, also on the set-up list."])


@resale.command("give", help=act_of_verb("tax resale give").help)
@click.argument("supplier", metavar="SUPPLIER")
@click.option("--goods", metavar="TEXT", help="What you buy there on it; batting and backing unless given.")
@click.option("--business", metavar="TEXT", help="Your type of business; quilting for customers unless given.")
@click.option("--purchase", metavar="TEXT", help="The one order that it is for; without it, for all purchases.")
@click.option("--to", metavar="FOLDER", help="The folder for the two files; the receipts folder unless given.")
@answers
def give(session: Session, supplier: str, to: str | None, **given: str | None) -> Answer:
    from ledger.actions import own_certificate
    from ledger.taxes.own_certificate import CAUTION

    with session.books() as books:
        said = {name: text for name, text in given.items() if text is not None}
        folder = read_path(to, "to") if to is not None else None
        printed, at = own_certificate.give(books, own_certificate.GiveRequest(supplier, folder=folder, **said))
        pdf, text = printed.pdf_in(at), printed.text_in(at)
        data = {"supplier": supplier, "pdf": str(pdf), "text": str(text)}
        return Answer(data, [*printed.text.splitlines(), "", f"For paper: {pdf}", f"As text: {text}", CAUTION])


@resale.command("back")
@click.argument("supplier", metavar="SUPPLIER")
@answers
def back(session: Session, supplier: str) -> Answer:
    """A supplier has your certificate no more.

    SUPPLIER is as the list has it.
    """
    from ledger.actions import own_certificate

    with session.books() as books:
        name = own_certificate.take_back(books, own_certificate.BackRequest(supplier))
        return _tell_own(books, own_certificate.read_own(books), [f"{name} has it no more."])


def _tell_own(books: Books, own: OwnCertificate, lines: list[str]) -> Answer:
    from ledger.taxes.own_certificate import CAUTION

    holders = [
        {"supplier": each.name, "number": each.number, "given_on": each.given_on.isoformat(), "old": own.is_old(each)}
        for each in own.holders
    ]
    data = {
        "certificate": own.number,
        "state": own.state,
        "expires": day_or_none(own.expires),
        "valid": own.holds(books.today),
        "holders": holders,
    }
    if own.number is None:
        said = "No resale certificate of yours is recorded: ask your revenue office."
    else:
        through = f", valid through {own.expires}" if own.expires else ""
        ran_out = "" if own.holds(books.today) else " It has run out: record the new one."
        said = f"Resale certificate {own.number}, {own.state or 'no state was said'}{through}.{ran_out}"
    told = [
        f"  {each['supplier']} has it since {each['given_on']}{', with an earlier number' if each['old'] else ''}"
        for each in holders
    ]
    return Answer(data, [*lines, said, *told, CAUTION])


TAX_COMMANDS = (list_certificates, resale)
