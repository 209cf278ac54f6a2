"""Statements in OFX, 1.x (SGML) and 2.x (XML), of a bank account or of a card.

The tree comes from ofxtools; what stands in it is read here, since the library turns times into UTC, so that a line of
23:00 on the fifth would be one of the sixth, and lets amounts through that are none.
Fields: Open Financial Exchange 1.6 and 2.2, section 11.4.
"""

from __future__ import annotations

import re
from contextlib import suppress
from datetime import date
from io import BytesIO
from typing import TYPE_CHECKING, Literal

from ledger.bank.amounts import bank_cents
from ledger.bank.bank_file import MOST_LINES, NUMBER_LETTERS, TEXT_LETTERS, BankFile, BankLine, Ending
from ledger.bank.file_text import text_of
from ledger.errors import NotPossible, NotUnderstood
from ledger.money import Currency
from ledger.text import clean

if TYPE_CHECKING:
    from xml.etree.ElementTree import Element

_MOMENT = re.compile(r"([0-9]{4})([0-9]{2})([0-9]{2})(?:[0-9]{4}(?:[0-9]{2}(?:\.[0-9]{1,6})?)?)?(?:\[[^\]]*\])?")
# What a bank may leave empty: SGML then has a bare opening tag, which the library would take for a group of others.
_EMPTY = re.compile(
    rb"<(MEMO|NAME|EXTDNAME|CHECKNUM|REFNUM|SIC|PAYEEID|SRVRTID|CLTCOOKIE|LANGUAGE|ORG|FID|MESSAGE|BRANCHID|ACCTKEY)>"
    rb"\s*(?=<(?!/\1>))"
)
# What the parser raises for what is no OFX; nothing but reading the file happens while it does.
_PARSER_FAULTS = (SyntaxError, ValueError, AssertionError, AttributeError, TypeError, KeyError, IndexError)
_MOST_TAGS_OF_A_LINE = 40
_LOOKED_AT = 2000
# Some files begin with their first group; the library wants the header that the standard asks for.
_HEADER = (
    b'<?xml version="1.0" encoding="UTF-8"?>'
    b'<?OFX OFXHEADER="200" VERSION="200" SECURITY="NONE" OLDFILEUID="NONE" NEWFILEUID="NONE"?>'
)
_ENTITIES = {"&lt;": "<", "&gt;": ">", "&nbsp;": " ", "&quot;": '"', "&apos;": "'", "&amp;": "&"}


def read_ofx(content: bytes, currency: Currency, number: str | None = None) -> BankFile:
    """The statement in an OFX file. number: the end of the account number that is wanted, where there are several.

    Raises NotUnderstood for a file that cannot be read through, NotPossible for several accounts or another currency.
    """
    root = _tree(content)
    statement = _chosen(_statements(root), number)
    code = _said(statement, "CURDEF").upper()
    if code and code != currency.code:
        raise NotPossible(
            f"The statement is in {clean(code)[:10]}, and these books are kept in {currency.code}.",
            "Choose a statement of an account in the currency of the books.",
            "file",
        )
    found = [_line(each, currency) for each in statement.iter("STMTTRN")]
    listed = statement.find("BANKTRANLIST")
    return BankFile(
        form="ofx",
        lines=tuple(each for each in found if each.cents),
        account_ending=_account_ending(statement),
        currency=code,
        start=_day_or_none(listed, "DTSTART"),
        end=_day_or_none(listed, "DTEND"),
        ending=_ending(statement, currency),
        without_amount=sum(not each.cents for each in found),
    )


def _tree(content: bytes) -> Element:
    from ofxtools.Parser import OFXTree  # 331 ms, only when a statement is read

    plain = _prepared(content)
    opened = plain.count(b"<STMTTRN>")
    root = None
    # The second time with a header of ours: some banks write one that the standard does not know, or name an encoding
    # that the file is not in.
    for attempt in (plain, _HEADER + _from_first_group(text_of(plain).encode("utf-8"))):
        with suppress(*_PARSER_FAULTS):
            root = OFXTree().parse(BytesIO(attempt))
            break
    if root is None:
        raise _broken("The file cannot be read as OFX.")
    lines = sum(1 for _ in root.iter("STMTTRN"))
    # Nothing which the library passed over goes unseen.
    if lines != opened:
        raise _broken("Some lines of the file cannot be told apart.")
    return root


def _prepared(content: bytes) -> bytes:
    """The file as the library can read it. Raises NotUnderstood for one cut short, NotPossible for one too long."""
    plain = _without_cdata(text_of(content).encode("utf-8") if b"\0" in content[:2000] else content)
    plain = _EMPTY.sub(b"", plain)
    if b"OFXHEADER" not in plain[:2000].upper():
        plain = _HEADER + _from_first_group(plain)
    if plain.count(b"<") > MOST_LINES * _MOST_TAGS_OF_A_LINE:
        raise NotPossible("The file has too many parts to be a statement.", "Ask the bank for fewer days.", "file")
    opened = plain.count(b"<STMTTRN>")
    if b"</OFX>" not in plain[-200:] or opened != plain.count(b"</STMTTRN>"):
        raise _broken("The file ends in the middle.")
    if opened > MOST_LINES:
        raise NotPossible(f"The file has {opened} lines.", "Ask the bank for a shorter span of days.", "file")
    return plain


