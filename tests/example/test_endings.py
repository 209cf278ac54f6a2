"""The ways a job of the example ends beside a plain pickup, each to the cent and worked out by hand.

Tax is 4.5 + 1.25 + 0.75 = 6.5 % to 31 March 2026 and 4.5 + 1.6 + 0.75 = 6.85 % from then on. The card company keeps
2.7 % and 0.10 of a payment; its reader tells the fee from November 2025, before that it came out with the payout.
"""

from __future__ import annotations

from datetime import date
from decimal import Decimal

import pytest

from ledger.books.balances import balance
from ledger.books.books import Books
from ledger.jobs.gift_certificates import read_certificates
from ledger.jobs.job import Job
from ledger.taxes.rules import rates_on
from tests.example.reading import Example, postings_of
from tests.workshop_example import EXAMPLE_DAY


def taxes_of(example: Example, job: Job, kind: str) -> list[tuple[str, int, int]]:
    """Percent, base and tax of every tax line that entries of a kind put on a job, in the order of the lines."""
    rows = example.books.rows(
        "select percent, base, tax_line.cents from tax_line join entry on entry.number = tax_line.entry "
        "where job = ? and kind = ? order by entry.number, line",
        (job.id, kind),
    )
    return [(row[0], row[1], row[2]) for row in rows]


def owed_parts(example: Example, job: Job) -> list[tuple[int, int]]:
    """Charge and tax of everything that moved what is owed on a job."""
    rows = example.books.rows("select charge, tax from owed_part where job = ? order by id", (job.id,))
    return [(row[0], row[1]) for row in rows]


# Called off


@pytest.mark.parametrize(
    ("words", "taken", "ended"),
    [
        pytest.param(
            "Broken dishes, queen, which her sister will quilt",
            {"checking": 50_00, "customer deposits": -50_00},
            {"checking": -50_00, "customer deposits": 50_00},
            id="returned",
        ),
        pytest.param(
            "Sampler, king, booked for the fair and never brought",
            {"checking": 40_00, "customer deposits": -40_00},
            {"other income": -40_00, "customer deposits": 40_00},
            id="kept",
        ),
        pytest.param(
            "Log cabin, throw, called off for a broken wrist",
            {"checking": 60_00, "customer deposits": -60_00},
            {"gift certificates": -60_00, "customer deposits": 60_00},
            id="into a gift certificate",
        ),
    ],
)
def test_the_deposit_of_a_job_called_off(
    example: Example, words: str, taken: dict[str, int], ended: dict[str, int]
) -> None:
    job = example.job(words)
    assert (job.status, job.deposit_cents) == ("called-off", 0)
    assert [postings_of(entry) for entry in example.entries_of(job)] == [taken, ended]


# Money given back


def test_a_part_is_refunded_with_the_tax_in_it(example: Example) -> None:
    job = example.job("Broken dishes, twin, with a nest of thread in one corner")
    # 66 x 86 = 5,676 sq in at 0.016 is 90.816; batting 94 in at 0.24 is 22.56; tax on 113.38 is 7.3697
    assert example.sale(job) == {"checking": 120_75, "job income": -113_38, "sales tax payable": -7_37}
    # 20.00 of 120.75: charge 18.7793, state 0.8447 of 5.10, county 0.2352 of 1.42, city 0.1408 of 0.85
    assert example.booked(job, "refund") == [
        {"returns and allowances": 18_78, "sales tax payable": 1_22, "checking": -20_00}
    ]
    # of the charge 18.78, all of it taxed
    assert taxes_of(example, job, "refund") == [("4.5", -18_78, -84), ("1.25", -18_78, -24), ("0.75", -18_78, -14)]


def test_the_whole_is_refunded_but_for_the_tip(example: Example) -> None:
    job = example.job("Rail fence, baby, quilted with hearts instead of stars")
    # dense work on 2,000 sq in comes to the least, 52.00; batting 58 in at 0.24 is 13.92; tax on 65.92 is 4.2848
    assert example.sale(job) == {
        "checking": 75_20,
        "job income": -65_92,
        "sales tax payable": -4_28,
        "tips": -5_00,
    }
    assert example.booked(job, "refund") == [
        {"returns and allowances": 65_92, "sales tax payable": 4_28, "checking": -70_20}
    ]
    assert job.status == "gone"


