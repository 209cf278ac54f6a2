"""The worksheet of a return, worked out: from gross to what is owed, what was taken too much kept visible.

Tax is due on the totals of the period and was collected sale by sale. The greater of both is owed, jurisdiction by
jurisdiction: what was collected above is held in trust and paid over, what is due above is the seller's to bear.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal

from ledger.money import percent_of, round_half_up
from ledger.taxes.allowance import Allowance
from ledger.taxes.reported import ChargeKey, Reported, add_charges, add_taxes, sum_of
from ledger.taxes.sales_tax import LEVELS, Level

NOT_TAXED = "not taxed"
EXEMPT = "exempt buyer"
OUT_OF_STATE = "shipped out of state"
REFUNDS = "refunds"
BAD_DEBTS = "bad debts"


@dataclass(frozen=True)
class Deduction:
    """What is taken off gross, and why, in cents."""

    reason: str
    cents: int


@dataclass(frozen=True)
class Levy:
    """Who levies, and at which level of the state."""

    jurisdiction: int
    name: str
    level: Level


@dataclass(frozen=True)
class TaxedAt:
    """A jurisdiction at one rate, in cents: taxable sales, the tax due on their total, the tax that was collected."""

    levy: Levy
    percent: Decimal
    taxable_cents: int
    due_cents: int
    collected_cents: int


@dataclass(frozen=True)
class UseTaxAt:
    """Use tax of one jurisdiction at one rate, in cents: the cost that it is owed on, and the tax."""

    levy: Levy
    percent: Decimal
    cost_cents: int
    tax_cents: int


@dataclass(frozen=True)
class BeforeBooks:
    """What of a return was sold and collected before the books began, in cents: a part of its figures."""

    gross_cents: int
    taxable_cents: int
    tax_cents: int


@dataclass(frozen=True)
class Worksheet:
    """A return in cents. gross less exempt, deductions and unanswered is taxable.

    exempt: by reason, net of what was given back of it. deductions: taxable sales that were refunded or given up.
    unanswered_cents: charges of classes that nobody has answered, which are named; no tax was taken on them.
    owed_before_cents: what returns of the same period filed before came to, use tax included.
    before: the part that is from before the books, None where there is none.
    """

    gross_cents: int
    exempt: tuple[Deduction, ...]
    not_taxed: tuple[Deduction, ...]
    deductions: tuple[Deduction, ...]
    unanswered_cents: int
    unanswered: tuple[str, ...]
    taxable_cents: int
    taxed: tuple[TaxedAt, ...]
    use_tax_cents: int
    use_tax: tuple[UseTaxAt, ...]
    owed_before_cents: int
    allowance_cents: int
    carried_cents: int
    before: BeforeBooks | None = None

    @property
    def due_cents(self) -> int:
        """Tax on the totals."""
        return sum(each.due_cents for each in self.taxed)

    @property
    def collected_cents(self) -> int:
        return sum(each.collected_cents for each in self.taxed)

    @property
    def owed_cents(self) -> int:
        """Sales tax: of each jurisdiction the greater of due and collected."""
        return sum(max(due, collected) for due, collected in self._by_levy())

    @property
    def borne_cents(self) -> int:
        """By how much tax on the totals is above what was collected, which she bears: a difference of rounding."""
        return self.owed_cents - self.collected_cents

    @property
    def over_collected_cents(self) -> int:
        """By how much what was collected is above tax on the totals: it is paid over, and never income."""
        return self.owed_cents - self.due_cents

    @property
    def total_cents(self) -> int:
        """What is to be paid; below zero it is carried forward or claimed back."""
        owed = self.owed_cents + self.use_tax_cents - self.owed_before_cents
        return owed - self.allowance_cents - self.carried_cents

    def _by_levy(self) -> list[tuple[int, int]]:
        sums: dict[int, tuple[int, int]] = {}
        for each in self.taxed:
            due, collected = sums.get(each.levy.jurisdiction, (0, 0))
            sums[each.levy.jurisdiction] = (due + each.due_cents, collected + each.collected_cents)
        return list(sums.values())


@dataclass(frozen=True)
class Beside:
    """What a return has beside the sales. carried_cents: credit from returns before. is_in_time: it can still be filed
    on time. owed_before_cents: filed before for the same period."""

    use_tax: tuple[UseTaxAt, ...]
    use_tax_cents: int
    carried_cents: int
    owed_before_cents: int
    allowance: Allowance
    is_in_time: bool
    before: BeforeBooks | None = None


def work_out(entries: Sequence[Reported], levies: Mapping[int, Levy], beside: Beside) -> Worksheet:
    """The worksheet of the entries of a period. levies: every jurisdiction by its number."""
    sales = add_charges(*(each.charges for each in entries if each.part == "sale"))
    refunds = add_charges(*(each.charges for each in entries if each.part == "refund"))
    net = add_charges(sales, refunds)
    bad_debts = sum(_given_up(each) for each in entries if each.part == "bad debt")
    deductions = (Deduction(REFUNDS, -sum(refunds.values())), Deduction(BAD_DEBTS, bad_debts))
    taxed = _taxed(entries, levies)
    worksheet = Worksheet(
        gross_cents=sum(sales.values()),
        exempt=_by_reason(net),
        not_taxed=_by_class(net),
        deductions=tuple(each for each in deductions if each.cents),
        unanswered_cents=sum_of(net, "unanswered"),
        unanswered=tuple(sorted({key.class_name for key, cents in net.items() if key.treatment == "unanswered"})),
        taxable_cents=sum_of(net, "taxed") - bad_debts,
        taxed=taxed,
        use_tax_cents=beside.use_tax_cents,
        use_tax=beside.use_tax,
        owed_before_cents=beside.owed_before_cents,
        allowance_cents=0,
        carried_cents=beside.carried_cents,
        before=beside.before,
    )
    if not beside.is_in_time:
        return worksheet
    return replace(worksheet, allowance_cents=beside.allowance.of(worksheet.owed_cents))


def before_in(entries: Sequence[Reported]) -> BeforeBooks | None:
    """The part of a return that these entries tell of the time before the books."""
    charges = add_charges(*(each.charges for each in entries))
    tax_cents = sum(each.tax_cents for each in entries)
    if not charges and not tax_cents:
        return None
    return BeforeBooks(sum(charges.values()), sum_of(charges, "taxed"), tax_cents)


def _given_up(entry: Reported) -> int:
    """What a balance given up takes off taxable sales, in cents: its base, which all that levied on it share."""
    bases: dict[int, int] = {}
    for key, each in entry.taxes.items():
        bases[key.jurisdiction] = bases.get(key.jurisdiction, 0) + each.base_cents
    return -max(bases.values(), key=abs, default=0)


def _by_reason(net: dict[ChargeKey, int]) -> tuple[Deduction, ...]:
    sums: dict[str, int] = {}
    for key, cents in net.items():
        if key.treatment in ("not taxed", "exempt"):
            reason = key.reason or (NOT_TAXED if key.treatment == "not taxed" else EXEMPT)
            sums[reason] = sums.get(reason, 0) + cents
    first = sorted(sums, key=lambda reason: (reason != NOT_TAXED, reason))
    return tuple(Deduction(reason, sums[reason]) for reason in first if sums[reason])


def _by_class(net: dict[ChargeKey, int]) -> tuple[Deduction, ...]:
    """What is not taxed by its nature, class by class."""
    sums: dict[str, int] = {}
    for key, cents in net.items():
        if key.treatment == "not taxed" and key.reason is None:
            sums[key.class_name] = sums.get(key.class_name, 0) + cents
    return tuple(Deduction(name, sums[name]) for name in sorted(sums) if sums[name])


def _taxed(entries: Sequence[Reported], levies: Mapping[int, Levy]) -> tuple[TaxedAt, ...]:
    """One line for each jurisdiction and rate: two where the rate changed within the period."""
    sums = add_taxes(*(each.taxes for each in entries))
    lines = [
        TaxedAt(
            levies[key.jurisdiction],
            Decimal(key.percent),
            each.base_cents,
            round_half_up(percent_of(each.base_cents, Decimal(key.percent))),
            each.tax_cents,
        )
        for key, each in sums.items()
    ]
    # The rates of one jurisdiction stand in the order in which they were first used.
    return tuple(sorted(lines, key=lambda line: (LEVELS.index(line.levy.level), line.levy.jurisdiction)))
