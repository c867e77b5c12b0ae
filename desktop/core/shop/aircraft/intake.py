"""What the front desk writes down when an aircraft comes in: logs, hours, complaint, data plates."""

from collections.abc import Iterator
from dataclasses import dataclass

from desktop.core import typed_text
from desktop.core.shop.stamp import Stamp
from desktop.core.timing.faults import Fault
from desktop.core.timing.readings import Hand, Side


@dataclass(frozen=True, slots=True)
class Plate:
    """What stands on a magneto's data plate, as typed; the lag in magneto degrees, time since overhaul in hours."""

    side: Side
    part_number: str = ""
    serial: str = ""
    hand: Hand | None = None
    lag: str = ""
    since_overhaul: str = ""


@dataclass(frozen=True, slots=True)
class Intake:
    """What is written when an aircraft is taken in; hours as typed. ValueError when two plates are of one side."""

    logs_seen: bool = False
    total_time: str = ""
    tachometer: str = ""
    complaint: str = ""
    plates: tuple[Plate, ...] = ()

    def __post_init__(self) -> None:
        sides = [plate.side for plate in self.plates]
        if len(set(sides)) != len(sides):
            raise ValueError("two data plates of one side")

    def plate(self, side: Side) -> Plate | None:
        """Return one side's data plate."""
        return next((plate for plate in self.plates if plate.side is side), None)


@dataclass(frozen=True, slots=True)
class TakenIn:
    """An intake with who wrote it, and when."""

    intake: Intake
    by: Stamp


def intake_faults(intake: Intake) -> tuple[Fault, ...]:
    """Return the typed numbers that cannot be read, each with its field; an empty field is no fault."""
    numbers = [("total_time", intake.total_time), ("tachometer", intake.tachometer)]
    for plate in intake.plates:
        numbers += [(f"{plate.side}.lag", plate.lag), (f"{plate.side}.since_overhaul", plate.since_overhaul)]
    return tuple(_faults(numbers))


def _faults(numbers: list[tuple[str, str]]) -> Iterator[Fault]:
    for where, text in numbers:
        value = typed_text.number(typed_text.tidied(text))
        if text.strip() and (value is None or value < 0):
            yield Fault(where, "expected a number such as 1234.5, 0 or more")
