"""The figures from before the books: income and expenses of the year, estimated tax, what the machine earned."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from ledger.actions.opening_request import OpeningRequest
from ledger.books.accounts import Account, Accounts
from ledger.books.before_books import Figure
from ledger.books.books import Books
from ledger.errors import NotPossible, unknown_name
from ledger.text import name_key

# What was given back is told above zero, and lowers the income.
_GIVEN_BACK = "returns_and_allowances"
# On the cash method a balance written off was never income.
_NO_INCOME = "balances_written_off"
_PERIODS = (1, 2, 3, 4)


def told_figures(books: Books, request: OpeningRequest, accounts: Accounts) -> tuple[Figure, ...]:
    """Raises NotFound for a name, NotPossible where nothing of the year lay before the books."""
    begun = books.settings.begun_on
    if (request.income or request.expenses or request.estimated) and (begun.month, begun.day) == (1, 1):
        raise NotPossible(
            f"The books begin on {begun}, so nothing of the year was before them.",
            "Enter it on its own days.",
            "income" if request.income else "expenses" if request.expenses else "estimated",
        )
    return (*_of_the_year(request, accounts), *_of_the_machine(request))


def _of_the_year(request: OpeningRequest, accounts: Accounts) -> Iterator[Figure]:
    for account, cents in _summed((income_named(accounts, name), cents) for name, cents in request.income):
        yield Figure("income", -cents if account.role == _GIVEN_BACK else cents, account)
    for account, cents in _summed((accounts.category(name, "expenses"), cents) for name, cents in request.expenses):
        yield Figure("expenses", cents, account)
    for period, cents in request.estimated:
        if period not in _PERIODS:
            raise NotPossible(
                f"Estimated tax has no period {period}.", "Its four dates are 1, 2, 3 and 4.", "estimated"
            )
        yield Figure("estimated tax", cents, period=period)


def income_accounts(accounts: Accounts) -> tuple[Account, ...]:
    """What income before the books can be."""
    return tuple(each for each in accounts.of_kind("income") if each.role != _NO_INCOME)


def income_named(accounts: Accounts, name: str) -> Account:
    """Raises NotFound, offering the nearest."""
    offered = income_accounts(accounts)
    found = next((each for each in offered if name_key(each.name) == name_key(name)), None)
    if found is None:
        raise unknown_name("kind of income", name, [each.name for each in offered], "income")
    return found


def _summed(told: Iterable[tuple[Account, int]]) -> list[tuple[Account, int]]:
    """Each account once, with what was told of it in all."""
    sums: dict[Account, int] = {}
    for account, cents in told:
        sums[account] = sums.get(account, 0) + cents
    return list(sums.items())


def _of_the_machine(request: OpeningRequest) -> Iterator[Figure]:
    machine = request.machine
    taken, earned = machine.taken_in_cents, machine.earned_cents
    if earned is not None and taken is None:
        taken = earned
    if earned is None and taken:
        raise NotPossible(
            "How much of what work took in was earned towards the machine is not said.",
            "Give what was left of it after the workshop's expenses, 0 where nothing was.",
            "earned",
        )
    if earned is not None and taken is not None and earned > taken:
        raise NotPossible(
            "Work cannot have earned more towards the machine than it took in.", "Check both amounts.", "earned"
        )
    if taken is not None:
        yield Figure("taken in", taken)
        yield Figure("earned", earned or 0)
