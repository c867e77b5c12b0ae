"""Structure faults: what keeps typed readings from being read at all."""

from collections.abc import Callable
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction
from typing import TypeVar

from desktop.core import typed_text
from desktop.core.timing.readings import Reading
from desktop.core.timing.typed_card import Whole

Choice = TypeVar("Choice", bound=StrEnum)


@dataclass(frozen=True, slots=True)
class Fault:
    """A key's path, entries counted from 1, and what is expected there."""

    where: str
    expected: str

    @property
    def sentence(self) -> str:
        """Path and expectation in one line."""
        return f"{self.where}: {self.expected}"


class FaultList:
    """Reads typed text piece by piece and remembers each fault.

    After a fault a stand-in value comes back, so that all faults of a card are found in one pass. The values are
    thrown away when there is any fault.
    """

    def __init__(self) -> None:
        self.faults: list[Fault] = []

    def add(self, where: str, expected: str) -> None:
        """Remember a fault."""
        self.faults.append(Fault(where, expected))

    def number(
        self,
        text: str | None,
        where: str,
        *,
        least: int | None = None,
        above: int | None = None,
        read: Callable[[str], Fraction | None] = typed_text.number,
    ) -> Fraction:
        """Read a required number that is at least ``least`` or above ``above``."""
        bound = "" if least is None else f", {least} or more"
        bound = bound if above is None else f", above {above}"
        form = "a number or a fraction such as 77/120" if read is typed_text.ratio else "a number such as 22 or 0.5"
        value = None if text is None else read(text)
        if value is None or (least is not None and value < least) or (above is not None and value <= above):
            self.add(where, f"expected {form}{bound}, {found(text)}")
            return Fraction(1)
        return value

    def optional_number(
        self, text: str | None, where: str, *, least: int | None = None, above: int | None = None
    ) -> Fraction | None:
        """Read a number that may be left out."""
        return None if text is None else self.number(text, where, least=least, above=above)

    def whole(self, value: Whole | None, where: str, expected: str, allowed: Callable[[int], bool]) -> int:
        """Read a required whole number."""
        if not isinstance(value, int) or not allowed(value):
            self.add(where, f"expected {expected}, {found(value)}")
            return 1
        return value

    def choice(self, text: str | None, where: str, kind: type[Choice], default: Choice | None = None) -> Choice:
        """Read one of a few words; without a default the word is required."""
        if text is None and default is not None:
            return default
        for member in kind:
            if member.value == text:
                return member
        words = " or ".join(f'"{member.value}"' for member in kind)
        self.add(where, f"expected {words}, {found(text)}")
        return next(iter(kind))

    def flag(self, value: bool | None, where: str) -> bool:  # noqa: FBT001 - a typed value, not a switch
        """Read a required yes or no."""
        if value is None:
            self.add(where, "expected true or false, nothing found")
        return bool(value)

    def reading(self, text: str | None, where: str, *, full: bool) -> Reading:
        """Read a required reading of a disc, a gauge or the marks."""
        value = None
        if text is not None:
            value = typed_text.full_reading(text) if full else typed_text.split_reading(text)
        if text is None or value is None:
            form = "0 to 360 such as 338" if full else "0 to 180 with its side such as 22 before or 5 after"
            self.add(where, f"expected a reading from {form}, {found(text)}")
            return Reading("", Fraction(0))
        return Reading(text, value)

    def refuse(self, value: object, where: str, why: str) -> None:
        """Remember a fault when something stands at a key that has no place on this card."""
        if value is not None:
            self.add(where, f"{why}. Leave this key out")

    def together(self, first: object, second: object, where_first: str, where_second: str) -> None:
        """Remember a fault when only one of two keys is given."""
        if (first is None) != (second is None):
            missing, given = (where_first, where_second) if first is None else (where_second, where_first)
            self.add(missing, f"expected a number, nothing found. It goes together with {given}: give both or neither")


def found(value: object) -> str:
    """Say in a few plain signs what was found instead."""
    if value is None:
        return "nothing found"
    if isinstance(value, int) and value.bit_length() > 64:  # noqa: PLR2004 - thousands of digits cannot be written out
        return "found a number that is too large"
    text = repr(value)
    return f"found {text}" if len(text) <= 60 else f"found {text[:56]} ..."  # noqa: PLR2004 - one short line
