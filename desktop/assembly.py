"""Puts together everything that has no window. Loads no Qt; what is heavy is imported where it is needed."""

from pathlib import Path

from desktop.core.errors import Refusal
from desktop.core.rules.rulebook import TIMING_RULES, Rulebook
from desktop.core.timing.typed_card import TypedCard
from desktop.files.readings import read_readings
from desktop.files.sentences import finding_sentences
from desktop.files.toml_text import read_file
from desktop.usecases.check_readings import CheckedCard, check_readings


def rulebook() -> Rulebook:
    """Return the rules of a card with their sentences."""
    return Rulebook(TIMING_RULES, finding_sentences())


def read_place(place: Path) -> TypedCard:
    """Return the typed card of a readings file; raise Refusal when it cannot be used."""
    return read_readings(read_file(place))


def check_place(place: Path) -> CheckedCard:
    """Work a readings file out; raise Refusal when it cannot be used."""
    return check_readings(read_place(place), rulebook())


__all__ = ["Refusal", "check_place", "read_place", "rulebook"]
