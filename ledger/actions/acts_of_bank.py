"""The rows of bank statements: reading, placing, agreeing. They have no key: the page of statements has them."""

from __future__ import annotations

from ledger.actions.act import Act

BANK: tuple[Act, ...] = (
    Act(
        "read_statement",
        "statement read",
        "Statement",
        None,
        (),
        "Read a statement in OFX or CSV. What the books have already is matched; a household's is only looked through.",
        "ledger.actions.read_statement:ReadRequest",
    ),
    Act(
        "place_line",
        "statement place",
        "Place lines",
        None,
        (),
        "Say what a LINE of a statement is. It is booked as that, on the bank's day.",
        "ledger.actions.book_line:PlaceRequest",
    ),
    Act(
        "undo_placing",
        "statement undo",
        "Undo a line",
        None,
        (),
        "Take back what a LINE was taken for. What was booked for it is reversed.",
        "ledger.actions.undo_placing:UndoRequest",
    ),
    Act(
        "pick_line",
        "statement pick",
        "Pick a line",
        None,
        (),
        "Book one LINE of a household statement as the workshop's. Nothing else of the file is kept.",
        "ledger.actions.pick_line:PickRequest",
    ),
    Act(
        "agree",
        "statement agree",
        "Agree",
        None,
        (),
        "Hold an account against its statement. Where nothing differs, the agreement is kept and printed.",
        "ledger.actions.agree:AgreeRequest",
    ),
    Act(
        "count_cash",
        "statement count",
        "Count cash",
        None,
        (),
        "Count the cash box. What is over or short is booked, and the count kept and printed.",
        "ledger.actions.agree:CountRequest",
    ),
)
