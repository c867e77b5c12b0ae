"""Filling a card: one typed value goes in, a new card comes back with its faults, results and findings."""

from dataclasses import dataclass

from desktop.core.rules.rulebook import Rulebook
from desktop.core.timing.faults import Fault
from desktop.core.timing.partial_card import read_beside_timing, read_what_can_be
from desktop.core.timing.read_card import ReadCard
from desktop.core.timing.readings import Side
from desktop.core.timing.typed_card import TypedCard, TypedEngine, TypedLimits, TypedMagneto, TypedMeasure
from desktop.core.timing.typed_paths import Value, with_magneto, with_value
from desktop.core.timing.work_out import work_out
from desktop.usecases.check_readings import CheckedCard


@dataclass(frozen=True, slots=True)
class CardState:
    """A card as typed, what keeps parts of it from being read, and what the rest gives."""

    typed: TypedCard
    faults: tuple[Fault, ...]
    checked: CheckedCard | None

    @property
    def is_whole(self) -> bool:
        """Tell whether everything that was typed can be read."""
        return not self.faults

    def has_open_approach(self, side: Side) -> bool:
        """Tell whether a reading of a magneto is still being typed: what stood before it does not stand in for it."""
        return any(fault.where.startswith(f"{side}.approach[") for fault in self.faults)

    def fault_at(self, path: str) -> Fault | None:
        """Return the fault at a field."""
        return next((fault for fault in self.faults if fault.where == path), None)


def look_at(typed: TypedCard, rulebook: Rulebook) -> CardState:
    """Work out what can be read of a card."""
    return _state(typed, read_what_can_be(typed), rulebook)


def look_beside_timing(typed: TypedCard, rulebook: Rulebook, *, run_up: bool, torque: bool) -> CardState:
    """Work out a card without timing: its run-up, its torques, or both."""
    return _state(typed, read_beside_timing(typed, run_up=run_up, torque=torque), rulebook)


def _state(typed: TypedCard, read: ReadCard, rulebook: Rulebook) -> CardState:
    if read.card is None:
        return CardState(typed, read.faults, None)
    worked = work_out(read.card)
    findings = tuple(rulebook.say(finding) for finding in rulebook.find(worked))
    return CardState(typed, read.faults, CheckedCard(worked, findings))


def take_value(state: CardState, path: str, value: Value, rulebook: Rulebook) -> CardState:
    """Take one typed value into a card. The text is kept as it was typed, whether it can be read or not."""
    return look_at(with_value(state.typed, path, value), rulebook)


def take_magneto(state: CardState, side: Side, magneto: TypedMagneto | None, rulebook: Rulebook) -> CardState:
    """Take a whole magneto into a card, or off it."""
    return look_at(with_magneto(state.typed, side, magneto), rulebook)


def empty_card() -> TypedCard:
    """Return a card on which nothing stands yet."""
    return TypedCard(
        format=1,
        engine=TypedEngine(),
        limits=TypedLimits(),
        measure=TypedMeasure(),
        left=TypedMagneto(),
        right=TypedMagneto(),
    )
