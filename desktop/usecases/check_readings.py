"""Checking readings: typed text in, everything worked out and every finding said."""

from dataclasses import dataclass

from desktop.core.errors import Refusal
from desktop.core.rules.rulebook import Rulebook, SaidFinding
from desktop.core.timing.read_card import read_card
from desktop.core.timing.results import Worked
from desktop.core.timing.typed_card import TypedCard
from desktop.core.timing.work_out import work_out


@dataclass(frozen=True, slots=True)
class CheckedCard:
    """A card worked out, with its findings, the hardest first."""

    worked: Worked
    findings: tuple[SaidFinding, ...]


def check_readings(typed: TypedCard, rulebook: Rulebook) -> CheckedCard:
    """Work a typed card out. Raise Refusal with the first structure fault when it cannot be read."""
    read = read_card(typed)
    if read.card is None:
        raise Refusal(read.faults[0].sentence + ".")
    worked = work_out(read.card)
    return CheckedCard(worked, tuple(rulebook.say(finding) for finding in rulebook.find(worked)))
