"""Sales tax on a slip: worked out over the summed rates, rounded once, then split among the jurisdictions.

Rounding: Streamlined Sales and Use Tax Agreement, section 324: to the third decimal, up when it is over four; on the
whole slip or per line, at the seller's choice; state and local tax together.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from decimal import Decimal
from fractions import Fraction
from typing import Literal

from ledger.errors import NotPossible
from ledger.money import largest_remainder, round_half_up, split_in_proportion
from ledger.taxes.materials_test import MaterialsTest

Level = Literal["state", "county", "city", "district"]
Method = Literal["slip", "line"]
Treatment = Literal["taxed", "not taxed", "exempt", "unanswered"]
LEVELS: tuple[Level, ...] = ("state", "county", "city", "district")
SHIPPED_CLASSES = ("goods", "work", "delivery", "other")


@dataclass(frozen=True)
class Rate:
    """A jurisdiction's rate in force on a day."""

    id: int
    jurisdiction: str
    level: Level
    percent: Decimal


@dataclass(frozen=True)
class TaxRules:
    """What holds on the day of a sale. answers: class to taxed or not, for the classes that she has an answer on.

    split: classes such as delivery that are taxed as far as the other lines are, by price. Alone on a slip they are
    taxed. rates_of_class: for classes with rates of their own that day. materials: classes that are taxed only where
    their test says so.
    """

    rates: tuple[Rate, ...]
    answers: Mapping[str, bool]
    method: Method = "slip"
    split: frozenset[str] = frozenset()
    rates_of_class: Mapping[str, tuple[Rate, ...]] = field(default_factory=dict)
    materials: Mapping[str, MaterialsTest] = field(default_factory=dict)

    def rates_for(self, class_name: str) -> tuple[Rate, ...]:
        return self.rates_of_class.get(class_name, self.rates)


@dataclass(frozen=True)
class Charge:
    """What one line asks of the customer, in cents, tax in it where the price includes tax."""

    class_name: str
    cents: int
    includes_tax: bool = False


@dataclass(frozen=True)
class TreatedCharge:
    """A charge with its treatment. base_cents: the charge without any tax in it.

    place: which of the charges it is, or is a part of, where a charge is split over what is taxed and what is not.
    """

    charge: Charge
    treatment: Treatment
    base_cents: int
    place: int


@dataclass(frozen=True)
class JurisdictionTax:
    rate: Rate
    base_cents: int
    tax_cents: int


@dataclass(frozen=True)
class SlipTax:
    charges: tuple[TreatedCharge, ...]
    taxes: tuple[JurisdictionTax, ...]

    @property
    def base_cents(self) -> int:
        """Every charge without the tax in it, taxed or not."""
        return sum(each.base_cents for each in self.charges)

    @property
    def tax_cents(self) -> int:
        return sum(each.tax_cents for each in self.taxes)

    @property
    def unanswered(self) -> tuple[str, ...]:
        """The classes on this slip whose taxability nobody has answered yet."""
        return tuple(dict.fromkeys(each.charge.class_name for each in self.charges if each.treatment == "unanswered"))


def percent_sum(rates: Sequence[Rate]) -> Decimal:
    """What the rates in force come to together."""
    return sum((each.percent for each in rates), start=Decimal(0))


def tax_on(charges: Sequence[Charge], rules: TaxRules, *, exempt: bool = False) -> SlipTax:
    """The tax on charges after discount. Raises NotPossible where a class is taxed and no rate is in force."""
    treated = _treated(charges, rules, exempt)
    taxed = [place for place, each in enumerate(treated) if each.treatment == "taxed"]
    _check_rates([treated[place].charge.class_name for place in taxed], rules)
    sums: dict[Rate, tuple[int, int]] = {}
    for rates, of_rates in _by_rates(treated, taxed, rules):
        for places in _rounded_together([each.charge for each in treated], of_rates, rules.method):
            bases, taxes = _tax_of([treated[place].charge for place in places], rates)
            for place, base in zip(places, bases, strict=True):
                treated[place] = replace(treated[place], base_cents=base)
            for rate, tax in zip(rates, taxes, strict=True):
                base_before, tax_before = sums.get(rate, (0, 0))
                sums[rate] = (base_before + sum(bases), tax_before + tax)
    return SlipTax(tuple(treated), tuple(JurisdictionTax(rate, base, tax) for rate, (base, tax) in sums.items()))


