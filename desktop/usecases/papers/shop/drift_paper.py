"""The drift of a magneto over its visits: the picture, the words, and every visit in a table."""

from collections.abc import Iterator
from fractions import Fraction

from desktop.core.errors import Refusal
from desktop.core.shop.aircraft.parts import Way
from desktop.core.shop.orders.order import WorkOrder
from desktop.core.shop.orders.order_line import aircraft_words, engine_words, order_name
from desktop.core.shop.orders.visits import History, serial_key
from desktop.core.typed_text import degrees, deviation_words
from desktop.core.typed_text import plain as plain_number
from desktop.core.words import day_words
from desktop.usecases.drift_drawing import drift_drawing, drift_words
from desktop.usecases.papers.frame import About, document
from reports.document import Block, Column, Document, KeepTogether, Picture, Table, plain
from reports.document_text import Entries, Entry

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


def drift_paper(history: History, about: About, newest: WorkOrder | None = None) -> Document:
    """Return the history of a magneto; ``newest`` is the order of its newest visit, which says what it is.

    Raise Refusal for one that was on no order of the shop.
    """
    if not history.visits:
        raise Refusal(
            f'No magneto "{history.serial}" was on an order of this shop. Name it by the serial number on its data '
            "plate, as the intake of its order has it."
        )
    title = f"Drift of magneto {history.serial}"
    return document(
        title, about, (*_whose(history, newest), *_blocks(history)), subject="Drift of a magneto over its visits"
    )


def _whose(history: History, newest: WorkOrder | None) -> Iterator[Block]:
    """Yield what the magneto is, where it was last, and by which limits sheets and limits it was judged there."""
    if newest is None:
        return
    last = history.visits[-1]
    plate = newest.taken_in.intake.plate(last.side) if newest.taken_in else None
    fitted = next((one.part_number for one in newest.engine.magnetos if one.side is last.side), "")
    on = (moved.part for moved in newest.parts if moved.part.way is Way.ON)
    put_on = next((part.number for part in on if serial_key(part.serial) == serial_key(history.serial)), "")
    wanted = (last.side.value, "engine")
    pins = dict.fromkeys(pin for card in newest.cards for pin in card.sheets if pin.place in wanted)
    limits = history.limits
    yield Entries(
        (
            Entry("part number", put_on or (plate.part_number if plate else "") or fitted or "not written down"),
            Entry("side", f"{last.side} magneto"),
            Entry("aircraft", aircraft_words(newest)),
            Entry("engine", engine_words(newest)),
            Entry("limits sheets", ", ".join(f"{pin.sheet} rev {pin.revision}" for pin in pins) or "none on its card"),
            Entry(
                "limits",
                f"{degrees(limits.advanced_most)} advanced, {degrees(limits.retarded_most)} retarded"
                if limits
                else "none on its card",
            ),
        ),
        2,
    )


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
