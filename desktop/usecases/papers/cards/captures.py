"""What a step captures, as blocks of the paper."""

from collections.abc import Callable

from desktop.core.shop.cards.task_card import Step
from desktop.core.timing.drive import housing
from desktop.core.timing.readings import SeenFrom, Side, When
from desktop.core.timing.results import MagnetoResult, Worked
from desktop.core.typed_text import degrees, plain
from desktop.core.words import sync_words, turn_words
from desktop.usecases.papers.cards.approach_table import approaches
from desktop.usecases.papers.cards.capture import FILLED_COLUMNS, Capture
from desktop.usecases.papers.cards.stop_table import stop_pairs
from reports.document import Block, Column, Fact, Facts, Paragraph, ReadingRow, ReadingTable, Run, Table
from reports.document import plain as plain_words

PART_ROWS = 2
"""Lines for parts at a step: one off, one on."""


def capture_blocks(step: Step, capture: Capture) -> tuple[Block, ...]:
    """Return the tables of what a step captures; none for a step that is only confirmed."""
    kind = step.capture
    when, _, side = kind.rpartition(" ")
    if when in set(When) and side in set(Side):
        result = capture.worked.of(Side(side))
        return approaches(capture, result, When(when)) if result else ()
    if when == "turn":
        return (_turn(capture, _turned_side(capture.worked, side)),)
    tables: dict[str, Callable[[], tuple[Block, ...]]] = {
        "stop pairs": lambda: stop_pairs(capture, after_zeroing=False),
        "closing pair": lambda: stop_pairs(capture, after_zeroing=True),
        "synchronisation": lambda: _synchronisation(capture),
        "torque": lambda: _torque(capture),
        "run-up": lambda: _run_up(capture),
        "run-up as found": lambda: _pencil_run_up(capture),
        "choice": lambda: (_table(ReadingRow(capture.row(1), "Which it is", choices=step.choices)),),
        "reading": lambda: (_table(ReadingRow(capture.row(1), _read_words(step), unit=step.unit)),),
        "text": lambda: (Facts((Fact("written here", None, span=4),)),),
        "part": lambda: (_parts(),),
        "leads": lambda: _leads(capture.worked),
        "centre by feel": lambda: _centre_by_feel(capture),
        "cut": lambda: (_table(ReadingRow(capture.row(1), "The engine cut at OFF", choices=("yes", "no"))),),
    }
    return tables[kind]() if kind in tables else ()


def _table(*rows: ReadingRow) -> ReadingTable:
    return ReadingTable(rows, FILLED_COLUMNS)


def _synchronisation(capture: Capture) -> tuple[Block, ...]:
    if not capture.blank:
        return (plain_words(sync_words(capture.worked)),)
    most = capture.worked.card.limits.apart_most
    limit = "" if most is None else f"at most {degrees(most)} apart"
    lamps = [f"{result.magneto.side.capitalize()} lamp at" for result in capture.worked.magnetos]
    rows = [ReadingRow(capture.row(place), lamp, worked_out=limit) for place, lamp in enumerate(lamps, 1)]
    return (_table(*rows),)


def _centre_by_feel(capture: Capture) -> tuple[Block, ...]:
    centre = capture.worked.card.measure.centre_by_feel
    typed = "" if capture.blank or centre is None else centre.typed
    return (_table(ReadingRow(capture.row(1), "Top by feel, disc reads", reading=typed)),)


def _turned_side(worked: Worked, side: str) -> MagnetoResult:
    """Return the magneto whose reading decides a turn; in one housing the side whose points were found open first."""
    named = worked.of(Side(side)) if side in set(Side) else None
    if named is not None:
        return named
    found = [result for result in worked.magnetos if result.found_timing]
    return max(found, key=lambda one: one.found_timing.deviation if one.found_timing else 0, default=worked.magnetos[0])


