"""Prices near her and machines side by side: median, spread, where hers stands; totals, and what nobody told."""

from __future__ import annotations

from collections.abc import Callable
from decimal import Decimal
from fractions import Fraction
from pathlib import Path
from statistics import median, quantiles

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checklists.worksheet_files import MOST_BYTES, read_offers, read_seen_prices
from checklists.worksheets import Offer, SeenPrices, compare_offers, price_standing, quantile
from ledger.errors import NotUnderstood
from ledger.money import Currency

USD, JPY = Currency("USD", 2), Currency("JPY", 0)


def seen(*prices: str, mine: str | None = None) -> SeenPrices:
    named = tuple((f"Shop {number}", Decimal(price)) for number, price in enumerate(prices))
    return SeenPrices("Edge-to-edge", "square inch", Decimal(mine) if mine else None, named)


def test_median_spread_and_where_hers_stands() -> None:
    """0.02 against a median of 0.0225 is a ninth below it."""
    found = price_standing(seen("0.03", "0.015", "0.025", "0.02", mine="0.02"))
    assert (found.lowest, found.highest, found.median) == (Decimal("0.015"), Decimal("0.03"), Fraction("0.0225"))
    assert (found.lower, found.upper) == (Fraction("0.01875"), Fraction("0.02625"))
    assert (found.below, found.above, found.from_median_percent) == (1, 2, Fraction(-100, 9))


def test_without_a_price_of_her_own_she_stands_nowhere() -> None:
    found = price_standing(seen("0.03", "0.015"))
    assert (found.below, found.above, found.from_median_percent) == (None, None, None)
    assert (found.lower, found.upper) == (None, None), "two prices have no quarters"


def test_nothing_asked_by_anybody_is_no_percentage() -> None:
    assert price_standing(seen("0", "0", mine="0.02")).from_median_percent is None


prices = st.lists(st.decimals(0, 100, places=4), min_size=2, max_size=12)


@given(prices)
def test_quarters_and_median_are_those_of_the_standard_library(found: list[Decimal]) -> None:
    ordered = sorted(found)
    exact = [Fraction(each) for each in ordered]
    assert quantile(ordered, Fraction(1, 2)) == median(exact)
    assert [quantile(ordered, Fraction(part, 4)) for part in (1, 2, 3)] == quantiles(exact, n=4, method="inclusive")


@given(prices, st.decimals(0, 100, places=4))
def test_the_spread_holds_the_median_and_the_counts_add_up(found: list[Decimal], mine: Decimal) -> None:
    standing = price_standing(seen(*map(str, found), mine=f"{mine:f}"))
    assert standing.lowest <= standing.median <= standing.highest
    if standing.prices.mine is not None:
        same = sum(price == standing.prices.mine for _, price in standing.prices.seen)
        assert (standing.below or 0) + (standing.above or 0) + same == len(found)


def test_machines_stand_by_what_they_cost_in_all() -> None:
    cheap = Offer("Cheap", (("price", 9_000_00),), (("throat", "20 inches"),))
    dear = Offer("Dear", (("price", 8_500_00), ("freight", 900_00)), (("warranty", "5 years"),))
    first, second = compare_offers([dear, cheap])
    assert (first.offer.name, first.above_cheapest_cents, first.not_told) == ("Cheap", 0, ("freight", "warranty"))
    assert (second.offer.total_cents, second.above_cheapest_cents) == (9_400_00, 400_00)
    assert second.not_told == ("throat",)
    assert compare_offers([]) == ()


# The files

PRICES = """[[work]]
what = "Edge-to-edge"
unit = "square inch"
mine = 0.02
[work.seen]
"Prairie" = 0.018
Star = "0.025"
"""
MACHINES = '[[machine]]\nname = "Used"\n[machine.costs]\nprice = 9500\nfreight = 400.50\n[machine.facts]\nthroat = 26\n'


def written(folder: Path, content: str | bytes) -> Path:
    file = folder / "sheet.toml"
    file.write_bytes(content.encode() if isinstance(content, str) else content)
    return file


def test_prices_are_read_exactly_in_quotes_or_without(tmp_path: Path) -> None:
    (work,) = read_seen_prices(written(tmp_path, PRICES))
    assert work == SeenPrices(
        "Edge-to-edge",
        "square inch",
        Decimal("0.02"),
        (("Prairie", Decimal("0.018")), ("Star", Decimal("0.025"))),
    )


def test_machines_are_read_in_the_currency_of_the_books(tmp_path: Path) -> None:
    (offer,) = read_offers(written(tmp_path, MACHINES), USD)
    assert offer == Offer("Used", (("price", 9500_00), ("freight", 400_50)), (("throat", "26"),))
    with pytest.raises(NotUnderstood, match="Used, freight"):
        read_offers(written(tmp_path, MACHINES), JPY)


@pytest.mark.parametrize(
    ("content", "said"),
    [
        ("", "none of what is wanted"),
        ("[work]\nwhat = 1", "in two brackets"),
        ("[[work]]\nwhat = x\n", "no TOML at line 2"),
        (b"\xff\xfe", "no TOML"),
        (PRICES.replace("0.018", "-0.018"), "Edge-to-edge, Prairie"),
        (PRICES.replace("0.018", '"much"'), "Edge-to-edge, Prairie"),
        (PRICES.replace("0.018", "true"), "Edge-to-edge, Prairie"),
        (PRICES.replace("0.018", "nan"), "Edge-to-edge, Prairie"),
        (PRICES.replace("0.018", "[1]"), "Edge-to-edge, Prairie"),
        (PRICES.replace("0.018", "1e-2"), "Edge-to-edge, Prairie"),
        (PRICES.replace("mine", "my"), "«my» in work no. 1"),
        (PRICES.replace('what = "Edge-to-edge"\n', ""), "what of work no. 1 is missing"),
        (PRICES.split("[work.seen]")[0], "no price that you saw"),
        (PRICES.split("[work.seen]")[0] + "seen = 1", "seen of Edge-to-edge is no table"),
        ("# " + "x" * MOST_BYTES, "more than"),
    ],
)
def test_a_mistake_in_a_worksheet_is_refused_with_its_place(tmp_path: Path, content: str | bytes, said: str) -> None:
    with pytest.raises(NotUnderstood) as refused:
        read_seen_prices(written(tmp_path, content))
    assert said in str(refused.value)
    assert refused.value.field == "file"


@pytest.mark.parametrize(
    ("content", "said"),
    [
        (MACHINES.replace("9500", "-9500"), "Used, price"),
        (MACHINES.replace("400.50", "400.505"), "Used, freight"),
        (MACHINES.replace("[machine.costs]\nprice = 9500\nfreight = 400.50\n", ""), "Used has no price"),
        (MACHINES.replace('name = "Used"', "name = 4"), "name of machine no. 1"),
        (MACHINES.replace("costs", "cost"), "«cost» in machine no. 1"),
    ],
)
def test_a_mistake_among_machines_is_refused_with_its_place(tmp_path: Path, content: str, said: str) -> None:
    with pytest.raises(NotUnderstood) as refused:
        read_offers(written(tmp_path, content), USD)
    assert said in str(refused.value)


@pytest.mark.parametrize("read", [read_seen_prices, lambda path: read_offers(path, USD)])
def test_a_file_that_is_not_there_is_told(tmp_path: Path, read: Callable[[Path], object]) -> None:
    with pytest.raises(NotUnderstood, match="cannot be read"):
        read(tmp_path / "missing.toml")
    with pytest.raises(NotUnderstood, match="cannot be read"):
        read(tmp_path)
