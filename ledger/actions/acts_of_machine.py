"""The rows of the machine: its costs, its loan, its plan."""

from __future__ import annotations

from ledger.actions.act import Act

_COSTS: tuple[Act, ...] = (
    Act(
        "add_machine_cost",
        "machine cost",
        "Cost",
        "c",
        ("machine",),
        "A part of what a machine cost. Paid from an account, or a figure from before the books began.",
        "ledger.actions.add_machine_cost:CostRequest",
    ),
    Act(
        "sell_machine",
        "machine sell",
        "Sell machine",
        "e",
        ("machine",),
        "A machine is sold. What comes back lowers its cost, and what is left of its loan stays.",
        "ledger.actions.sell_machine:SellRequest",
        is_rare=True,
    ),
    Act(
        "add_machine",
        "machine add",
        "New machine",
        "a",
        ("machine",),
        "A further machine, with its own costs. The first one is there from the beginning.",
        "ledger.actions.share_machine:MachineRequest",
        is_rare=True,
    ),
    Act(
        "share_machine",
        "machine share",
        "Share of it",
        "h",
        ("machine",),
        "The workshop's share of a machine's use, or of the jobs. PERCENT holds from a day on.",
        "ledger.actions.share_machine:MachineShareRequest",
        is_rare=True,
    ),
)
_LOAN: tuple[Act, ...] = (
    Act(
        "pay_loan",
        "machine pay",
        "Pay loan",
        "l",
        ("machine",),
        "A payment on the machine's loan. Its interest is an expense, the rest of it is not.",
        "ledger.actions.pay_loan:LoanPaymentRequest",
    ),
    Act(
        "set_loan",
        "machine loan",
        "Loan",
        "t",
        ("machine",),
        "The terms of a loan for the machine. The schedule comes out of them in cents.",
        "ledger.actions.set_loan:LoanRequest",
    ),
    Act(
        "skip_loan_month",
        "machine skip",
        "Skip month",
        "k",
        ("machine",),
        "A payment is skipped with the lender's leave. It is put at the end.",
        "ledger.actions.change_loan:SkipRequest",
        is_rare=True,
    ),
    Act(
        "new_loan_rate",
        "machine rate",
        "New rate",
        "r",
        ("machine",),
        "The lender changes the rate. PERCENT is that of a year; the payment is set anew for the months left.",
        "ledger.actions.change_loan:RateRequest",
        is_rare=True,
    ),
    Act(
        "show_loan",
        "machine schedule",
        "Schedule",
        "d",
        ("machine",),
        "The schedule of a loan. What was paid, and every payment to come.",
        "ledger.actions.change_loan:ScheduleRequest",
        is_rare=True,
    ),
    Act(
        "show_memo",
        "machine memo",
        "Memo",
        "m",
        ("machine",),
        "The depreciation memo of a YEAR, this one unless given. It is for your accountant, and nothing is posted.",
        "ledger.machine.depreciation_record:Memo",
        is_rare=True,
    ),
)
_PLAN: tuple[Act, ...] = (
    Act(
        "keep_plan",
        "plan keep",
        "Keep plan",
        "f",
        ("machine",),
        "A plan is kept as it is today, to be held against the books later. FILE is as for «plan».",
        "ledger.actions.keep_plan:PlanRequest",
        is_rare=True,
    ),
    Act(
        "log_hours",
        "hours",
        "Hours",
        "w",
        ("bench",),
        "HOURS of a day at a job. Nothing is posted: they say what an hour of it earned.",
        "ledger.actions.log_hours:HoursRequest",
        is_rare=True,
    ),
)

MACHINE: tuple[Act, ...] = (*_COSTS, *_LOAN, *_PLAN)
