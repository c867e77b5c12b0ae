"""What a step captures, as blocks of the paper."""

from desktop.core.timing.readings import Side, When
from desktop.core.timing.results import Worked
from desktop.core.typed_text import degrees, plain
from desktop.core.words import sync_words
from desktop.usecases.papers.approach_table import approaches
from desktop.usecases.papers.capture import Capture
from desktop.usecases.papers.stop_table import stop_pairs
from reports.document import Block, Column, ReadingRow, ReadingTable, Table


def capture_blocks(kind: str, capture: Capture) -> tuple[Block, ...]:
    """Return the tables of one kind of capture; none for a step that is only confirmed."""
    when, _, side = kind.rpartition(" ")
    if when in set(When) and side in set(Side):
        result = capture.worked.of(Side(side))
        return approaches(capture, result, When(when)) if result else ()
    tables = {
        "stop pairs": lambda: stop_pairs(capture, after_zeroing=False),
        "closing pair": lambda: stop_pairs(capture, after_zeroing=True),
        "synchronisation": lambda: _synchronisation(capture),
        "torque": lambda: _torque(capture),
        "run-up": lambda: _run_up(capture),
        "leads": lambda: _leads(capture.worked),
    }
    return tables[kind]() if kind in tables else ()


def _synchronisation(capture: Capture) -> tuple[Block, ...]:
    sync = capture.worked.sync
    if capture.blank or sync is None or sync.difference is None:
        most = capture.worked.card.limits.apart_most
        limit = "" if most is None else f"at most {degrees(most)} allowed"
        words = limit if capture.blank else sync_words(capture.worked)
        return (ReadingTable((ReadingRow(capture.row(1), "Between the magnetos", worked_out=words),)),)
    reading = degrees(abs(sync.difference))
    row = ReadingRow(capture.row(1), "Between the magnetos", reading=reading, worked_out=sync_words(capture.worked))
    return (ReadingTable((row,)),)


def _torque(capture: Capture) -> tuple[Block, ...]:
    rows = [
        ReadingRow(
            capture.row(place),
            job.what,
            target=plain(value, 2),
            unit=job.unit,
            worked_out=f"set {plain(value, 2)} {job.unit} for {plain(job.required)} {job.unit} at the nut",
        )
        for place, (job, value) in enumerate(zip(capture.worked.card.torque, capture.worked.torque, strict=True), 1)
    ]
    return (ReadingTable(tuple(rows)),) if rows else ()


def _run_up(capture: Capture) -> tuple[Block, ...]:
    run_up, drops = capture.worked.card.run_up, capture.worked.run_up
    limit = "" if run_up is None else f"drop at most {plain(run_up.drop_most)} rpm"
    apart = "" if run_up is None else f"apart at most {plain(run_up.apart_most)} rpm"
    if run_up is None or drops is None or capture.blank:
        return (
            ReadingTable(
                (
                    ReadingRow(capture.row(1), "Switch at BOTH", unit="rpm"),
                    ReadingRow(capture.row(2), "Switch at L", unit="rpm", worked_out=limit),
                    ReadingRow(capture.row(3), "Switch at R", unit="rpm", worked_out=limit),
                    ReadingRow(capture.row(4), "Difference of the drops", unit="rpm", worked_out=apart),
                )
            ),
        )
    return (
        ReadingTable(
            (
                ReadingRow(capture.row(1), "Switch at BOTH", reading=plain(run_up.both_rpm), unit="rpm"),
                ReadingRow(
                    capture.row(2),
                    "Switch at L",
                    reading=plain(run_up.left_rpm),
                    unit="rpm",
                    worked_out=f"drop {plain(drops.left_drop)} rpm; {limit}",
                ),
                ReadingRow(
                    capture.row(3),
                    "Switch at R",
                    reading=plain(run_up.right_rpm),
                    unit="rpm",
                    worked_out=f"drop {plain(drops.right_drop)} rpm; {limit}",
                ),
                ReadingRow(
                    capture.row(4),
                    "Difference of the drops",
                    reading=plain(abs(drops.difference)),
                    unit="rpm",
                    worked_out=f"{apart}: {'within' if drops.is_within else 'outside'}",
                ),
            )
        ),
    )


def _leads(worked: Worked) -> tuple[Block, ...]:
    table = Table(
        (
            Column("electrode", 1, numbers=True),
            Column("cylinder", 1, numbers=True),
            Column("degrees after the reference cylinder", 2, numbers=True),
            Column("traced", 2),
        ),
        tuple((str(firing.electrode), str(firing.cylinder), plain(firing.crank, 2), None) for firing in worked.firing),
    )
    return (table,)
