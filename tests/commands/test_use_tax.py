"""Use tax, untaxed stock, certificates and start-up costs by command: what they answer, and what they refuse."""

from __future__ import annotations

import pytest

from tests.commands.desk import Desk

KEPT = ("tax", "use", "10.00", "--what", "a quilt")


def bought(desk: Desk, amount: str = "50.00", category: str = "batting") -> int:
    """The entry of stock bought untaxed."""
    words = ("spend", amount, "--category", category, "--from", "checking", "--who", "Mill", "--untaxed")
    return int(desk.data(*words)["entry"])


def test_what_she_keeps_is_told_with_its_tax_and_what_it_came_off(with_rules: Desk) -> None:
    purchase = bought(with_rules)
    data = with_rules.data("tax", "use", "40.00", "--what", "a quilt")
    assert (data["use_tax"], data["cost"], data["for"], data["unanswered_amount"]) == ("2.12", "40.00", "own", "0.00")
    assert [(each["jurisdiction"], each["percent"], each["amount"]) for each in data["taxes"]] == [
        ("state", "4.30", "1.72"),
        ("county", "1.00", "0.40"),
    ]
    assert data["stock"] == [{"purchase": purchase, "category": "batting", "amount": "40.00", "left": "10.00"}]
    (entry,) = with_rules.data("entries", "--since", "2026-02-10", "--who", "Mill")["entries"]
    assert entry["number"] == purchase
    assert with_rules.balances()["use tax payable"] == "-2.12"
    (crossing,) = with_rules.data("crossings")["items"]
    assert (crossing["entry"], crossing["kind"], crossing["amount"]) == (data["entry"], "draw", "42.12")


def test_the_list_follows_each_purchase(with_rules: Desk) -> None:
    first, second = bought(with_rules), bought(with_rules, "20.00", "thread")
    with_rules.data("tax", "stock", "sold", "15.00", "--category", "thread", "--left")
    with_rules.data("tax", "use", "20.00", "--what", "for the shelf", "--for", "sample", "--bought-in", str(first))
    with_rules.data("tax", "use", "4.00", "--what", "thread", "--for", "work")
    data = with_rules.data("tax", "stock", "list")
    figures = ("cost", "returned", "sold", "used", "taken", "left")
    assert [(each["purchase"], *(each[name] for name in figures)) for each in data["purchases"]] == [
        (first, "50.00", "0.00", "0.00", "0.00", "20.00", "30.00"),
        (second, "20.00", "0.00", "5.00", "4.00", "0.00", "11.00"),
    ]
    assert data["left"] == "41.00"
    assert [(each["how"], each["amount"]) for each in data["uses"]] == [
        ("sold", "5.00"),
        ("sample", "20.00"),
        ("work unanswered", "4.00"),
    ]
    with_rules.data("tax", "stock", "strike", "1")
    assert with_rules.data("tax", "stock", "list")["left"] == "46.00"


def test_stock_used_up_waits_for_an_answer_and_the_quarter_asks(with_rules: Desk) -> None:
    bought(with_rules)
    data = with_rules.data("tax", "use", "10.00", "--what", "the work", "--for", "work")
    assert (data["entry"], data["use_tax"], data["unanswered_amount"]) == (None, "0.00", "10.00")
    asked = "Does stock used up in the work count as sold, or as used?"
    assert any(each.startswith(asked) for each in with_rules.data("quarter")["questions"])
    told = with_rules.data("tax", "work-use", "use", "--asked", "Office")
    assert len(told["entries"]) == 1
    assert not any(each.startswith(asked) for each in with_rules.data("quarter")["questions"])
    assert with_rules.balances()["use tax payable"] == "-0.53"


