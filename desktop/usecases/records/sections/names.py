"""Who and with what, as a record says it: people and tools by number and name, times with the zone."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime

from desktop.core.records.record import Row, rows_of
from desktop.core.shop.people.people import Person
from desktop.core.shop.stamp import Stamp
from desktop.core.shop.tools import Tool
from desktop.core.words import day_words


@dataclass(frozen=True, slots=True)
class Names:
    """The roster and the list of tools as they are at the signing; who or what is on neither goes by the id."""

    people: tuple[Person, ...] = ()
    tools: tuple[Tool, ...] = ()

    def person(self, person_id: str) -> str:
        """Name a person with the initials."""
        found = next((person for person in self.people if person.id == person_id), None)
        return f"{found.name} ({person_id})" if found else person_id

    def stamp(self, stamp: Stamp) -> str:
        """Say by whom and when; a helper with the supervisor."""
        under = f", under {self.person(stamp.under)}" if stamp.under else ""
        return f"{self.person(stamp.person)}{under}, {moment_words(stamp.at)}"

    def tool(self, tool_id: str) -> str:
        """Name a tool, with its serial number and the day until which its calibration holds."""
        found = next((tool for tool in self.tools if tool.id == tool_id), None)
        if found is None:
            return tool_id
        serial = f", serial {found.serial}" if found.serial else ""
        due = f", until {day_words(found.due)}" if found.due else ""
        return f"{tool_id}, {found.name}{serial}, {found.care}{due}"


def moment_words(at: datetime) -> str:
    """Say a moment to the second, with its offset from UTC."""
    return f"{day_words(at.date())} {at:%H:%M:%S} {at.isoformat()[-6:]}"


def told(label: str, text: str) -> Iterator[Row]:
    """Yield a typed text as rows; nothing for a text in which nothing is seen."""
    if text.strip():
        yield from rows_of(label, text)


def yes_no(is_so: bool) -> str:  # noqa: FBT001 - a value that is said, not a switch
    """Say yes or no."""
    return "yes" if is_so else "no"