def _check_rates(taxed_classes: Sequence[str], rules: TaxRules) -> None:
    for class_name in taxed_classes:
        if not rules.rates_for(class_name):
            raise NotPossible(
                f"«{class_name}» is taxed, but no rate is in force on that day.",
                "Enter the rate with «twopurse tax rate».",
                "rate",
            )


def _by_rates(
    treated: Sequence[TreatedCharge], taxed: Sequence[int], rules: TaxRules
) -> list[tuple[tuple[Rate, ...], list[int]]]:
    """The taxed lines by the rates that they are taxed at, those at the usual rates first."""
    usual = [place for place in taxed if treated[place].charge.class_name not in rules.rates_of_class]
    by_rates = {rules.rates: usual} if usual else {}
    for place in taxed:
        if place not in usual:
            by_rates.setdefault(rules.rates_for(treated[place].charge.class_name), []).append(place)
    return list(by_rates.items())


def _treated(charges: Sequence[Charge], rules: TaxRules, exempt: bool) -> list[TreatedCharge]:
    """Every charge with its treatment; one of a split class in as many parts as the other lines have treatments."""
    cents = [(each.class_name, each.cents) for each in charges]
    treatments = [_treatment(each, rules, exempt, cents) for each in charges]
    shares: dict[Treatment, int] = {"taxed": 0, "unanswered": 0, "not taxed": 0}
    for each, treatment in zip(charges, treatments, strict=True):
        if each.class_name not in rules.split and treatment in shares:
            shares[treatment] += each.cents
    treated = []
    for place, (each, treatment) in enumerate(zip(charges, treatments, strict=True)):
        parts = {treatment: each.cents}
        if each.class_name in rules.split and treatment == "taxed" and each.cents and any(shares.values()):
            split = split_in_proportion(each.cents, list(shares.values()))
            parts = {of: cents for of, cents in zip(shares, split, strict=True) if cents}
        treated += [TreatedCharge(replace(each, cents=cents), of, cents, place) for of, cents in parts.items()]
    return treated


def _treatment(charge: Charge, rules: TaxRules, exempt: bool, slip: Sequence[tuple[str, int]]) -> Treatment:
    answer, test = rules.answers.get(charge.class_name), rules.materials.get(charge.class_name)
    if answer and test is not None:
        answer = test.is_taxed(charge.class_name, slip)
    if answer is None:
        return "exempt" if exempt else "unanswered"
    if not answer:
        return "not taxed"
    return "exempt" if exempt else "taxed"


def _rounded_together(charges: Sequence[Charge], taxed: list[int], method: Method) -> list[list[int]]:
    """Which taxed lines are rounded as one: each by itself, or all of a slip whose price has its tax in or not."""
    if method == "line":
        return [[place] for place in taxed]
    groups = ([place for place in taxed if charges[place].includes_tax is inside] for inside in (False, True))
    return [group for group in groups if group]


def _tax_of(charges: Sequence[Charge], rates: Sequence[Rate]) -> tuple[list[int], list[int]]:
    """Bases of the charges and tax by rate, for charges that are rounded together."""
    gross = sum(each.cents for each in charges)
    share = Fraction(percent_sum(rates)) / 100
    exact_base = Fraction(gross) / (1 + share) if charges[0].includes_tax else Fraction(gross)
    base = round_half_up(exact_base)
    tax = gross - base if charges[0].includes_tax else round_half_up(exact_base * share)
    taxes = largest_remainder(tax, [exact_base * Fraction(each.percent) / 100 for each in rates])
    return split_in_proportion(base, [each.cents for each in charges]), taxes