@pytest.mark.parametrize(
    ("words", "field"),
    [
        (("tax", "use", "50.01", "--what", "a quilt"), "amount"),
        (("tax", "use", "-5", "--what", "a quilt"), "amount"),
        (("tax", "use", "0", "--what", "a quilt"), "amount"),
        (("tax", "use", "5", "--what", " "), "what"),
        (("tax", "use", "5", "--what", "x", "--bought-in", "77"), "bought_in"),
        (("tax", "use", "5", "--what", "x", "--category", "cotton"), "category"),
        (("tax", "use", "5", "--what", "x", "--for", "bought"), "category"),
        (("tax", "use", "5", "--what", "x", "--for", "bought", "--bought-in", "77"), "entry"),
        (("tax", "stock", "sold", "50.01"), "amount"),
        (("tax", "stock", "sold", "50.00", "--left"), "left"),
        (("tax", "stock", "strike", "1"), "number"),
        (("tax", "work-use", "use", "--asked", " "), "asked"),
        (("tax", "work-use", "use", "--asked", "Office", "--category", "cotton"), "category"),
        (("customer", "Guild", "--exempt", "Z", "--certificate", "1"), "exempt"),
        (("customer", "Guild", "--exempt", "E", "--certificate", "1", "--expires", "2026-02-09"), "expires"),
        (("customer", "Guild", "--exempt", "E", "--certificate", "1", "--signed", "2026-02-11"), "signed"),
        (("tax", "certificates", "--by", "soon"), "by"),
        (("tax", "resale", "set", "R-1", "--asked", "Office", "--expires", "2026-02-09"), "expires"),
        (("tax", "resale", "give", "Mill"), None),
        (("tax", "resale", "back", "Mill"), "supplier"),
        (("start-up", "--opened", "2026-02-11"), "opened"),
        (("start-up", "--opened", "soon"), "opened"),
    ],
)
def test_what_cannot_be_is_refused_with_its_field(with_rules: Desk, words: tuple[str, ...], field: str | None) -> None:
    bought(with_rules)
    before = with_rules.data("entries")
    assert with_rules.refused(*words)["field"] == field
    assert with_rules.data("entries") == before
    assert with_rules.data("tax", "stock", "list")["left"] == "50.00"


def test_the_fields_of_the_uniform_form_come_back(with_rules: Desk) -> None:
    form = ("--address", "1 Mill Lane", "--purchase", "PO 17", "--business", "a guild", "--signed-by", "Ann Lee")
    signed = ("--title", "treasurer", "--signed", "2026-02-01", "--state", "Kansas", "--expires", "2026-06-30")
    with_rules.data("customer", "Guild", "--exempt", "e", "--certificate", "KS-9", *form, *signed)
    with_rules.data("customer", "School", "--exempt", "M", "--certificate", "S-1")
    first, second = with_rules.data("tax", "certificates")["certificates"]
    assert first == {
        "customer": "Guild",
        "valid": True,
        "reason": "charitable organization",
        "letter": "E",
        "certificate": "KS-9",
        "state": "Kansas",
        "from": "2026-02-10",
        "expires": "2026-06-30",
        "purchase": "PO 17",
        "used_on": None,
        "address": "1 Mill Lane",
        "business": "a guild",
        "signed_by": "Ann Lee",
        "title": "treasurer",
        "signed": "2026-02-01",
        "document": None,
    }
    assert (second["customer"], second["letter"], second["expires"]) == ("School", "M", None)
    by = with_rules.data("tax", "certificates", "--by", "2026-07-01")["certificates"]
    assert [each["customer"] for each in by] == ["Guild"]


def test_her_own_certificate_is_one_answer_wherever_it_is_given(with_rules: Desk) -> None:
    with_rules.data("tax", "resale", "set", "R-1", "--asked", "Office", "--state", "Kansas", "--expires", "2026-12-31")
    item = with_rules.data("setup", "show", "resale_certificate")
    assert "R-1" in str(item)
    given = with_rules.data("tax", "resale", "give", "Mill")
    assert given["pdf"].endswith("resale-certificate-mill-2026-02-10.pdf")
    with_rules.data("setup", "answer", "resale_certificate", "R-2", "--asked", "Office", on="2026-03-01")
    told = with_rules.data("tax", "resale", "show", on="2026-03-01")
    assert (told["certificate"], told["state"], told["expires"], told["valid"]) == ("R-2", None, None, True)
    assert told["holders"] == [{"supplier": "Mill", "number": "R-1", "given_on": "2026-02-10", "old": True}]


def test_what_was_spent_before_the_opening_is_kept_apart(with_rules: Desk) -> None:
    bought(with_rules)
    with_rules.data("spend", "30.00", "--category", "advertising", "--from", "checking", "--who", "Paper")
    assert with_rules.data("start-up", on="2026-03-01")["opened"] is None
    data = with_rules.data("start-up", "--opened", "2026-02-20", on="2026-03-01")
    assert (data["cost"], data["first_year"], data["rest"], data["of_year"]) == ("30.00", "30.00", "0.00", "30.00")
    assert data["by_category"] == [
        {"category": "advertising", "amount": "30.00", "left_out": None},
        {"category": "batting", "amount": "50.00", "left_out": "stock"},
    ]
    assert with_rules.data("start-up", "--year", "2027", on="2026-03-01")["of_year"] == "0.00"


def test_stock_said_to_be_sold_where_nothing_is_taxed_is_doubted(with_rules: Desk) -> None:
    bought(with_rules)
    doubt = "it passed in no taxed charge"
    assert doubt not in with_rules.lines("tax", "stock", "sold", "1.00")
    for name in ("goods", "work"):
        with_rules.data("tax", "class", name, "no", "--asked", "Office")
    assert doubt in with_rules.lines("tax", "stock", "sold", "1.00")
