"""Any list that is on screen, as a paper: a title, what was asked for, a table."""

from collections.abc import Iterable
from dataclasses import dataclass, replace

from desktop.core.shop.orders.order_line import OrderLine, order_name
from desktop.core.shop.tools import Tool
from desktop.core.words import day_words
from desktop.usecases.papers.frame import About, Printing, document, stamped
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


LINE, MOST_OF_LINE, MOST_WORD, EDGE = 100, 44, 24, 3
"""About how many signs a line of a table holds, how many of them one column takes at most, how many a word may have to
stand unbroken, and how many the room between columns takes."""


@dataclass(frozen=True, slots=True)
class ListOnScreen:
    """A list as it stands on screen: its title, headings and cells in their order.

    ``asked`` says which part of the list was asked for, in words, ``empty`` what stands there without a line.
    """

    title: str
    headings: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    asked: str = ""
    empty: str = "Nothing stands in this list."


def screen_list(shown: ListOnScreen, about: About, printing: Printing) -> Document:
    """Return a list exactly as it is on screen; its head says shop, time, and what was asked for."""
    columns = tuple(Column(*both) for both in zip(shown.headings, _shares(shown), strict=True))
    own = replace(
        about, who=shown.title, lines=(plain(about.shop), plain(shown.asked or "The whole list.", quiet=True))
    )
    paper = stamped(list_paper(shown.title, own, columns, shown.rows, shown.empty), printing)
    # The time is of this print, and no part of what the list says: it comes when the check code is known.
    return replace(paper, head=replace(paper.head, lines=(*paper.head.lines, plain(printing.printed, quiet=True))))


def _shares(shown: ListOnScreen) -> tuple[float, ...]:
    """Return each column's share of the width, in signs: its longest word stands whole; long texts share the rest."""
    texts = [(heading, *(row[place] for row in shown.rows)) for place, heading in enumerate(shown.headings)]
    least = [min(max(len(word) for text in column for word in (*text.split(), "")), MOST_WORD) for column in texts]
    whole = [min(max(map(len, column)), MOST_OF_LINE) for column in texts]
    wanted = [max(word, text) - word for word, text in zip(least, whole, strict=True)]
    room = max(LINE - sum(least) - EDGE * len(least), 0)
    part = min(room / sum(wanted), 1) if sum(wanted) else 0
    return tuple(word + more * part + EDGE for word, more in zip(least, wanted, strict=True))


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


def order_list(
    lines: Iterable[OrderLine], about: About, *, asked: str = "", empty: str = "There is no work order."
) -> Document:
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
    return list_paper("Work orders", about, ORDER_COLUMNS, rows, empty, asked=asked)


def tool_list(tools: Iterable[tuple[Tool, bool]], about: About) -> Document:
    """Return the tools of a shop, each with whether it is out of date."""
    rows = ((*tool_cells(tool), "OUT OF DATE" if is_late else "") for tool, is_late in tools)
    return list_paper("Tools of the shop", about, TOOL_COLUMNS, rows, "No tool is on the list.")


def tool_cells(tool: Tool) -> tuple[str, str, str, str, str]:
    """Return a tool as cells: number, name with its lamp, serial, care, until when its calibration holds."""
    lamp = f", lamp {tool.lamp}" if tool.lamp else ""
    return tool.id, f"{tool.name}{lamp}", tool.serial, tool.care.value, day_words(tool.due) if tool.due else ""
