"""Worksheets for the items that are asked before buying: what others charge near her, and machines side by side."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from math import floor

FEWEST_FOR_QUARTERS = 4


@dataclass(frozen=True)
class SeenPrices:
    """Published prices for one kind of work, by who asks them. unit: what they are for. mine: None without one yet."""

    what: str
    unit: str
    mine: Decimal | None
    seen: tuple[tuple[str, Decimal], ...]


@dataclass(frozen=True)
class PriceStanding:
    """Where the prices lie, exactly. lower, upper: the quarters, None for fewer than four prices. below, above: how
    many ask less and more than she does. from_median_percent: hers against the median, None without a price of hers."""

    prices: SeenPrices
    lowest: Decimal
    lower: Fraction | None
    median: Fraction
    upper: Fraction | None
    highest: Decimal
    below: int | None
    above: int | None
    from_median_percent: Fraction | None


@dataclass(frozen=True)
class Offer:
    """A machine as it was offered. costs: the price and what comes on top, in cents. facts: what is no money."""

    name: str
    costs: tuple[tuple[str, int], ...]
    facts: tuple[tuple[str, str], ...]

    @property
    def total_cents(self) -> int:
        return sum(cents for _, cents in self.costs)


@dataclass(frozen=True)
class ComparedOffer:
    """above_cheapest_cents: what it costs more than the cheapest. not_told: costs and facts that others have."""

    offer: Offer
    above_cheapest_cents: int
    not_told: tuple[str, ...]


def price_standing(prices: SeenPrices) -> PriceStanding:
    """Median, spread, and where hers stands; at least one price was seen."""
    ordered = sorted(price for _, price in prices.seen)
    mine, median = prices.mine, quantile(ordered, Fraction(1, 2))
    has_quarters = len(ordered) >= FEWEST_FOR_QUARTERS
    return PriceStanding(
        prices=prices,
        lowest=ordered[0],
        lower=quantile(ordered, Fraction(1, 4)) if has_quarters else None,
        median=median,
        upper=quantile(ordered, Fraction(3, 4)) if has_quarters else None,
        highest=ordered[-1],
        below=None if mine is None else sum(price < mine for price in ordered),
        above=None if mine is None else sum(price > mine for price in ordered),
        from_median_percent=None if mine is None or not median else (Fraction(mine) / median - 1) * 100,
    )


def quantile(ordered: Sequence[Decimal], share: Fraction) -> Fraction:
    """The value below which a share of ordered values lies, in a straight line between its neighbours.

    Definition 7 of Hyndman and Fan, Sample Quantiles in Statistical Packages, The American Statistician 50 (1996).
    """
    place = share * (len(ordered) - 1)
    below = floor(place)
    above = min(below + 1, len(ordered) - 1)
    return Fraction(ordered[below]) + (place - below) * (Fraction(ordered[above]) - Fraction(ordered[below]))


def compare_offers(offers: Sequence[Offer]) -> tuple[ComparedOffer, ...]:
    """The offers, the cheapest in all first; what one leaves out and another names is told, since it is no saving."""
    names = dict.fromkeys(name for offer in offers for name, _ in (*offer.costs, *offer.facts))
    cheapest = min((offer.total_cents for offer in offers), default=0)
    compared = [
        ComparedOffer(
            offer,
            offer.total_cents - cheapest,
            tuple(name for name in names if name not in dict(offer.costs) and name not in dict(offer.facts)),
        )
        for offer in offers
    ]
    return tuple(sorted(compared, key=lambda each: each.offer.total_cents))
