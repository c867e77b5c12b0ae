"""What is coming due on engines and magnetos, the nearest first."""

from collections.abc import Iterable

from desktop.core.typed_text import plain as plain_number
from desktop.core.words import day_words
from desktop.usecases.papers.frame import About, document
from desktop.usecases.shop.lists.look_back import ComingLine
from reports.document import Column, Document, Table, plain

FROM = (
    "From the directives and task cards written on the orders of this shop, and the intervals that it set. What other "
    "shops did is not in it. The hours are those of the last intake."
)
OVERDUE = "OVERDUE"
COLUMNS = (
    Column("what", 2.3),
    Column("on", 1.2),
    Column("serial", 1.1),
    Column("where it was last", 1.3),
    Column("due at, h", 0.8, numbers=True),
    Column("due on", 1.1),
    Column("left", 1.6),
)


def due_paper(lines: Iterable[ComingLine], about: About) -> Document:
    """Return what is coming due."""
    table = Table(COLUMNS, tuple(_row(line) for line in lines), empty="Nothing is written down that comes due.")
    return document("Coming due", about, (plain(FROM, quiet=True), table), subject="What is coming due")


def _row(line: ComingLine) -> tuple[str, ...]:
    due = line.coming.due
    return (
        due.what,
        due.subject.value,
        due.serial,
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
