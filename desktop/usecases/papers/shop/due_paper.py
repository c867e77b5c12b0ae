"""What is coming due on engines and magnetos, the nearest first."""

from collections.abc import Iterable

from desktop.core.typed_text import plain as plain_number
from desktop.core.words import day_words
from desktop.usecases.papers.frame import About, document
from desktop.usecases.shop.lists.look_back import ComingLine
from reports.document import Column, Document, Table, plain

FROM = (
    "From the directives and task cards written on the orders of this shop, and the intervals on its current limits "
    "sheets. What other shops did is not in it. The hours are the aircraft's total time at the last intake. On a "
    "magneto that was never inspected here they count from its overhaul."
)
OVERDUE = "OVERDUE"
COLUMNS = (
    Column("what", 3.3),
    Column("on", 1.25),
    Column("where it was last", 1.35),
    Column("due at, h", 0.85, numbers=True),
    Column("due on", 1.15),
    Column("left", 1.8),
)


def due_paper(lines: Iterable[ComingLine], about: About) -> Document:
    """Return what is coming due."""
    table = Table(COLUMNS, tuple(_row(line) for line in lines), empty="Nothing is written down that comes due.")
    return document("Coming due", about, (plain(FROM, quiet=True), table), subject="What is coming due")


def _row(line: ComingLine) -> tuple[str, ...]:
    due = line.coming.due
    return (
        "\n".join(part for part in (due.what, line.every) if part),
        f"{due.subject.value} {due.serial}" if due.serial != line.place else due.subject.value,
        line.place,
        plain_number(due.at_hours, 1) if due.at_hours is not None else "",
        day_words(due.on) if due.on else "",
        _left(line),
    )


def _left(line: ComingLine) -> str:
    coming = line.coming
    parts = []
    if coming.hours_left is not None:
        parts.append(f"{plain_number(abs(coming.hours_left), 1)} h {'over' if coming.hours_left < 0 else 'left'}")
    elif coming.due.at_hours is not None:
        parts.append("hours not known")
    if coming.days_left is not None:
        parts.append(f"{abs(coming.days_left)} days {'over' if coming.days_left < 0 else 'left'}")
    words = ", ".join(parts) or "not known when it was done last"
    return f"{OVERDUE}: {words}" if coming.is_overdue else words
