"""Any list that is on screen, as a paper: a title, what was asked for, a table."""

from collections.abc import Iterable

from desktop.core.shop.orders.order_line import OrderLine, order_name
from desktop.core.shop.tools import Tool
from desktop.core.words import day_words
from desktop.usecases.papers.frame import About, document
from reports.document import Column, Document, Table, plain

ORDER_COLUMNS = (
    Column("order", 0.85),
    Column("state", 1.15),
    Column("registration", 1.0),
    Column("aircraft", 1.5),
    Column("customer", 1.6),
    Column("asked for", 2.1),
    Column("promised", 1.2),
)
TOOL_COLUMNS = (
    Column("number", 0.8),
    Column("tool", 2.4),
    Column("serial", 1.2),
    Column("care", 1.2),
    Column("until", 1.1),
    Column("", 1.1),
)


def list_paper(
    title: str,
    about: About,
    columns: tuple[Column, ...],
    rows: Iterable[tuple[str | None, ...]],
    empty: str,
    *,
    asked: str = "",
) -> Document:
    """Return a list as a paper; ``asked`` says which part of it was asked for, in words."""
    table = Table(columns, tuple(rows), empty=empty)
    return document(title, about, (*((plain(asked),) if asked else ()), table), subject=title)


def order_list(lines: Iterable[OrderLine], about: About, *, asked: str = "") -> Document:
    """Return lines of the work orders."""
    rows = (
        (
            order_name(line.number),
            line.state.value,
            line.registration,
            line.aircraft_type,
            line.customer,
            line.asked,
            day_words(line.promised) if line.promised else "",
        )
        for line in lines
    )
    return list_paper("Work orders", about, ORDER_COLUMNS, rows, "There is no work order.", asked=asked)


def tool_list(tools: Iterable[tuple[Tool, bool]], about: About) -> Document:
    """Return the tools of a shop, each with whether it is out of date."""
    rows = ((*tool_cells(tool), "OUT OF DATE" if is_late else "") for tool, is_late in tools)
    return list_paper("Tools of the shop", about, TOOL_COLUMNS, rows, "No tool is on the list.")


def tool_cells(tool: Tool) -> tuple[str, str, str, str, str]:
    """Return a tool as cells: number, name with its lamp, serial, care, until when its calibration holds."""
    lamp = f", lamp {tool.lamp}" if tool.lamp else ""
    return tool.id, f"{tool.name}{lamp}", tool.serial, tool.care.value, day_words(tool.due) if tool.due else ""
