"""The packet as a sheet to read: a cover with totals, checks and head, then the sections."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from decimal import Decimal

from ledger.machine.curve_picture import curve_picture
from ledger.paper.locales import LocalForms
from ledger.paper.sheet import (
    MARGIN,
    Bar,
    Bars,
    Block,
    Column,
    Heading,
    Notes,
    Picture,
    Row,
    Sheet,
    Table,
    Title,
    Total,
    Totals,
)
from ledger.quarter.packet import FACE, Packet
from ledger.quarter.table import Cell, CellKind, Field, PacketTable

_ON_THE_COVER = ("checks", "questions")
_CURVE_HEIGHT = 170.0


def packet_sheet(packet: Packet, forms: LocalForms) -> Sheet:
    """The whole packet, with every figure as its place writes it."""
    sections = [each for each in packet.tables if each.on_paper and each.name not in _ON_THE_COVER]
    blocks = [*_cover(packet, forms)]
    for each in sections:
        if each.rows:
            blocks += table_blocks(each, forms)
    empty = [each.title for each in sections if not each.rows]
    if empty:
        blocks += [Heading("Nothing to list"), Notes(tuple(f"{each}: none." for each in empty))]
    so_far = ", so far" if packet.span.so_far else ""
    return Sheet(
        letterhead=(packet.workshop, f"For the accountant · {packet.span.label}{so_far}"),
        about=f"{packet.workshop}: {packet.span.label}",
        blocks=tuple(blocks),
        foot=f"{packet.span.label}{so_far} · not audited, not a tax return",
        digits=packet.head,
    )


def _cover(packet: Packet, forms: LocalForms) -> Iterator[Block]:
    so_far = f"; so far, through {forms.day(packet.span.end)}" if packet.span.so_far else ""
    summary = packet.summary
    yield Title(f"{packet.span.label}, {packet.method}{so_far}", forms.day(packet.day))
    yield Notes((FACE,))
    yield Totals(
        (
            Total("Income", forms.amount(summary.income_cents)),
            Total("Expenses", forms.amount(-summary.expenses_cents)),
            Total("Net", forms.amount(summary.net_cents), is_sum=True),
            Total("Sales tax taken, no income", forms.amount(summary.taken_cents)),
        )
    )
    passed = sum(1 for each in packet.checks if each.ok)
    yield Heading(f"{passed} of {len(packet.checks)} checks passed")
    yield Table(
        (Column("Check"), Column("Passed"), Column("Off by", is_amount=True)),
        tuple(
            Row(
                (each.name, "yes" if each.ok else "NO", forms.amount(each.off_cents)),
                details=(each.fault,) if each.fault else (),
                is_sum=not each.ok,
            )
            for each in packet.checks
        ),
    )
    yield Heading("Still open: questions for you")
    yield Notes(tuple(f"{number}. {each}" for number, each in enumerate(packet.questions, start=1)) or ("None.",))
    yield Heading("What stayed in the house")
    yield Notes(packet.withheld)
    yield from _pictures(packet, forms)


def _pictures(packet: Packet, forms: LocalForms) -> Iterator[Block]:
    if packet.sales_by_month:
        yield Heading("Sales by month, without tax")
        yield Bars(tuple(Bar(each.name, each.cents, forms.amount(each.cents)) for each in packet.sales_by_month))
    if packet.curve.points and packet.curve.points[-1].cost_cents:
        last = packet.curve.points[-1]
        words = f"It cost {forms.amount(last.cost_cents)}; {forms.amount(last.earned_cents)} was earned towards it."
        yield Heading(f"The machine paying for itself, on {forms.day(packet.day)}")
        yield Picture(_curve(packet, forms), _CURVE_HEIGHT, (words,))
        yield Notes((f"{words} Before income tax and any pay for the owner's time.",))


def _curve(packet: Packet, forms: LocalForms) -> object:
    """The curve as a drawing as wide as the page."""
    width = forms.paper().width - 2 * MARGIN
    return curve_picture(packet.curve, forms.amount, width, _CURVE_HEIGHT)


def table_blocks(table: PacketTable, forms: LocalForms) -> Iterator[Block]:
    """A table with its heading, its note and its sums."""
    yield Heading(table.title)
    rows = [
        Row(tuple(_shown(cell, each.kind, forms) for cell, each in zip(row, table.fields, strict=True)))
        for row in table.rows
    ]
    if len(table.rows) > 1 and any(each.is_summed for each in table.fields):
        rows.append(Row(tuple(_sums(table, forms)), is_sum=True))
    if table.note:
        yield Notes((table.note,))
    yield Table(tuple(Column(each.head, is_amount=_is_number(each)) for each in table.fields), tuple(rows))


def _sums(table: PacketTable, forms: LocalForms) -> Iterator[str]:
    for place, each in enumerate(table.fields):
        yield forms.amount(table.sum_of(place)) if each.is_summed else "Together" if place == 0 else ""


def _is_number(field: Field) -> bool:
    return field.kind in ("amount", "percent", "quantity")


def _shown(cell: Cell, kind: CellKind, forms: LocalForms) -> str:
    match cell:
        case None:
            return ""
        case date():
            return forms.day(cell)
        case Decimal():
            return forms.percent(cell) if kind == "percent" else forms.number(cell)
        case int() if kind == "amount":
            return forms.amount(cell)
        case _:
            return str(cell)