def _turn(capture: Capture, result: MagnetoResult) -> Block:
    """Say how far the housing is turned by the reading as found; boxes for the pencil where there is none."""
    found = None if capture.blank else result.found_timing
    if found is None:
        end = "drive end" if result.magneto.seen_from is SeenFrom.DRIVE else "back"
        choices = (f"clockwise, seen from the {end}", "counter-clockwise")
        return _table(
            ReadingRow(capture.row(1), "Turn the housing by", unit="° of the magneto"),
            ReadingRow(capture.row(2), "Which way", choices=choices),
        )
    advice = turn_words(housing(result.magneto, result.ratio, found.deviation))
    return plain_words(f"By the reading as found: {advice}." if advice else "By the reading as found: do not turn.")


def _torque(capture: Capture) -> tuple[Block, ...]:
    """Say what the wrench is set to; it is set and not read, so there is no box for a reading."""
    return tuple(
        Paragraph(
            (
                Run(f"{job.what}: "),
                Run(f"set {plain(value, 2)} {job.unit}", bold=True),
                Run(f" for {plain(job.required)} {job.unit} at the nut."),
            )
        )
        for job, value in zip(capture.worked.card.torque, capture.worked.torque, strict=True)
    )


def _read_words(step: Step) -> str:
    """Name a reading by its limit and its magneto; one without a limit by nothing but its box."""
    what = (step.limit or "reading").capitalize()
    side = f", {step.side} magneto" if step.side else ""
    return f"{what}{side}" + ("" if step.unit else ", with its unit")


def _parts() -> Block:
    columns = (
        Column("off or on", 1),
        Column("part number", 2),
        Column("serial or batch", 2),
        Column("quantity", 1),
        Column("paper", 2),
    )
    empty: tuple[None, ...] = (None,) * len(columns)
    return Table(columns, (empty,) * PART_ROWS)


def _run_up_limits(capture: Capture) -> tuple[str, str]:
    """Return the limits of the drops in words, with room for the pencil where the readings have none."""
    run_up = capture.worked.card.run_up
    drop = "______" if run_up is None else plain(run_up.drop_most)
    apart = "______" if run_up is None else plain(run_up.apart_most)
    return f"drop at most {drop} rpm", f"apart at most {apart} rpm"


def _pencil_run_up(capture: Capture) -> tuple[Block, ...]:
    limit, apart = _run_up_limits(capture)
    return (
        _table(
            ReadingRow(capture.row(1), "Switch at BOTH", unit="rpm"),
            ReadingRow(capture.row(2), "Switch at L", unit="rpm", worked_out=limit),
            ReadingRow(capture.row(3), "Switch at R", unit="rpm", worked_out=limit),
            ReadingRow(capture.row(4), "Difference of the drops", unit="rpm", worked_out=apart),
        ),
    )


def _run_up(capture: Capture) -> tuple[Block, ...]:
    run_up, drops = capture.worked.card.run_up, capture.worked.run_up
    limit, apart = _run_up_limits(capture)
    if run_up is None or drops is None or capture.blank:
        return _pencil_run_up(capture)
    within = "within" if drops.is_within else "outside"
    rows = (
        ("Switch at BOTH", run_up.both_rpm, "", "both_rpm"),
        ("Switch at L", run_up.left_rpm, f"drop {plain(drops.left_drop)} rpm; {limit}", "left_rpm"),
        ("Switch at R", run_up.right_rpm, f"drop {plain(drops.right_drop)} rpm; {limit}", "right_rpm"),
        ("Difference of the drops", abs(drops.difference), f"{apart}: {within}", ""),
    )
    return (
        _table(
            *(
                ReadingRow(
                    capture.row(place),
                    what,
                    reading=plain(value),
                    unit="rpm",
                    worked_out=words,
                    remark=capture.mark(f"run_up.{key}"),
                )
                for place, (what, value, words, key) in enumerate(rows, 1)
            )
        ),
    )


def _leads(worked: Worked) -> tuple[Block, ...]:
    traced = [Column(f"{result.magneto.side} magneto, traced by", 3) for result in worked.magnetos]
    empty: tuple[None, ...] = (None,) * len(traced)
    table = Table(
        (Column("electrode", 1, numbers=True), Column("cylinder", 1, numbers=True), *traced),
        tuple((str(firing.electrode), str(firing.cylinder), *empty) for firing in worked.firing),
    )
    return (table,)
