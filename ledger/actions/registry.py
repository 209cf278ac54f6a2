"""Every act in one table: palette, footer, help and commands all read these rows.

Nothing is imported here but names, so that reading the table costs nothing: `request` says where the request lives.
"""

from __future__ import annotations

from dataclasses import dataclass

ROOMS = ("home", "bench", "money", "machine", "set_aside", "quarter", "set_up")


@dataclass(frozen=True)
class Act:
    """id: how the program calls it. verb: the command's words. words: what the palette and the footer say. key: the
    letter in `rooms`, None for the palette alone. help: a sentence or two, the first of which stands in lists. request:
    the type it takes, as module:name. is_rare: its key works, and stands in the help but not in the footer."""

    id: str
    verb: str
    words: str
    key: str | None
    rooms: tuple[str, ...]
    help: str
    request: str
    is_rare: bool = False


_ENDINGS: tuple[Act, ...] = (
    Act(
        "refund",
        "refund",
        "Refund",
        "f",
        ("bench",),
        "Give money back for a piece that is gone. On its own day; the sale itself is not changed.",
        "ledger.jobs.refund:RefundRequest",
        is_rare=True,
    ),
    Act(
        "returned_check",
        "job returned-check",
        "Check back",
        "k",
        ("bench",),
        "A check came back. The payment alone is undone, and the job owes again.",
        "ledger.jobs.returned:ReturnedRequest",
        is_rare=True,
    ),
    Act(
        "void",
        "job void",
        "Void",
        "v",
        ("bench",),
        "Undo a pickup that should not have been. On the day itself, or while nothing was paid.",
        "ledger.actions.void:VoidRequest",
        is_rare=True,
    ),
    Act(
        "call_off",
        "job call-off",
        "Call off",
        "c",
        ("bench",),
        "The work is not wanted any more. A deposit goes back, is kept, or becomes a gift certificate.",
        "ledger.actions.call_off:CallOffRequest",
    ),
    Act(
        "hand_back",
        "job deposit-back",
        "Deposit back",
        None,
        ("bench",),
        "Hand back a deposit that is held, or a part of it.",
        "ledger.actions.hand_back:HandBackRequest",
        is_rare=True,
    ),
    Act(
        "give_up",
        "job write-off",
        "Give up",
        "o",
        ("bench",),
        "Give up what a customer will not pay. On the cash method that is no deduction.",
        "ledger.actions.give_up:GiveUpRequest",
        is_rare=True,
    ),
    Act(
        "retax",
        "job retax",
        "Tax right",
        "x",
        ("bench",),
        "Put the sales tax of a sale right. Put its rate or answer right first; with the customer's money or without.",
        "ledger.jobs.retax:RetaxRequest",
        is_rare=True,
    ),
    Act(
        "add_work",
        "job add",
        "Add work",
        "l",
        ("bench",),
        "Add a line of work before pickup, at today's prices.",
        "ledger.actions.add_work:AddWorkRequest",
    ),
    Act(
        "send_notice",
        "job notice",
        "Notice",
        "t",
        ("bench",),
        "Note that the owner was told to fetch the piece.",
        "ledger.actions.send_notice:NoticeRequest",
        is_rare=True,
    ),
    Act(
        "card_payout",
        "card payout",
        "Card payout",
        "c",
        ("money",),
        "The card company pays out. It covers the payments of some days; what it is short of them is its fee.",
        "ledger.actions.card_payout:PayoutRequest",
    ),
    Act(
        "sell_gift",
        "gift sell",
        "Gift",
        "g",
        ("bench", "money"),
        "Sell a gift certificate. No tax and no income until it is used.",
        "ledger.actions.gift:GiftRequest",
    ),
    Act(
        "take_owed",
        "owed pay",
        "Pay several",
        "e",
        ("bench", "money"),
        "Money towards all that a customer owes, the oldest job first.",
        "ledger.actions.take_owed:OwedMoneyRequest",
        is_rare=True,
    ),
    Act(
        "print_account",
        "owed statement",
        "Account",
        "a",
        ("bench", "money"),
        "A customer's account on paper, as PDF and as text.",
        "ledger.jobs.customers:Customer",
        is_rare=True,
    ),
)

