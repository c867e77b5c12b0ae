"""The tools for a job: counted out before the work, and in before the cowling is closed."""

from collections.abc import Iterator
from datetime import date

from desktop.core.shop.orders.order import WorkOrder
from desktop.core.shop.tools import Tool
from desktop.usecases.papers.frame import document
from desktop.usecases.papers.orders.order_head import about_order, twin_bands
from desktop.usecases.papers.shop.list_paper import tool_cells
from reports.document import (
    Block,
    Caution,
    Column,
    Document,
    KeepTogether,
    SignatureBox,
    Signatures,
    Table,
    plain,
)

LEFT_BEHIND = (
    "A tool, pin or stop left in the engine can stop it in flight. Count everything before the cowling is closed."
)
EMPTY_ROWS = 3
FITTINGS = ("rotor-lock or timing pin", "piston stop", "timing disc or angle gauge", "plugs of the plug holes", "rags")
"""What goes into or onto an engine at this work, whatever else is used. Common practice, no source."""
COUNTED = (Column("out", 0.6), Column("in", 0.6))


def tools_paper(
    shop: str, order: WorkOrder, tools: tuple[Tool, ...], today: date, *, invented: bool = False
) -> Document:
    """Return the tool list of an order: the tools written on its cards first, then the others of the shop."""
    about = about_order(shop, order, invented=invented, bands=twin_bands(order))
    return document(
        "Tool list for the job", about, tuple(_blocks(order, tools, today)), subject="Tools for a work order"
    )


def used_on(order: WorkOrder) -> tuple[str, ...]:
    """Return the numbers of the tools that are written on the cards of an order, each once."""
    numbers = [
        tool
        for card in order.cards
        for tool in (
            *(one for done in (*card.earlier, *card.steps) for one in done.tools),
            *(taken.tool for taken in card.taken if taken.tool),
        )
    ]
    return tuple(dict.fromkeys(numbers))


def _blocks(order: WorkOrder, tools: tuple[Tool, ...], today: date) -> Iterator[Block]:
    used = used_on(order)
    yield Caution("caution", LEFT_BEHIND)
    columns = (
        Column("number", 0.8),
        Column("tool", 2.2),
        Column("serial", 1.0),
        Column("care", 1.4),
        Column("until", 1.3),
        *COUNTED,
    )
    own = {tool.id: tool for tool in tools}
    written = [_row(own[number], today) if number in own else _unknown(number) for number in used]
    yield Table(columns, tuple(written), "Written on the cards of this order", "No tool is written on a card yet.")
    others = tuple(_row(tool, today) for tool in tools if tool.id not in used)
    yield Table(columns, others, "Other tools of the shop", "No other tool is on the shop's list.")
    parts = (Column("what goes into or onto the engine", 4.5), *COUNTED)
    yield Table(parts, tuple((name, None, None) for name in FITTINGS), "Pins, stops and covers")
    more = (Column("other tools, people's own", 4.5), *COUNTED)
    # Rows to write into stay with the count: a page never begins with one of them alone.
    yield KeepTogether(
        (
            Table(more, ((None, None, None),) * EMPTY_ROWS),
            plain("A tool whose calibration is out of date is not used: it stops the approval.", quiet=True),
            Signatures(
                (
                    SignatureBox("Counted out", "Every tool that I took is on this list."),
                    SignatureBox("Counted in", "Every tool, pin and stop on this list is back."),
                )
            ),
        )
    )


def _row(tool: Tool, today: date) -> tuple[str | None, ...]:
    number, name, serial, care, until = tool_cells(tool)
    if tool.is_out_of_date(today):
        until = f"{until or 'no date'}: OUT OF DATE"
    return number, name, serial, care, until, None, None


def _unknown(number: str) -> tuple[str | None, ...]:
    return number, "not on the shop's list", "", "", "", None, None
