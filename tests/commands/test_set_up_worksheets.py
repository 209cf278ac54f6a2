"""Worksheets by command: what others charge, and machines side by side; nothing is kept."""

from __future__ import annotations

from pathlib import Path

from tests.commands.desk import Desk, contents

PRICES = """
[[work]]
what = "Edge-to-edge"
unit = "square inch"
mine = 0.02
[work.seen]
"Prairie Longarm" = 0.018
"Star Quilting" = 0.025
"By the River" = 0.015
"Mill Road" = 0.03
"""
MACHINES = """
[[machine]]
name = "New, 24 inches"
[machine.costs]
price = 17500
[machine.facts]
warranty = "5 years"

[[machine]]
name = "Used, 26 inches"
[machine.costs]
price = 9500
freight = 400
"""


def test_prices_near_her_are_told_with_where_hers_stands(desk: Desk, tmp_path: Path) -> None:
    file = tmp_path / "prices.toml"
    file.write_text(PRICES, encoding="utf-8")
    before = contents(desk.folder)
    (work,) = desk.data("setup", "prices", str(file))["work"]
    assert (work["prices"], work["lowest"], work["highest"]) == (4, "0.015", "0.03")
    assert (work["median"], work["lower_quarter"], work["upper_quarter"]) == ("0.0215", "0.0173", "0.0263")
    assert (work["mine"], work["below_mine"], work["above_mine"], work["from_median"]) == ("0.02", 2, 2, "-6.98")
    said = desk.lines("setup", "prices", str(file))
    assert "Yours is 0.02, -6.98 % from the median: 2 ask less, 2 ask more." in said
    assert said.splitlines()[-1].startswith("Read what is published, and agree on prices with nobody")
    assert contents(desk.folder) == before


def test_machines_are_told_the_cheapest_in_all_first(desk: Desk, tmp_path: Path) -> None:
    file = tmp_path / "machines.toml"
    file.write_text(MACHINES, encoding="utf-8")
    used, new = desk.data("setup", "machines", str(file))["machines"]
    assert (used["name"], used["total"], used["above_cheapest"]) == ("Used, 26 inches", "9900.00", "0.00")
    assert (new["total"], new["above_cheapest"], new["not_told"]) == ("17500.00", "7600.00", ["freight"])
    assert "  Not told, so ask: freight" in desk.lines("setup", "machines", str(file))


def test_a_worksheet_with_a_mistake_is_refused(desk: Desk, tmp_path: Path) -> None:
    file = tmp_path / "prices.toml"
    file.write_text(PRICES.replace("0.018", "-1"), encoding="utf-8")
    assert desk.refused("setup", "prices", str(file))["field"] == "file"
    assert desk.refused("setup", "machines", str(file))["field"] == "file"
    assert desk.refused("setup", "machines", str(tmp_path / "missing.toml"))["field"] == "file"