_SUNDAY: tuple[Act, ...] = (
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

ACTS: tuple[Act, ...] = (
    Act(
        "pick_up",
        "pickup",
        "Pick up",
        "p",
        ROOMS,
        "Hand a piece over: sales tax, deposit, payment, receipt.",
        "ledger.jobs.pickup:PickupRequest",
    ),
    Act(
        "take_in",
        "job new",
        "New job",
        "n",
        ROOMS,
        "Take a job in at today's prices.",
        "ledger.actions.take_in:TakeInRequest",
    ),
    Act(
        "spend",
        "spend",
        "Spend",
        "s",
        ROOMS,
        "Enter a receipt, whoever paid it. AMOUNT is the whole of it, also where a part was for the household.",
        "ledger.actions.spend:SpendRequest",
    ),
    Act(
        "take_deposit",
        "job deposit",
        "Deposit",
        "d",
        ("bench",),
        "Money held for a job until its pickup.",
        "ledger.actions.take_money:MoneyRequest",
    ),
    Act(
        "take_balance",
        "job pay",
        "Pay",
        "y",
        ("bench",),
        "Money towards what was left owed at pickup.",
        "ledger.actions.take_money:MoneyRequest",
    ),
    Act("bring_in", "job in", "In", "i", ("bench",), "The piece comes in.", "ledger.actions.move_job:MoveRequest"),
    Act(
        "make_ready",
        "job ready",
        "Ready",
        "r",
        ("bench",),
        "The work is done; the piece waits for its owner.",
        "ledger.actions.move_job:MoveRequest",
    ),
    Act(
        "give_back",
        "job back",
        "Back",
        "b",
        ("bench",),
        "The piece goes back to its owner with the work not done. The job stays booked.",
        "ledger.actions.move_job:MoveRequest",
    ),
    Act(
        "move",
        "move",
        "Move",
        "m",
        ("money",),
        "Money from one account to another of the same purse.",
        "ledger.actions.transfer:TransferRequest",
    ),
    Act(
        "draw",
        "draw",
        "Draw",
        "w",
        ("money", "set_aside"),
        "Money that the owner takes out of the workshop.",
        "ledger.actions.transfer:TransferRequest",
    ),
    Act(
        "put_in",
        "put-in",
        "Put in",
        "i",
        ("money",),
        "Money that the owner puts into the workshop.",
        "ledger.actions.transfer:TransferRequest",
    ),
    Act(
        "pay_back",
        "pay-back",
        "Pay back",
        "k",
        ("money",),
        "Pay back what the workshop owes to its owner. Without AMOUNT, all of it.",
        "ledger.actions.transfer:TransferRequest",
    ),
    Act(
        "reverse",
        "reverse",
        "Undo",
        "u",
        ("money",),
        "Undo an entry made in error. Its exact mirror is booked; then enter it again as it should be.",
        "ledger.actions.reverse:ReverseRequest",
    ),
    Act(
        "answer",
        "setup answer",
        "Answer",
        "a",
        ("set_up",),
        "Keep what you were told about an item of the set-up list.",
        "ledger.actions.answers:AnswerRequest",
    ),
    *_ENDINGS,
    *_SUNDAY,
)

_BY_ID = {each.id: each for each in ACTS}
_BY_VERB = {each.verb: each for each in ACTS}


def act(act_id: str) -> Act:
    return _BY_ID[act_id]


def act_of_verb(verb: str) -> Act:
    """The act behind a command."""
    return _BY_VERB[verb]


def acts_of_room(room: str) -> tuple[Act, ...]:
    """The acts that have a key in a room, in the order of the table."""
    return tuple(each for each in ACTS if room in each.rooms)