# Money that came back


def test_a_returned_check_is_owed_again_with_a_charge_and_paid_in_cash(example: Example) -> None:
    job = example.job("Star and chain, lap, for the boat")
    # the least for open work 40.00, batting 70 in is 16.80, trimming 10.00; tax on 66.80 is 4.342
    assert example.sale(job) == {"checking": 71_14, "job income": -66_80, "sales tax payable": -4_34}
    assert example.booked(job, "returned payment") == [
        {"owed by customers": 71_14, "checking": -83_14, "bank charges": 12_00}
    ]
    # tax on 25.00 is 1.625
    assert example.booked(job, "charge") == [
        {"owed by customers": 26_63, "other income": -25_00, "sales tax payable": -1_63}
    ]
    assert example.booked(job, "payment") == [{"cash box": 97_77, "owed by customers": -97_77}]
    assert owed_parts(example, job) == [(66_80, 4_34), (25_00, 1_63), (-91_80, -5_97)]


def test_a_card_payment_is_charged_back_and_paid_by_check(example: Example) -> None:
    job = example.job("Churn dash, lap, paid with a card that was stolen later")
    # dense work on 3,000 sq in at 0.018 is 54.00, batting 68 in is 16.32; tax on 70.32 is 4.5708; fee 2.0220 and 0.10
    assert example.sale(job) == {
        "card settlements": 72_77,
        "card fees": 2_12,
        "job income": -70_32,
        "sales tax payable": -4_57,
    }
    assert example.booked(job, "returned payment") == [
        {"owed by customers": 74_89, "card settlements": -89_89, "card fees": 15_00}
    ]
    assert example.booked(job, "payment") == [{"checking": 74_89, "owed by customers": -74_89}]
    paid_out = example.books.rows(
        "select payout_line.cents from payout_line join payment on payment.id = payout_line.payment where job = ? "
        "order by payout_line.id",
        (job.id,),
    )
    assert [row["cents"] for row in paid_out] == [72_77, -89_89]


# Owed


def test_one_payment_covers_one_debt_of_a_customer_and_a_part_of_another(example: Example) -> None:
    first = example.job("Courthouse steps, throw, the first of two")
    second = example.job("Courthouse steps, lap, the second of two")
    # 4,320 sq in at 0.012 is 51.84, batting 80 in is 19.20; tax on 71.04 is 4.6176
    assert example.sale(first) == {"owed by customers": 75_66, "job income": -71_04, "sales tax payable": -4_62}
    # the least for open work 40.00, trimming 10.00; tax on 50.00 is 3.25
    assert example.sale(second) == {"owed by customers": 53_25, "job income": -50_00, "sales tax payable": -3_25}
    assert example.booked(first, "payment") == [{"checking": 75_66, "owed by customers": -75_66}]
    assert example.booked(second, "payment") == [
        {"checking": 44_34, "owed by customers": -44_34},
        {"cash box": 8_91, "owed by customers": -8_91},
    ]
    paid = [example.entries_of(job, "payment")[0] for job in (first, second)]
    assert paid[0].on == paid[1].on
    # of 44.34, 44.34 x 3.25 / 53.25 = 2.7062 is tax
    assert owed_parts(example, second) == [(50_00, 3_25), (-41_63, -2_71), (-8_37, -54)]


def test_a_debt_is_given_up_and_its_tax_claimed(example: Example) -> None:
    job = example.job("Storm at sea, throw, for somebody who moved away")
    # 4,588 sq in at 0.012 is 55.056, batting 82 in is 19.68; tax on 74.74 is 4.8581
    assert example.sale(job) == {"owed by customers": 79_60, "job income": -74_74, "sales tax payable": -4_86}
    # of 30.00, 30.00 x 4.86 / 79.60 = 1.8317 is tax
    assert owed_parts(example, job) == [(74_74, 4_86), (-28_17, -1_83), (-46_57, -3_03)]
    assert example.booked(job, "write-off") == [
        {"balances written off": 46_57, "sales tax payable": 3_03, "owed by customers": -49_60}
    ]
    # 3.03 of 4.86, which the state had 3.36 of, the county 0.94 and the city 0.56: 2.0948, 0.5860 and 0.3491;
    # the charge behind it is 74.74 x 3.03 / 4.86 = 46.5972
    assert [tax for _, _, tax in taxes_of(example, job, "write-off")] == [-2_09, -59, -35]
    assert {base for _, base, _ in taxes_of(example, job, "write-off")} == {-46_60}
    assert job.owed_cents == 0


