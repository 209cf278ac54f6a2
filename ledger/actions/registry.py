"""Every act in one table: palette, footer, help and commands all read these rows.

Nothing is imported here but names, so that reading the table costs nothing: `request` says where the request lives.
"""

from __future__ import annotations

from ledger.actions.act import Act
from ledger.actions.acts_of_bank import BANK
from ledger.actions.acts_of_endings import ENDINGS
from ledger.actions.acts_of_machine import MACHINE
from ledger.actions.acts_of_quarter import QUARTER
from ledger.actions.acts_of_set_aside import SET_ASIDE
from ledger.actions.acts_of_sunday import SUNDAY
from ledger.actions.acts_of_taxes import TAXES

ROOMS = ("home", "bench", "money", "machine", "set_aside", "quarter", "set_up")

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
        "set_price",
        "price",
        "Price",
        "m",
        ("bench",),
        "Put a price on the list, from a day on. Jobs keep the prices they were quoted.",
        "ledger.actions.set_price:PriceRequest",
        is_rare=True,
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
        ROOMS,
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
    *ENDINGS,
    *SUNDAY,
    *BANK,
    *TAXES,
    *SET_ASIDE,
    *MACHINE,
    *QUARTER,
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
