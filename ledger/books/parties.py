"""Everyone the workshop deals with: customers, shops, helpers. A changed name or contact is a further row."""

from __future__ import annotations

from dataclasses import dataclass

from ledger.books.books import Books
from ledger.books.transaction import Writing
from ledger.errors import unknown_name
from ledger.text import name_key, read_name


@dataclass(frozen=True)
class Party:
    id: int
    name: str
    contact: str | None

    @property
    def code(self) -> str:
        """What stands for the name where the name is left out."""
        return party_code(self.id)


def party_code(party: int) -> str:
    """`P-012`: what stands for the name of a party that is no customer."""
    return f"P-{party:03d}"


# The newest details of each party are the ones that count.
_DETAILS = (
    "select party.id, detail.name, detail.contact from party "
    "join party_detail as detail on detail.id = (select max(id) from party_detail where party = party.id)"
)


def find_party(books: Books, name: str) -> Party | None:
    """The party of that name as it is spelled now, however it is cased and spaced."""
    row = books.row(f"{_DETAILS} where detail.name_key = ? order by party.id limit 1", (name_key(name),))
    return Party(*row) if row else None


def party_named(books: Books, name: str, field: str = "who") -> Party:
    """Raises NotFound, offering the three nearest."""
    found = find_party(books, name)
    if found is None:
        raise unknown_name("customer or shop", name, [row["name"] for row in books.rows(_DETAILS)], field)
    return found


def read_party(books: Books, party: int) -> Party:
    row = books.row(f"{_DETAILS} where party.id = ?", (party,))
    assert row is not None, "a party that an entry or a job names is in the books"
    return Party(*row)


def ensure_party(books: Books, write: Writing, name: str, contact: str | None = None, field: str = "who") -> int:
    """The id of the party of that name, added if need be; a new contact is kept too. Raises NotUnderstood."""
    kept = read_name(name, field)
    found = find_party(books, kept)
    today = books.today.isoformat()
    party = found.id if found else write.add("party", added_on=today)
    if found is None or (contact is not None and contact != found.contact):
        write.add("party_detail", party=party, name=kept, name_key=name_key(kept), contact=contact, on_date=today)
    return party
