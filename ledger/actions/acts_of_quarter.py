"""The rows of a quarter's end: packet, closing, questions, and what her accountant chose."""

from __future__ import annotations

from ledger.actions.act import Act

QUARTER: tuple[Act, ...] = (
    Act(
        "build_packet",
        "packet",
        "Packet",
        "k",
        ("quarter",),
        "One folder for the accountant. Pages, a workbook, lists, documents; of the last whole quarter, or of PERIOD.",
        "ledger.actions.build_packet:PacketRequest",
    ),
    Act(
        "close_period",
        "close",
        "Close",
        "c",
        ("quarter",),
        "Close a period once its packet is handed over. Nothing more is entered up to the end of PERIOD.",
        "ledger.actions.close_period:CloseRequest",
    ),
    Act(
        "reopen_period",
        "reopen",
        "Reopen",
        "o",
        ("quarter",),
        "Open a closed PERIOD again, and what follows it. The reason is kept.",
        "ledger.actions.close_period:ReopenRequest",
        is_rare=True,
    ),
    Act(
        "ask_question",
        "question add",
        "Ask",
        "a",
        ("quarter",),
        "A question of your own for the accountant. Its TEXT stands in every packet until it is answered.",
        "ledger.actions.question:QuestionRequest",
    ),
    Act(
        "note_answer",
        "question answer",
        "Note answer",
        "e",
        ("quarter",),
        "Write down what was said to an open question. TEXT becomes a note; NUMBER is that of the list.",
        "ledger.actions.question:AnswerNote",
        is_rare=True,
    ),
    Act(
        "count_stock",
        "stock",
        "Count stock",
        "t",
        ("quarter",),
        "Stock that you counted, at cost. It counts only where your accountant wants a cost of goods sold.",
        "ledger.actions.count_stock:StockRequest",
        is_rare=True,
    ),
    Act(
        "choose_method",
        "return-method",
        "Return",
        "m",
        ("quarter",),
        "What your accountant chose for the return. The home, cost of goods sold, and whose tax the sales tax is.",
        "ledger.actions.choose_method:MethodRequest",
        is_rare=True,
    ),
)
