"""More of the commands that end a job, as they are typed."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from tests.commands.desk import Desk
from tests.commands.selling import add_prices, checks, sell, take_in

LATER, APRIL = "2026-02-11", "2026-04-02"


@pytest.fixture
def desk(with_rules: Desk) -> Desk:
    return add_prices(with_rules)


class TestCards:
    def test_the_fee_comes_with_the_payout_of_some_days(self, desk: Desk) -> None:
        sell(desk, "--paid", "card")
        job = take_in(desk)
        desk.data("pickup", job, "--paid", "card", on=LATER)
        listed = desk.data("card", "list", on=LATER)
        assert ([each["amount"] for each in listed["payments"]], listed["total"]) == (["105.30", "105.30"], "210.60")
        data = desk.data("card", "payout", "102.00", "--through", "2026-02-10", on=LATER)
        assert (data["payments"], data["expected"], data["fee"]) == (1, "105.30", "3.30")
        assert desk.data("card", "list", on="2026-02-10")["total"] == "105.30"
        refusal = desk.refused("card", "payout", "105.31", on=LATER)
        assert refusal["what"] == "The card payments that are not paid out yet come to 105.30."
        said = desk.lines("card", "payout", "100.00", on=LATER)
        assert "covers 1 payment of 105.30; the fee is 5.30." in said
        checks(desk)

    def test_what_was_charged_back_after_the_payout_is_taken_out_of_checking(self, desk: Desk) -> None:
        job = sell(desk, "--paid", "card")
        desk.data("card", "payout", "105.30")
        desk.data("job", "returned-check", job, "--card")
        data = desk.data("card", "payout", "120.30", "--taken")
        assert (data["expected"], data["fee"]) == ("-105.30", "15.00")
        assert desk.balances()["checking"] == "-15.00"
        assert desk.refused("card", "payout", "5", "--taken")["field"] == "amount"
        checks(desk)


class TestExempt:
    CERTIFICATE = ("--exempt", "charity", "--certificate", "KS-1", "--state", "Kansas", "--expires", "2026-03-31")

    def test_the_certificate_is_kept_with_its_state_and_scan(self, desk: Desk, tmp_path: Path) -> None:
        scan = tmp_path / "scan.pdf"
        scan.write_bytes(b"%PDF-1.4 a scan")
        data = desk.data("customer", "Guild", *self.CERTIFICATE, "--document", str(scan))
        told = {name: value for name, value in data["exempt"].items() if value is not None}
        assert told == {
            "reason": "charity",
            "certificate": "KS-1",
            "state": "Kansas",
            "from": "2026-02-10",
            "expires": "2026-03-31",
            "document": "scan.pdf",
        }
        kept = list((desk.folder / "documents").iterdir())
        assert [each.read_bytes() for each in kept] == [b"%PDF-1.4 a scan"]
        checks(desk)

    def test_after_its_last_day_tax_is_taken_warned_of_and_asked_about(self, desk: Desk) -> None:
        desk.data("customer", "Guild", *self.CERTIFICATE)
        exempt = take_in(desk, customer="Guild")
        late = take_in(desk, customer="Guild")
        assert desk.data("pickup", exempt, "--paid", "cash", on="2026-03-31")["tax"] == "0.00"
        data = desk.data("pickup", late, "--paid", "cash", on="2026-04-01")
        assert (data["tax"], len(data["warnings"])) == ("5.30", 1)
        questions = desk.data("quarter", on=APRIL)["questions"]
        assert any("had run out on 2026-03-31" in each for each in questions)
        desk.data("customer", "Guild", "--exempt", "charity", "--certificate", "KS-2", "--from", "2026-04-01", on=APRIL)
        data = desk.data("job", "retax", late, "--why", "renewed", "--borne", "cash", on=APRIL)
        assert (data["tax"], data["difference"]) == ("0.00", "-5.30")
        assert desk.data("quarter", on=APRIL)["questions"] == []
        checks(desk)

    @pytest.mark.parametrize(
        ("words", "field"),
        [
            (("--exempt", "charity", "--certificate", "1", "--expires", "2026-02-09"), "expires"),
            (("--exempt", "charity", "--expires", "2026-02-30"), "expires"),
            (("--exempt", "charity", "--from", "soon"), "from"),
            (("--exempt", "charity", "--document", "nowhere.pdf"), "document"),
            (("--exempt", " "), "exempt"),
        ],
    )
    def test_what_is_no_certificate(self, desk: Desk, words: tuple[str, ...], field: str) -> None:
        assert desk.refused("customer", "Guild", *words)["field"] == field

    def test_its_parts_go_with_a_reason(self, desk: Desk) -> None:
        for option in ("--certificate", "--state", "--from", "--expires", "--document"):
            said = desk.type("customer", "Guild", option, "2026-12-31")
            assert (said.code, said.out) == (2, "")
            assert "go with --exempt" in said.err


class TestRetax:
    def test_an_answer_that_came_late(self, desk: Desk) -> None:
        job = take_in(desk, "quilting", "parcel")
        desk.data("pickup", job, "--paid", "cash")
        assert "put the rate or the answer right first" in desk.refused("job", "retax", job, "--why", "x")["do"].lower()
        desk.data("tax", "class", "delivery", "split", "--asked", "Office", "--from", "2026-02-01")
        data = desk.data("job", "retax", job, "--why", "by the letter of the office", on=LATER)
        assert (data["tax"], data["difference"], data["owed"]) == ("5.83", "0.53", "0.53")
        assert desk.refused("job", "retax", job, "--why", " ", on=LATER)["field"] == "why"
        checks(desk)

    def test_tax_taken_too_much_is_not_kept(self, desk: Desk) -> None:
        job = sell(desk, "--paid", "cash")
        desk.data("tax", "class", "work", "no", "--asked", "Office", "--from", "2026-02-01")
        for borne in ("owed", "workshop"):
            refusal = desk.refused("job", "retax", job, "--why", "x", "--borne", borne)
            assert (refusal["field"], refusal["what"][:24]) == ("borne", "5.30 was taken too much,")
        assert desk.data("job", "retax", job, "--why", "x", "--borne", "check")["owed"] == "0.00"
        assert desk.balances()["sales tax payable"] == "0.00"
        checks(desk)


class TestPlaces:
    def test_rates_of_a_place_that_pieces_are_sent_to(self, desk: Desk) -> None:
        rate = ("tax", "rate", "Colorado", "2.9", "--level", "state", "--place", "Denver", "--from", "2026-02-01")
        data = desk.data(*rate)
        assert data["percent"] == "5.30"
        assert data["places"] == [
            {
                "place": "Denver",
                "rates": [{"name": "Colorado", "level": "state", "percent": "2.90"}],
                "percent": "2.90",
            }
        ]
        assert data["sourcing"] == "origin"
        data = desk.data("tax", "sourcing", "destination", "--asked", "Office", "--from", "2026-02-01")
        assert data["sourcing"] == "destination"
        sent = desk.data("pickup", take_in(desk), "--paid", "cash", "--sent", "--place", "denver")
        assert (sent["tax"], [each["jurisdiction"] for each in sent["taxes"]]) == ("2.90", ["Colorado"])
        elsewhere = desk.data("pickup", take_in(desk), "--paid", "cash", "--sent", "--place", "Denvr")
        assert (elsewhere["tax"], len(elsewhere["warnings"])) == ("0.00", 1)
        assert desk.refused("tax", "rate", "state", "1", "--place", "Denver", "--from", "2026-03-01")["field"] == "name"
        assert desk.refused("tax", "rate", "colorado", "1", "--from", "2026-03-01")["field"] == "place"
        checks(desk)

    def test_parcel_words_go_with_sent(self, desk: Desk) -> None:
        job = take_in(desk)
        for words in (("--place", "Denver"), ("--tracking", "PP 1"), ("--insured", "400"), ("--carrier", "post")):
            assert desk.refused("pickup", job, "--paid", "cash", *words)["field"] == "sent"

    def test_a_split_class_is_told_as_one(self, desk: Desk) -> None:
        data = desk.data("tax", "class", "delivery", "split", "--asked", "Office")
        told = next(each for each in data["classes"] if each["class"] == "delivery")
        assert told == {"class": "delivery", "taxed": True, "rule": "split"}
        assert "taxed as the other lines are, by price" in desk.lines(
            "tax", "class", "delivery", "split", "--asked", "Office"
        )


class TestOtherWays:
    @pytest.mark.parametrize(
        ("words", "field"),
        [
            (("--tip", "-1"), "tip"),
            (("--discount", "101%"), "discount"),
            (("--discount", "-5%"), "discount"),
            (("--discount", "100.01"), "discount"),
            (("--barter", "backing", "--what", "cotton"), "barter"),
            (("--barter", "backing=20"), "barter"),
            (("--barter", "nothing=20", "--what", "cotton"), "barter"),
            (("--barter", "backing=200", "--what", "cotton"), "barter"),
        ],
    )
    def test_what_is_typed_wrongly_at_pickup(self, desk: Desk, words: tuple[str, ...], field: str) -> None:
        assert desk.refused("pickup", take_in(desk), "--paid", "cash", *words)["field"] == field

    def test_goods_a_coupon_and_the_rest_in_cash(self, desk: Desk) -> None:
        data = desk.data(
            *("pickup", take_in(desk), "--discount", "10%", "--coupon", "guild show", "--paid", "cash"),
            *("--barter", "backing=60.00", "--what", "cotton", "--tip", "5.00"),
        )
        figures: dict[str, Any] = {key: data[key] for key in ("discount", "tax", "barter", "paid", "tip", "owed")}
        assert figures == {
            "discount": "10.00",
            "tax": "4.77",
            "barter": "60.00",
            "paid": "99.77",
            "tip": "5.00",
            "owed": "0.00",
        }
        assert any("Publication 525" in each for each in data["warnings"])
        checks(desk)

    def test_left_behind(self, desk: Desk) -> None:
        desk.data("price", "storage", "--by", "each", "--rate", "5", "--class", "other")
        job = take_in(desk)
        desk.data("job", "ready", job)
        assert desk.data("job", "waiting", on=LATER)["pieces"] == []
        data = desk.data("job", "notice", job, "--how", "a letter", on=APRIL)
        assert data["notices"] == [{"date": APRIL, "how": "a letter"}]
        waiting = desk.data("job", "waiting", on=APRIL)["pieces"]
        assert [(each["job"], each["days"], len(each["notices"])) for each in waiting] == [(int(job), 51, 1)]
        assert "state law decide" in desk.lines("job", "waiting", on=APRIL)
        added = desk.data("job", "add", job, "--line", "storage=3", on=APRIL)
        assert (added["subtotal"], added["lines"][-1]["amount"]) == ("115.00", "15.00")
        assert desk.refused("job", "add", job, "--line", "nothing", on=APRIL)["field"] == "line"
        desk.data("pickup", job, "--paid", "cash", on=APRIL)
        assert desk.refused("job", "notice", job, "--how", "a letter", on=APRIL)["field"] == "job"
        checks(desk)
