"""The search for directives, and the directives that were complied with."""

from dataclasses import dataclass
from datetime import date
from enum import StrEnum

from desktop.core import typed_text
from desktop.core.shop.stamp import Stamp


class Subject(StrEnum):
    """What directives are looked for."""

    ENGINE = "engine"
    MAGNETO = "magneto"
    COUPLING = "coupling"
    HARNESS = "harness"
    SWITCH = "switch"


@dataclass(frozen=True, slots=True)
class DirectiveSearch:
    """In what somebody looked, for which subjects, who and when."""

    looked_in: str
    subjects: tuple[Subject, ...]
    by: Stamp


@dataclass(frozen=True, slots=True)
class Directive:
    """A directive complied with: number, amendment and its date, how and when, and when it is due again.

    ``serial`` names the engine or magneto that it was done on. ValueError when one that is done once is due again.
    """

    number: str
    done_on: date
    method: str
    amendment: str = ""
    dated: date | None = None
    subject: Subject = Subject.MAGNETO
    serial: str = ""
    recurring: bool = False
    next_due_hours: str = ""
    next_due_on: date | None = None

    def __post_init__(self) -> None:
        if not self.recurring and (self.next_due_hours or self.next_due_on):
            raise ValueError("a directive that is done once is not due again")


@dataclass(frozen=True, slots=True)
class DirectiveDone:
    """A directive complied with, and who wrote it down, and when."""

    directive: Directive
    by: Stamp


def directive_troubles(done: Directive) -> tuple[str, ...]:
    """Say what is missing on a directive, each with what to do."""
    hours = done.next_due_hours
    troubles = (
        (not done.number.strip(), "The directive has no number. Write it as the directive has it."),
        (not done.method.strip(), "The method of compliance is missing. Write how it was complied with."),
        (
            done.recurring and not hours and done.next_due_on is None,
            "A recurring directive has a next time. Write the hours, the date, or both.",
        ),
        (
            bool(hours) and typed_text.number(typed_text.tidied(hours)) is None,
            "The hours of the next time cannot be read. Write a number such as 1734.5.",
        ),
    )
    return tuple(sentence for is_so, sentence in troubles if is_so)


def search_troubles(looked_in: str, subjects: tuple[Subject, ...]) -> tuple[str, ...]:
    """Say what is missing on a search, each with what to do."""
    troubles = (
        (not looked_in.strip(), "It is not said where was looked. Write the list or the service, and its date."),
        (not subjects, "It is not said what was looked for. Name at least one: engine, magneto, and so on."),
    )
    return tuple(sentence for is_so, sentence in troubles if is_so)
