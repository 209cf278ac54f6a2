"""The rows of Sunday evening: bills, trips, documents, what was hers before."""

from __future__ import annotations

from ledger.actions.act import Act

SUNDAY: tuple[Act, ...] = (
    Act(
        "pay_bill",
        "bill pay",
        "Bill",
        "b",
        ("money",),
        "A shared bill came. The whole of it, split by the share that holds today.",
        "ledger.actions.share_bill:BillPaymentRequest",
    ),
    Act(
        "share_bill",
        "bill set",
        "Share bill",
        "h",
        ("money",),
        "How a bill is shared, from a day on. A known one gets a new share.",
        "ledger.actions.share_bill:BillRequest",
        is_rare=True,
    ),
    Act(
        "log_trip",
        "mileage add",
        "Trip",
        "t",
        ("money",),
        "A trip for the workshop, in MILES. Nothing is posted: it is a figure for the accountant.",
        "ledger.actions.log_trip:TripRequest",
        is_rare=True,
    ),
    Act(
        "attach",
        "attach",
        "Attach",
        "f",
        ("money",),
        "Keep a photograph, scan or letter with an entry or a job.",
        "ledger.actions.attach:AttachRequest",
    ),
    Act(
        "enter_own",
        "bring-in",
        "Bring in",
        "l",
        ("money",),
        "What was yours before the business. It enters at the lesser of COST and worth.",
        "ledger.actions.bring_in:BringInRequest",
        is_rare=True,
    ),
)