# Gift certificates


def test_a_certificate_pays_a_part_of_what_it_holds(example: Example) -> None:
    job = example.job("Pinwheel, baby, a present from Harriet")
    # the least for open work 40.00, trimming 10.00; tax on 50.00 is 3.25
    assert example.sale(job) == {"gift certificates": 53_25, "job income": -50_00, "sales tax payable": -3_25}


def test_a_certificate_is_used_up_and_the_rest_paid_in_cash(example: Example) -> None:
    job = example.job("Bear's paw, lap, a present from Walter")
    # 3,456 sq in at 0.0135 is 46.656, batting 72 in is 17.28; tax on 63.94 is 4.1561
    assert example.sale(job) == {
        "gift certificates": 50_00,
        "cash box": 18_10,
        "job income": -63_94,
        "sales tax payable": -4_16,
    }


def test_certificates_are_out_unused_and_with_a_rest(books: Books, example: Example) -> None:
    held = {each.holder: (each.sold_cents, each.left_cents) for each in read_certificates(books)}
    assert held == {
        "Harriet Osgoodby": (80_00, 26_75),
        "Walter Briscombe": (50_00, 0),
        "Aoife Brennaghan": (60_00, 0),
        "Agnes Trelowarth": (60_00, 60_00),
    }
    assert balance(books, "gift_certificates", EXAMPLE_DAY) == -86_75
    # by card, 2.7 % of 50.00 and 0.10
    assert [postings_of(entry) for entry in example.entries if entry.kind == "gift"] == [
        {"cash box": 80_00, "gift certificates": -80_00},
        {"card settlements": 48_55, "card fees": 1_45, "gift certificates": -50_00},
        {"checking": 60_00, "gift certificates": -60_00},
    ]


def test_one_pickup_is_paid_by_certificate_and_card_and_leaves_a_rest_owed(example: Example) -> None:
    job = example.job("Log cabin, throw, brought after all")
    # 4,864 sq in at 0.018 is 87.552, wool 84 in at 0.52 is 43.68, binding 280 in at 0.14 is 39.20; tax on 170.43 at
    # 6.85 % is 11.6745; of 182.10 the certificate pays 60.00 and the card 80.00, with a fee of 2.16 and 0.10
    assert example.sale(job) == {
        "gift certificates": 60_00,
        "card settlements": 77_74,
        "card fees": 2_26,
        "owed by customers": 42_10,
        "job income": -170_43,
        "sales tax payable": -11_67,
    }
    # the certificate pays charge alone; of 80.00, 80.00 x 11.67 / 122.10 = 7.6462 is tax
    assert owed_parts(example, job) == [(38_08, 4_02), (-38_08, -4_02)]
    assert example.booked(job, "payment") == [{"checking": 42_10, "owed by customers": -42_10}]


# Other ways of paying


def test_a_coupon_takes_a_percentage_off(example: Example) -> None:
    job = example.job("Half-square triangles, throw, with a coupon from the fair")
    # 58.32 + 19.20 = 77.52, less 15 %, 11.628; tax on 65.89 at 6.85 % is 4.5135; fee 2.7 % of 70.40 and 0.10
    assert example.sale(job) == {
        "card settlements": 68_40,
        "card fees": 2_00,
        "job income": -65_89,
        "sales tax payable": -4_51,
    }
    assert "Coupon from the Saltmarrow quilt fair" in example.entries_of(job, "pickup")[0].text


def test_a_quilt_for_a_raffle_goes_home_for_nothing(example: Example) -> None:
    job = example.job("Raffle quilt, hexagon flowers, for the library roof")
    assert job.status == "gone"
    assert sum(line.cents for line in job.lines) > 100_00
    assert example.entries_of(job) == []


def test_cloth_is_taken_for_work_at_its_worth(books: Books, example: Example) -> None:
    job = example.job("Double wedding ring, twin, for wide backing")
    # 5,544 sq in at 0.0135 is 74.844, binding 300 in at 0.24 is 72.00; tax on 146.84 is 9.5446
    assert example.sale(job) == {
        "backing": 90_00,
        "checking": 66_38,
        "job income": -146_84,
        "sales tax payable": -9_54,
    }
    kept = books.rows("select what, cents from barter")
    assert [(row["what"], row["cents"]) for row in kept] == [("Nine yards of wide backing, in ecru", 90_00)]


