"""The shop's tools: calibrated with a due date, or checked before each use."""

from dataclasses import dataclass
from datetime import date
from enum import StrEnum

from desktop.core.timing.faults import Fault


class Care(StrEnum):
    """How a tool is kept fit for use; the shop's own list decides which."""

    CALIBRATED = "calibrated"
    CHECKED = "check before use"


class Lamp(StrEnum):
    """What the lamp of a timing light does when the breaker points open."""

    ON = "on at opening"
    OFF = "off at opening"


@dataclass(frozen=True, slots=True)
class Tool:
    """A tool by the shop's own number; ``due`` is the last day on which a calibration holds, ``lamp`` a light's."""

    id: str
    name: str
    care: Care
    due: date | None = None
    serial: str = ""
    lamp: Lamp | None = None
    version: int = 1

    def is_out_of_date(self, day: date) -> bool:
        """Tell whether a calibrated tool may not be used on a day; one without a due date may not."""
        return self.care is Care.CALIBRATED and (self.due is None or self.due < day)


def tool_troubles(tool: Tool) -> tuple[str, ...]:
    """Say what keeps a tool from being put on the list, each with what to do."""
    return tuple(fault.expected for fault in tool_faults(tool))


def tool_faults(tool: Tool) -> tuple[Fault, ...]:
    """Return what keeps a tool from being put on the list, each at its field with a sentence that says what to do."""
    faults = (
        (not tool.id.strip(), "id", "The tool has no number. Write the one that stands on it."),
        (not tool.name.strip(), "name", "The tool has no name. Write what it is."),
        (
            tool.care is Care.CALIBRATED and tool.due is None,
            "due",
            "A calibrated tool needs the day until which the calibration holds. Write it from the certificate.",
        ),
    )
    return tuple(Fault(where, sentence) for is_so, where, sentence in faults if is_so)
