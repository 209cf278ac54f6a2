"""Her own resale certificate: which suppliers hold it, and the sheet that one of them is given.

The sheet has the fields of the uniform form (Streamlined Sales Tax Governing Board, Form F0003); a state or a supplier
may want a form of its own.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from ledger.books.books import Books
from ledger.books.parties import ensure_party, read_party
from ledger.books.transaction import Writing
from ledger.errors import NotFound
from ledger.paper.locales import LocalForms
from ledger.paper.sheet import Facts, Heading, Notes, Sheet, Signatures, Title
from ledger.text import name_key

CAUTION = (
    "It covers only what passes to the customer in a taxed charge: what that is, your state says. On what you keep, "
    "give away or use up you owe use tax, and a wrong certificate can cost a penalty: ask your revenue office."
)
_DECLARED = (
    "The buyer buys the goods named above for resale and does not pay sales tax on them. The buyer will pay the tax on "
    "goods that are not resold."
)
_COVERS = "It covers only what passes to customers in a taxed charge; what that is, the state decides."
_OWN_FORM = "If your state has a form of its own for this, please say so, and the buyer will sign that one."


@dataclass(frozen=True)
class Holder:
    """A supplier that has the certificate. number: as it stood on the sheet that was given."""

    party: int
    name: str
    number: str | None
    given_on: date


@dataclass(frozen=True)
class CertificateForSupplier:
    """What is printed. purchase: the order that it is for; None for all purchases. goods: what is bought on it."""

    workshop: str
    supplier: str
    number: str
    state: str | None
    expires: date | None
    goods: str
    business: str
    day: date
    purchase: str | None = None


def read_holders(books: Books, on: date) -> tuple[Holder, ...]:
    """The suppliers that have it at the end of a day, the one that got it first before the others."""
    rows = books.rows(
        "select party, what, number, on_date from supplier_certificate where on_date <= ? order by id",
        (on.isoformat(),),
    )
    latest = {row["party"]: row for row in rows}
    return tuple(
        Holder(party, read_party(books, party).name, row["number"], date.fromisoformat(row["on_date"]))
        for party, row in latest.items()
        if row["what"] == "given"
    )


def keep_given(books: Books, write: Writing, supplier: str, number: str) -> str:
    """Keep that a supplier was given the certificate today; the supplier's name as it is kept."""
    party = ensure_party(books, write, supplier, field="supplier")
    write.add("supplier_certificate", party=party, what="given", number=number, on_date=books.today.isoformat())
    return read_party(books, party).name


def keep_back(books: Books, write: Writing, supplier: str) -> str:
    """Keep that a supplier has it no more. Raises NotFound for one that has none."""
    holder = next(
        (each for each in read_holders(books, books.today) if name_key(each.name) == name_key(supplier)), None
    )
    if holder is None:
        raise NotFound(
            f"«{supplier}» has no resale certificate of yours.", "See who has: «twopurse tax resale show».", "supplier"
        )
    write.add("supplier_certificate", party=holder.party, what="back", on_date=books.today.isoformat())
    return holder.name


def sheet_name(printed: CertificateForSupplier) -> str:
    """The name of its files."""
    letters = "".join(each if each.isascii() and each.isalnum() else "-" for each in printed.supplier.casefold())
    supplier = "-".join(part for part in letters.split("-") if part)[:40]
    return "-".join(part for part in ("resale-certificate", supplier, printed.day.isoformat()) if part)


def certificate_sheet(printed: CertificateForSupplier, forms: LocalForms) -> Sheet:
    """The certificate for a supplier, to be signed by hand."""
    covers = f"The order {printed.purchase} alone" if printed.purchase else "All purchases of the goods below (blanket)"
    return Sheet(
        letterhead=(printed.workshop,),
        about=f"{printed.workshop}: resale certificate for {printed.supplier}",
        blocks=(
            Title("Resale certificate", forms.day(printed.day)),
            Facts(
                (
                    ("Seller", printed.supplier),
                    ("Buyer", printed.workshop),
                    ("Type of business", printed.business),
                    ("It covers", covers),
                    ("Goods", printed.goods),
                    ("Reason", "Resale (G)"),
                    ("Number", printed.number),
                    ("State", printed.state or "-"),
                    ("Valid through", forms.day(printed.expires) if printed.expires else "no last day was given"),
                )
            ),
            Heading("Signed by the buyer"),
            Notes((_DECLARED, _COVERS, _OWN_FORM)),
            Signatures(("Address of the buyer",)),
            Signatures(("Address of the seller",)),
            Signatures(("Signature", "Name and title", "Day")),
        ),
    )