def test_a_deposit_above_the_total_is_handed_back(example: Example) -> None:
    job = example.job("Snail's trail, throw, at first meant for custom quilting")
    # 4,060 sq in at 0.012 is 48.72, batting 78 in is 18.72; tax on 67.44 is 4.3836; 150.00 less 71.82 goes back
    assert example.sale(job) == {
        "customer deposits": 150_00,
        "checking": -78_18,
        "job income": -67_44,
        "sales tax payable": -4_38,
    }
    assert job.deposit_cents == 0


# Cards


def test_a_fee_comes_out_with_the_payout_where_the_reader_does_not_tell_it(books: Books, example: Example) -> None:
    job = example.job("Nine patch, throw, by card before the new reader")
    # 3,944 sq in at 0.012 is 47.328, batting 76 in is 18.24; tax on 65.57 is 4.2621
    assert example.sale(job) == {"card settlements": 69_83, "job income": -65_57, "sales tax payable": -4_26}
    number = books.value(
        "select payout_line.entry from payout_line join payment on payment.id = payout_line.payment where job = ?",
        (job.id,),
    )
    payout = next(postings_of(entry) for entry in example.entries if entry.number == number)
    others = books.rows(
        "select cents from payout_line where entry = ? and payment not in (select id from payment where job = ?)",
        (number, job.id),
    )
    # 2.7 % of 69.83 is 1.8854
    fees = 1_99 + sum(by_hand_fee(row["cents"]) for row in others)
    assert payout == {
        "checking": 69_83 + sum(row["cents"] for row in others) - fees,
        "card fees": fees,
        "card settlements": -69_83 - sum(row["cents"] for row in others),
    }


def by_hand_fee(cents: int) -> int:
    return int(Decimal(cents) * Decimal("0.027") + Decimal("0.5")) + 10


def test_payouts_keep_fees_in_the_first_year_alone(example: Example) -> None:
    payouts = [(entry.on, postings_of(entry)) for entry in example.entries if entry.kind == "payout"]
    assert {day.weekday() for day, _ in payouts} == {0}
    assert all("card fees" in postings for day, postings in payouts if day <= date(2025, 11, 1))
    assert all("card fees" not in postings for day, postings in payouts if day > date(2025, 11, 8))
    at_pickup = [entry for entry in example.entries if entry.kind == "pickup" and "card fees" in postings_of(entry)]
    assert min(entry.on for entry in at_pickup) >= date(2025, 11, 1)


# Tax


def test_the_rate_of_the_day_of_pickup_holds_whatever_the_quote_said(books: Books, example: Example) -> None:
    job = example.job("Flying geese, twin, over the change of the rate")
    quoted, taken = (
        sum(each.percent for each in rates_on(books, day))
        for day in (job.taken_on, example.entries_of(job, "pickup")[0].on)
    )
    assert (quoted, taken) == (Decimal("6.5"), Decimal("6.85"))
    # 6,160 sq in at 0.0135 is 83.16, trimming 10.00; tax on 93.16 at 6.85 % is 6.3815, and at 6.5 % it was 6.0554
    assert example.sale(job) == {"checking": 99_54, "job income": -93_16, "sales tax payable": -6_38}


def test_a_wrong_tax_is_put_right_and_handed_back(example: Example) -> None:
    job = example.job("Hole in the barn door, lap, with a pattern leaflet")
    # the least for dense work 50.00, the leaflet 12.00; tax on 62.00 is 4.03
    assert example.sale(job) == {"checking": 66_03, "job income": -62_00, "sales tax payable": -4_03}
    # the leaflet is not taxed: 6.5 % of 50.00 is 3.25
    assert example.booked(job, "retax") == [{"sales tax payable": 78, "cash box": -78}]
    lines = taxes_of(example, job, "retax")
    assert [base for _, base, _ in lines] == [-62_00] * 3 + [50_00] * 3
    assert (sum(tax for _, _, tax in lines[:3]), sum(tax for _, _, tax in lines[3:])) == (-4_03, 3_25)