def _from_first_group(content: bytes) -> bytes:
    return content[max(content.find(b"<OFX>"), 0) :]


def _without_cdata(content: bytes) -> bytes:
    """Text that stands as it is, written with entities: the library would look for its end again and again."""
    before, *parts = content.split(b"<![CDATA[")
    plain = [before]
    for part in parts:
        said, end, rest = part.partition(b"]]>")
        if not end:
            raise _broken("The file ends in the middle.")
        plain.append(said.replace(b"&", b"&amp;").replace(b"<", b"&lt;").replace(b">", b"&gt;") + rest)
    return b"".join(plain)


def _statements(root: Element) -> list[Element]:
    found = [*root.iter("STMTRS"), *root.iter("CCSTMTRS")]
    if not found:
        raise NotPossible(
            "The file holds no statement of a bank account or a card.", "Ask the bank for a statement.", "file"
        )
    return found


def _chosen(statements: list[Element], number: str | None) -> Element:
    fitting = [each for each in statements if number is None or _account_ending(each) == number[-4:]]
    if len(fitting) == 1:
        return fitting[0]
    endings = ", ".join(sorted({_account_ending(each) or "without a number" for each in statements}))
    if not fitting:
        raise NotPossible(
            f"The file is of the account that ends in {endings}.", "Choose another file, or that account.", "number"
        )
    raise NotPossible(
        f"The file holds {len(fitting)} statements: {endings}.",
        "Say which account is meant with the last four digits, as --number.",
        "number",
    )


def _line(element: Element, currency: Currency) -> BankLine:
    amount = _said(element, "TRNAMT")
    mark: Literal[".", ","] = "," if "," in amount and "." not in amount else "."
    payee = element.find("PAYEE")
    text = _said(element, "NAME") or (_said(payee, "NAME") if payee is not None else "") or _said(element, "EXTDNAME")
    memo = _said(element, "MEMO")
    if _said(element, "CORRECTFITID"):
        memo = f"{memo} The bank corrects an earlier line with this one.".strip()
    kind = _kept(_said(element, "TRNTYPE"), 20)
    return BankLine(
        day=_day(_said(element, "DTPOSTED")),
        cents=bank_cents(amount, currency, mark),
        text=_kept(text or memo or kind or "Without words"),
        memo=_kept(memo if text else ""),
        number=_kept(_said(element, "CHECKNUM"), NUMBER_LETTERS),
        bank_id=_kept(_said(element, "FITID"), 255),
        kind=kind,
    )


def _ending(statement: Element, currency: Currency) -> Ending | None:
    # Wherever it stands: some banks leave the list of lines unclosed, so that the balance falls into it.
    ledger = next(statement.iter("LEDGERBAL"), None)
    if ledger is None or not _said(ledger, "BALAMT"):
        return None
    amount = _said(ledger, "BALAMT")
    mark: Literal[".", ","] = "," if "," in amount and "." not in amount else "."
    return Ending(bank_cents(amount, currency, mark), _day_or_none(ledger, "DTASOF"))


def _account_ending(statement: Element) -> str:
    """The last four signs of the account's number: no more of it is kept."""
    for name in ("BANKACCTFROM", "CCACCTFROM"):
        account = statement.find(name)
        if account is not None:
            signs = [each for each in _said(account, "ACCTID") if each.isalnum()]
            return clean("".join(signs[-4:]))
    return ""


def _day_or_none(element: Element | None, name: str) -> date | None:
    said = _said(element, name) if element is not None else ""
    return _day(said) if said else None


def _day(said: str) -> date:
    """The day as the bank wrote it, in the bank's own zone."""
    found = _MOMENT.fullmatch(said)
    try:
        if found is None:
            raise ValueError
        return date(int(found[1]), int(found[2]), int(found[3]))
    except ValueError:
        raise NotUnderstood(
            f"«{clean(said)[:40]}» is no date of an OFX file.", "Ask the bank for the file again.", "file"
        ) from None


def _said(element: Element, name: str) -> str:
    found = element.find(name)
    return (found.text or "").strip() if found is not None else ""


def _kept(said: str, letters: int = TEXT_LETTERS) -> str:
    """Text as it is kept: its few entities read, made safe, single-spaced, cut."""
    said = said[:_LOOKED_AT]
    for entity, sign in _ENTITIES.items():
        said = said.replace(entity, sign)
    return " ".join(clean(said).split())[:letters]


def _broken(what: str) -> NotUnderstood:
    return NotUnderstood(what, "Get it from the bank once more; nothing was kept.", "file")
