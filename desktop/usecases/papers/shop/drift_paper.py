"""The drift of a magneto over its visits: the picture, the words, and every visit in a table."""

from collections.abc import Iterator
from fractions import Fraction

from desktop.core.errors import Refusal
from desktop.core.shop.orders.order_line import order_name
from desktop.core.shop.orders.visits import History
from desktop.core.typed_text import deviation_words
from desktop.core.typed_text import plain as plain_number
from desktop.core.words import day_words
from desktop.usecases.drift_drawing import drift_drawing, drift_words
from desktop.usecases.papers.frame import About, document
from reports.document import Block, Column, Document, KeepTogether, Picture, Table, plain

MM_A_POINT = 25.4 / 72
NO_PICTURE = "There is no picture yet: it takes two visits with hours."
COLUMNS = (
    Column("order", 0.9),
    Column("day", 1.1),
    Column("aircraft", 1.2),
    Column("side", 0.7),
    Column("since overhaul, h", 0.9, numbers=True),
    Column("total time, h", 0.9, numbers=True),
    Column("as found", 1.3),
    Column("as left", 1.3),
)


def drift_paper(history: History, about: About) -> Document:
    """Return the history of a magneto. Raise Refusal for one that was on no order of the shop."""
    if not history.visits:
        raise Refusal(
            f'No magneto "{history.serial}" was on an order of this shop. Name it by the serial number on its data '
            "plate, as the intake of its order has it."
        )
    title = f"Drift of magneto {history.serial}"
    return document(title, about, tuple(_blocks(history)), subject="Drift of a magneto over its visits")


def _blocks(history: History) -> Iterator[Block]:
    drawing = drift_drawing(history)
    words = plain(drift_words(history), bold=True)
    if drawing is None:
        yield words
        yield plain(NO_PICTURE)
    else:
        picture = Picture(drawing, drawing.width * MM_A_POINT, drawing.height * MM_A_POINT)
        yield KeepTogether((words, picture))
    rows = tuple(
        (
            order_name(visit.order),
            day_words(visit.on),
            visit.registration,
            visit.side.value,
            _number(visit.since_overhaul),
            _number(visit.total_time),
            _deviation(visit.found),
            _deviation(visit.left),
        )
        for visit in reversed(history.visits)
    )
    yield Table(COLUMNS, rows, "Visits, the newest first")
    if drawing is not None:
        yield plain("The forecast is none of the maker's intervals and replaces none.", quiet=True)


def _number(value: Fraction | None) -> str:
    return "" if value is None else plain_number(value, 1)


def _deviation(value: Fraction | None) -> str:
    return "" if value is None else deviation_words(value)
