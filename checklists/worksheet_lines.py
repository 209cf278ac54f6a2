"""The worksheets of the set-up list in lines, for a command and for a page of the rooms."""

from __future__ import annotations

from collections.abc import Callable
from decimal import Decimal
from fractions import Fraction

from checklists.worksheets import ComparedOffer, PriceStanding
from ledger.money import plain_decimal, round_half_up

EACH_SETS_HER_OWN = "Read what is published, and agree on prices with nobody in the trade: each sets her own."


def price_lines(found: PriceStanding) -> list[str]:
    """Where the prices for one kind of work lie, and where hers stands among them."""
    prices = found.prices
    many = f"{len(prices.seen)} price{'' if len(prices.seen) == 1 else 's'}"
    lines = [
        f"{prices.what}, a {prices.unit}: {many} from {plain_decimal(found.lowest)} to {plain_decimal(found.highest)}, "
        f"median {rounded(found.median)}."
    ]
    if found.lower is not None:
        lines.append(f"The middle half asks {rounded(found.lower)} to {rounded(found.upper)}.")
    if prices.mine is not None:
        percent = rounded(found.from_median_percent, 2)
        beside = f", {percent} % from the median" if percent is not None else ""
        lines.append(f"Yours is {plain_decimal(prices.mine)}{beside}: {found.below} ask less, {found.above} ask more.")
    return lines


def machine_lines(compared: ComparedOffer, amount: Callable[[int], str]) -> list[str]:
    """A machine with what it costs in all, and what its seller left out."""
    offer = compared.offer
    above = f", {amount(compared.above_cheapest_cents)} more than the cheapest" if compared.above_cheapest_cents else ""
    lines = [f"{offer.name}: {amount(offer.total_cents)} in all{above}"]
    lines += [f"  {what}: {amount(cents)}" for what, cents in offer.costs]
    lines += [f"  {what}: {fact}" for what, fact in offer.facts]
    return lines + ([f"  Not told, so ask: {', '.join(compared.not_told)}"] if compared.not_told else [])


def rounded(value: Fraction | None, least_decimals: int = 0) -> str | None:
    """To four decimals, since a square inch costs cents; a percent to two."""
    if value is None:
        return None
    scale = 100 if least_decimals else 10_000
    return plain_decimal(Decimal(round_half_up(value * scale)) / scale, least_decimals)
