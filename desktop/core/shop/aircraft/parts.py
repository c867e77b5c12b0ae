"""Parts that came off and went on, with their papers."""

from dataclasses import dataclass
from enum import StrEnum

from desktop.core.shop.stamp import Stamp


class Way(StrEnum):
    """Whether a part came off or went on."""

    OFF = "off"
    ON = "on"


@dataclass(frozen=True, slots=True)
class Part:
    """A part off or on: number, serial or batch, quantity as typed, its paper, and the tag of a removed part."""

    way: Way
    number: str
    name: str = ""
    serial: str = ""
    quantity: str = "1"
    paper: str = ""
    tag: str = ""


@dataclass(frozen=True, slots=True)
class PartMoved:
    """A part with who wrote it down, and when."""

    part: Part
    by: Stamp


def part_troubles(part: Part) -> tuple[str, ...]:
    """Say what is missing on a part, each with what to do."""
    troubles = (
        (not part.number.strip(), "The part has no number. Write the part number that stands on it."),
        (not part.quantity.strip(), "The quantity is missing. Write how many."),
        (
            part.way is Way.ON and not part.paper.strip(),
            "A part that goes on needs its paper. Write the release or the certificate that came with it.",
        ),
    )
    return tuple(sentence for is_so, sentence in troubles if is_so)
