"""What was told already of the day on which the books began, and what stands in the way of telling more."""

from __future__ import annotations

from ledger.actions.opening_request import CertificateBefore, DebtBefore, DepositBefore
from ledger.actions.take_money import DEPOSIT_FROM
from ledger.books.before_books import OPENING
from ledger.books.books import Books
from ledger.books.entries import closed_through
from ledger.errors import NotPossible
from ledger.jobs.gift_certificates import read_certificates
from ledger.jobs.job import Job
from ledger.jobs.records import read_job, read_job_to_act
from ledger.machine.loan_record import read_loans
from ledger.machine.record import read_parts
from ledger.money import plain_amount
from ledger.taxes.filed_returns import read_filed
from ledger.text import name_key, read_name

_CODE_LENGTH = 40
# Opening entries that stand: neither undone nor undoing.
_STANDING = (
    f"entry.kind = '{OPENING}' and entry.reverses is null "
    "and not exists (select 1 from entry as mirror where mirror.reverses = entry.number)"
)


def told_entries(books: Books) -> tuple[int, ...]:
    """Every opening entry of the workshop's that stands, on a job or on none."""
    rows = books.rows(
        f"select entry.number from entry where {_STANDING} and exists (select 1 from posting "
        "where posting.entry = entry.number and posting.purse = 'business') order by entry.number"
    )
    return tuple(row["number"] for row in rows)


def told_on(books: Books, role: str) -> tuple[int, ...]:
    """What each opening entry that stands put on an account, in cents."""
    rows = books.rows(
        "select sum(posting.cents) as cents from entry join posting on posting.entry = entry.number "
        f"join account on account.id = posting.account where {_STANDING} and account.role = ? group by entry.number",
        (role,),
    )
    return tuple(row["cents"] for row in rows)


def standing_entries(books: Books, role: str) -> tuple[int, ...]:
    """The opening entries that put something on an account, on no job."""
    rows = books.rows(
        "select entry.number from entry join posting on posting.entry = entry.number "
        "join account on account.id = posting.account "
        f"where {_STANDING} and entry.job is null and account.role = ? group by entry.number order by entry.number",
        (role,),
    )
    return tuple(row["number"] for row in rows)


def check_day(books: Books) -> None:
    """Raises NotPossible where the day on which the books began is closed."""
    begun, closed = books.settings.begun_on, closed_through(books)
    if closed is not None and begun <= closed:
        raise NotPossible(
            f"{begun}, the day on which the books began, lies in a period that was closed through {closed}.",
            "Reopen it first with «twopurse quarter PERIOD --reopen»; your accountant has its packet already.",
        )


def check_tax(books: Books) -> None:
    """Raises NotPossible where the return of that day was filed."""
    begun = books.settings.begun_on
    filed = next((each for each in read_filed(books) if each.period.holds(begun)), None)
    if filed is not None:
        raise NotPossible(
            f"The return of {filed.period.label}, which holds the day the books began, was filed.",
            f"Take it back first with «twopurse tax unfile {filed.period.label}», if it was a mistake.",
            "sales_tax",
        )


def check_debt(books: Books, debt: DebtBefore) -> None:
    """Raises NotPossible where the same customer stands there with the same amount."""
    key = name_key(read_name(debt.customer, "debts"))
    rows = books.rows(
        "select entry.number, detail.name_key from entry join owed_part on owed_part.entry = entry.number "
        "join party_detail as detail on detail.party = entry.who "
        f"where {_STANDING} group by entry.number, detail.name_key having sum(charge + tax) = ?",
        (debt.cents,),
    )
    found = next((row["number"] for row in rows if row["name_key"] == key), None)
    if found is not None:
        owed = plain_amount(debt.cents, books.currency)
        raise NotPossible(
            f"That {debt.customer} owed {owed} was told with entry {found}.", "Leave it out, or undo that one.", "debts"
        )


