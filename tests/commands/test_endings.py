"""Every way a job can end, by command: the figures of each answer, what a person reads, and what is typed wrongly."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.commands.desk import Desk
from tests.commands.selling import add_prices, checks, entry, sell, take_in

LATER, APRIL = "2026-02-11", "2026-04-02"


@pytest.fixture
def desk(with_rules: Desk) -> Desk:
    return add_prices(with_rules)


class TestRefund:
    def test_a_part_then_the_rest(self, desk: Desk) -> None:
        job = sell(desk, "--paid", "cash")
        first = desk.data("refund", job, "--amount", "50.00", on=LATER)
        assert {key: first[key] for key in ("refunds", "amount", "charge", "tax", "tip", "owed")} == {
            "refunds": 2,
            "amount": "50.00",
            "charge": "47.48",
            "tax": "2.52",
            "tip": "0.00",
            "owed": "0.00",
        }
        rest = desk.data("refund", job, "--paid", "cash", "--why", "the wrong pattern", on=APRIL)
        assert (rest["amount"], rest["tax"]) == ("55.30", "2.78")
        assert entry(desk, rest["entry"])["cash box"] == "-55.30"
        assert desk.data("entries", on=APRIL)["entries"][-1]["text"] == "the wrong pattern"
        assert desk.refused("refund", job, on=APRIL)["what"] == "0.00 is paid and not given back yet, tip apart."
        checks(desk)

    def test_what_is_owed_is_told_and_taken_off(self, desk: Desk) -> None:
        job = sell(desk, "--paid", "owed")
        assert "nothing to give back" in desk.refused("refund", job)["do"]
        said = desk.lines("refund", job, "--amount", "5.30", "--paid", "owed")
        assert "gives back 5.30, of it 0.27 sales tax." in said
        assert "Still owed: 100.00" in said

    @pytest.mark.parametrize(
        ("words", "field"),
        [
            (("--amount", "105.31"), "amount"),
            (("--amount", "0"), "amount"),
            (("--amount", "-5"), "amount"),
            (("--tip", "0.01"), "tip"),
            (("--tip", "-1"), "tip"),
            (("--amount", "1", "--why", " "), "why"),
        ],
    )
    def test_what_cannot_be_given_back(self, desk: Desk, words: tuple[str, ...], field: str) -> None:
        job = sell(desk, "--paid", "cash")
        assert desk.refused("refund", job, *words)["field"] == field


class TestReturnedCheck:
    def test_everything_of_it_is_told(self, desk: Desk) -> None:
        job = sell(desk, "--paid", "check", "--number", "1021")
        data = desk.data("job", "returned-check", job, "--fee", "12.00", "--charge", "25.00", on=LATER)
        assert data["returned"] == {"how": "check", "number": "1021", "amount": "105.30", "paid_with": 2}
        assert (data["charge"], data["charge_tax"], data["charge_unanswered"]) == ("25.00", "0.00", ["other"])
        assert (data["owed"], data["status"], data["also_paid"]) == ("130.30", "gone", [])
        assert entry(desk, data["entry"]) == {
            "owed by customers": "105.30",
            "checking": "-117.30",
            "bank charges": "12.00",
        }
        assert entry(desk, data["charge_entry"]) == {"owed by customers": "25.00", "other income": "-25.00"}
        checks(desk)

    def test_a_person_reads_which_payment_and_what_is_owed(self, desk: Desk) -> None:
        first, second = sell(desk, "--paid", "owed"), sell(desk, "--paid", "owed")
        desk.data("owed", "pay", "ada brook", "150.00", "--paid", "check", "--number", "77")
        said = desk.lines("job", "returned-check", second, "--number", "77", "--charge", "25")
        assert "undoes 44.70, paid with entry 5." in said
        assert "charges 25.00 for it, tax 0.00." in said
        assert f"Job {second} owes 130.30 now." in said
        assert f"The same payment was for job {first}: undo it there too." in said
        assert "Whether «other» is taxed is not answered yet" in said

    def test_charged_back_by_card(self, desk: Desk) -> None:
        job = sell(desk, "--paid", "card", "--fee", "3.20")
        assert desk.refused("job", "returned-check", job)["what"] == "No check that still holds was paid on job 1."
        data = desk.data("job", "returned-check", job, "--card", "--fee", "15")
        assert (data["returned"]["how"], data["owed"]) == ("card", "105.30")
        assert desk.data("card", "list")["total"] == "-18.20"
        checks(desk)

    def test_a_number_that_was_not_paid_with(self, desk: Desk) -> None:
        job = sell(desk, "--paid", "check", "--number", "1021")
        assert "with number 1022" in desk.refused("job", "returned-check", job, "--number", "1022")["what"]


class TestVoidAndCallOff:
    def test_a_void_on_the_day_and_a_second_one(self, desk: Desk) -> None:
        job = sell(desk, "--paid", "cash")
        assert desk.data("job", "void", job, "--why", "the wrong quilt")["status"] == "in-hand"
        assert desk.refused("job", "void", job, "--why", "again")["what"] == (
            "Job 1 has no pickup to void: it is in hand."
        )
        assert desk.refused("job", "void", "9", "--why", "x")["field"] == "job"
        checks(desk)

    def test_on_the_next_day_what_was_paid_stands(self, desk: Desk) -> None:
        job = sell(desk, "--paid", "cash")
        refusal = desk.refused("job", "void", job, "--why", "the wrong quilt", on=LATER)
        assert refusal["what"] == "The pickup of job 1 was paid on 2026-02-10, so it stands."
        assert "refund" in refusal["do"]

    def test_work_given_away_is_here_again(self, desk: Desk) -> None:
        job = sell(desk, "--discount", "100%")
        data = desk.data("job", "void", job, "--why", "another one")
        assert (data["status"], data["entry"]) == ("in-hand", None)
        desk.data("pickup", job, "--discount", "100%")
        assert "no money had moved" in desk.lines("job", "void", job, "--why", "another one")

    def test_a_deposit_goes_back_is_kept_or_becomes_a_certificate(self, desk: Desk) -> None:
        for number, deposit in enumerate(("returned", "kept", "certificate"), 1):
            job = take_in(desk)
            desk.data("job", "deposit", job, "50.00", "--paid", "check")
            data = desk.data("job", "call-off", job, "--deposit", deposit)
            assert (data["job"], data["status"], data["deposit"]) == (number, "called-off", "0.00")
            assert data["certificate"] == ("G-1001-05" if deposit == "certificate" else None)
        balances = desk.balances()
        assert (balances["other income"], balances["gift certificates"]) == ("-50.00", "-50.00")
        assert desk.refused("job", "call-off", "1")["what"] == "Job 1 is called off."
        assert desk.refused("job", "pay", "1", "10", "--paid", "cash")["do"] == "There is nothing to pay on it."
        checks(desk)

    def test_it_must_be_said_what_becomes_of_it(self, desk: Desk) -> None:
        job = take_in(desk)
        desk.data("job", "deposit", job, "50.00", "--paid", "check")
        refusal = desk.refused("job", "call-off", job)
        assert (refusal["field"], refusal["do"]) == ("deposit", "Say --deposit returned, kept or certificate.")
        said = desk.lines("job", "call-off", job, "--deposit", "kept")
        assert "state law decide" in said

    def test_a_deposit_above_the_total_is_handed_back_later(self, desk: Desk) -> None:
        job = take_in(desk)
        desk.data("job", "deposit", job, "150.00", "--paid", "check")
        assert desk.data("pickup", job)["due"] == "0.00"
        data = desk.data("job", "deposit-back", job, "20.00", "--paid", "cash", on=LATER)
        assert (data["amount"], data["deposit"], data["certificate"]) == ("20.00", "24.70", None)
        data = desk.data("job", "deposit-back", job, "--paid", "certificate", on=LATER)
        assert (data["amount"], data["deposit"], data["certificate"]) == ("24.70", "0.00", "G-1001-05")
        assert desk.refused("job", "deposit-back", job, on=LATER)["do"] == "There is nothing to hand back."
        checks(desk)


class TestOwed:
    def test_who_owes_what_and_since_when(self, desk: Desk) -> None:
        first = sell(desk, "--paid", "owed")
        second = sell(desk, "--paid", "owed", customer="Ben Okoro")
        desk.data("job", "pay", first, "5.30", "--paid", "cash", on=LATER)
        data = desk.data("owed", "list", on=APRIL)
        assert data["total"] == "205.30"
        assert [(each["job"], each["since"], each["days"], each["owed"]) for each in data["jobs"]] == [
            (int(first), "2026-02-10", 51, "100.00"),
            (int(second), "2026-02-10", 51, "105.30"),
        ]
        assert desk.data("owed", "list", "--who", "ben okoro", on=APRIL)["total"] == "105.30"
        assert desk.refused("owed", "list", "--who", "Nobody")["field"] == "customer"

    def test_money_for_several_jobs(self, desk: Desk) -> None:
        first, second = sell(desk, "--paid", "owed"), sell(desk, "--paid", "owed")
        data = desk.data("owed", "pay", "Ada Brook", "150.00", "--paid", "check", "--number", "77")
        assert [(each["job"], each["amount"], each["owed"]) for each in data["entries"]] == [
            (int(first), "105.30", "0.00"),
            (int(second), "44.70", "60.60"),
        ]
        refusal = desk.refused("owed", "pay", "ada brook", "60.61", "--paid", "cash")
        assert (refusal["what"], refusal["field"]) == ("Ada Brook owes 60.60 in all.", "amount")
        checks(desk)

    def test_the_statement_in_figures_and_on_paper(self, desk: Desk, tmp_path: Path) -> None:
        job = sell(desk, "--paid", "owed")
        desk.data("job", "pay", job, "30.00", "--paid", "cash", on=LATER)
        data = desk.data("owed", "statement", "ADA BROOK", "--to", str(tmp_path / "paper"), on=APRIL)
        assert (data["customer"], data["code"], data["date"], data["owed"]) == ("Ada Brook", "C-001", APRIL, "75.30")
        assert [(each["date"], each["job"], each["amount"]) for each in data["lines"]] == [
            ("2026-02-10", 1, "105.30"),
            (LATER, 1, "-30.00"),
        ]
        assert [(each["job"], each["owed"]) for each in data["jobs"]] == [(1, "75.30")]
        assert Path(data["pdf"]).read_bytes().startswith(b"%PDF")
        assert "$75.30" in Path(data["text"]).read_text(encoding="utf-8")
        assert desk.refused("owed", "statement", "Nobody")["field"] == "customer"

    def test_a_debt_given_up_with_and_without_the_claim(self, desk: Desk) -> None:
        first, second = sell(desk, "--paid", "owed"), sell(desk, "--paid", "owed")
        data = desk.data("job", "write-off", first, "--why", "moved away")
        assert (data["amount"], data["charge"], data["tax"], data["tax_claimed"]) == (
            "105.30",
            "100.00",
            "5.30",
            "0.00",
        )
        assert any("may it be claimed back" in each for each in desk.data("quarter")["questions"])
        assert desk.data("tax", "bad-debt", "yes", "--asked", "Office")["bad_debt_tax_claimed"] is True
        said = desk.lines("job", "write-off", second, "--why", "moved away")
        assert "gives up 105.30; its tax is claimed back." in said
        assert "ask your accountant" in said
        assert desk.data("quarter")["sales_tax"]["collected"] == "5.30"
        assert desk.refused("job", "write-off", second, "--why", "again")["field"] == "job"
        paid = desk.data("job", "pay", second, "105.30", "--paid", "cash", on=LATER)
        assert paid["owed"] == "0.00"
        assert desk.data("quarter", on=LATER)["sales_tax"]["collected"] == "10.60"
        checks(desk)


class TestGifts:
    def test_sold_used_and_shown(self, desk: Desk) -> None:
        code = desk.data("gift", "sell", "120.00", "--paid", "cash", "--who", "Eli")["certificate"]
        job = take_in(desk)
        used = desk.data("pickup", job, "--gift", code.lower())
        assert used["gifts"] == [{"certificate": code, "amount": "105.30", "left": "14.70"}]
        data = desk.data("gift", "show", code)
        assert (data["amount"], data["left"], data["who"]) == ("120.00", "14.70", "Eli")
        assert [(each["job"], each["amount"]) for each in data["movements"]] == [(None, "120.00"), (1, "-105.30")]
        assert desk.data("gift", "list")["certificates"][0]["left"] == "14.70"
        assert "unclaimed property" in desk.lines("gift", "list")
        other = take_in(desk)
        desk.data("pickup", other, "--gift", code, "--paid", "cash=20.00", "--paid", "owed")
        assert desk.refused("pickup", take_in(desk), "--gift", code, "--paid", "cash")["what"] == (
            f"Gift certificate {code} over 120.00 is used up."
        )
        checks(desk)

    @pytest.mark.parametrize("code", ["G-1001-06", "1001", "G-9999-99", ""])
    def test_a_slip_of_the_pen(self, desk: Desk, code: str) -> None:
        desk.data("gift", "sell", "120.00", "--paid", "cash")
        assert desk.refused("gift", "show", code)["field"] == "gift"
        assert desk.refused("pickup", take_in(desk), "--gift", code, "--paid", "cash")["field"] == "gift"
