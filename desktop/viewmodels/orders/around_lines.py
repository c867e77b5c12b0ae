"""What stands on an order around its cards, one line each: discrepancies, parts, directives, time, what is left out."""

from collections.abc import Iterator
from dataclasses import dataclass

from desktop.core.records.entry.discrepancy_list import discrepancy_words
from desktop.core.records.entry.entry_wordings import directive_words, part_words
from desktop.core.shop.orders.discrepancies import Discrepancy, Outcome
from desktop.core.shop.orders.order import WorkOrder
from desktop.core.shop.orders.time_booked import total_words
from desktop.core.shop.stamp import Stamp
from desktop.viewmodels.pieces.card_words import Progress
from desktop.viewmodels.pieces.lines_model import ListColumn
from desktop.viewmodels.pieces.order_words import day_words


@dataclass(frozen=True, slots=True)
class AroundLine:
    """A line; ``discrepancy`` is the number of one that is still open, 0 for anything else."""

    key: str
    kind: str
    words: str
    by: str
    ring: Progress
    discrepancy: int = 0


AROUND_COLUMNS = (
    ListColumn("What", lambda line: line.kind, 196, ring=lambda line: line.ring, narrow_width=200),
    ListColumn("In words", lambda line: line.words, 0, below=("By",)),
    ListColumn("By", lambda line: line.by, 148, quiet=True),
)


def around_lines(order: WorkOrder) -> tuple[AroundLine, ...]:
    """Return the lines in the order of the work; the total of booked time at the end."""
    return tuple(_lines(order))


def _lines(order: WorkOrder) -> Iterator[AroundLine]:
    for left_out in order.left_out:
        words = f"{left_out.side.capitalize()} magneto: {left_out.reason}"
        yield AroundLine(f"out {left_out.side}", "Left out", words, _by(left_out.by), Progress.DONE)
    for one in order.discrepancies:
        is_open = one.settled is None
        by = _by(one.by if one.settled is None else one.settled.by)
        kind, number = f"Discrepancy {one.number}", one.number
        yield AroundLine(
            f"discrepancy {number}", kind, discrepancy_words(one), by, _ring(one), number if is_open else 0
        )
    for place, moved in enumerate(order.parts, 1):
        yield AroundLine(
            f"part {place}", f"Part {moved.part.way}", part_words(moved.part), _by(moved.by), Progress.DONE
        )
    for place, search in enumerate(order.searches, 1):
        words = f"{', '.join(search.subjects)}; in {search.looked_in}"
        yield AroundLine(f"search {place}", "Directive search", words, _by(search.by), Progress.DONE)
    for place, done in enumerate(order.directives, 1):
        yield AroundLine(f"directive {place}", "Directive", directive_words(done), _by(done.by), Progress.DONE)
    for place, entry in enumerate(order.time, 1):
        words = f"{entry.person}: {entry.minutes} min{f', {entry.what}' if entry.what else ''}"
        yield AroundLine(f"time {place}", "Time", words, _by(entry.by), Progress.DONE)
    if order.time:
        yield AroundLine("total", "Time in total", total_words(order.time), "", Progress.DONE)


def _ring(one: Discrepancy) -> Progress:
    if one.settled is None:
        return Progress.STOPS
    return Progress.DONE if one.settled.outcome is Outcome.CLOSED else Progress.OPEN


def _by(stamp: Stamp) -> str:
    return f"{stamp.person}, {day_words(stamp.at.date())}"