def check_deposit(books: Books, deposit: DepositBefore) -> Job | None:
    """The job that it is attached to, None for one to be made. Raises NotFound, NotPossible."""
    if deposit.job is None:
        _check_piece(books, deposit)
        return None
    job = read_job_to_act(books, deposit.job)
    if job.status not in DEPOSIT_FROM:
        raise NotPossible(
            f"Job {job.id} is {job.status.replace('-', ' ')}.", "A deposit is held until pickup.", "deposits"
        )
    found = books.value(
        "select entry.number from entry join posting on posting.entry = entry.number join account on account.id = "
        f"posting.account where {_STANDING} and entry.job = ? and role = 'customer_deposits' limit 1",
        (job.id,),
    )
    _check_told(f"the deposit of job {job.id}", found)
    return job


def _check_piece(books: Books, deposit: DepositBefore) -> None:
    """Raises NotPossible where the piece has its deposit, or is in the house still since that was undone."""
    rows = books.rows(
        f"select entry.number, entry.job, job.piece, detail.name_key, -posting.cents as cents, {_STANDING} as stands "
        "from entry join job on job.id = entry.job join party_detail as detail on detail.party = entry.who "
        "join posting on posting.entry = entry.number join account on account.id = posting.account "
        f"where entry.kind = '{OPENING}' and entry.reverses is null and role = 'customer_deposits' "
        "order by entry.number",
    )
    same = (name_key(read_name(deposit.customer, "deposits")), name_key(deposit.piece))
    found = [row for row in rows if (row["name_key"], name_key(row["piece"])) == same]
    told = next((row["number"] for row in found if row["stands"] and row["cents"] == deposit.cents), None)
    _check_told(f"the deposit of {deposit.customer}", told)
    with_none = {row["job"] for row in found} - {row["job"] for row in found if row["stands"]}
    again = next((job for job in sorted(with_none) if read_job(books, job).status in DEPOSIT_FROM), None)
    if again is not None:
        amount = plain_amount(deposit.cents, books.currency)
        raise NotPossible(
            f"That piece is job {again} already, and its deposit was undone.",
            f"Write it as «job {again} {amount}», or call that job off first.",
            "deposits",
        )


def _check_told(what: str, entry: int | None) -> None:
    if entry is not None:
        raise NotPossible(
            f"{what[:1].upper()}{what[1:]} was told with entry {entry}.", "Leave it out, or undo that one.", "deposits"
        )


def check_certificate(books: Books, certificate: CertificateBefore) -> str:
    """The number as it is kept. Raises NotUnderstood, and NotPossible where it is out already."""
    code = read_name(certificate.code, "certificates")
    if len(code) > _CODE_LENGTH:
        raise NotPossible(
            f"The number of a certificate has at most {_CODE_LENGTH} characters.", "Shorten it.", "certificates"
        )
    if any(each.code.casefold() == code.casefold() for each in read_certificates(books)):
        raise NotPossible(
            f"Gift certificate {code} is in the books already.", "Leave it out, or undo its entry.", "certificates"
        )
    kept = books.value("select code from gift_certificate where lower(code) = lower(?)", (code,))
    return code if kept is None else str(kept)


def check_machine(books: Books, standing: tuple[int, ...]) -> None:
    """Raises NotPossible where a machine's price is in the books by anything but an opening entry."""
    parts = (each for each in read_parts(books, books.today) if each.machine is None)
    found = next((each for each in parts if each.kind == "price"), None)
    if found is not None and found.entry not in standing:
        undo = f"undo entry {found.entry}" if found.entry is not None else f"«twopurse machine strike {found.id}»"
        raise NotPossible(
            f"The machine's price is in the books already, {plain_amount(found.cents, books.currency)}.",
            f"Leave it out; if that one is wrong, {undo} first.",
            "machine_cost",
        )


def check_loan(books: Books) -> None:
    """Raises NotPossible where a loan is entered."""
    loans = read_loans(books)
    if loans:
        raise NotPossible(
            f"Loan {loans[0].id} is in the books already.",
            f"Correct its terms with «twopurse machine loan --instead-of {loans[0].id}», or undo its entry.",
            "loan",
        )
