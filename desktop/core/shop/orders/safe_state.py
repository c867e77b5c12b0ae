"""The safe-state board: what on the aircraft is not as it flies, who set it so, and when."""

from dataclasses import dataclass, replace
from enum import StrEnum

from desktop.core.shop.stamp import Stamp


class SafeItem(StrEnum):
    """What the board holds, in its order."""

    SWITCH = "switch"
    BATTERY_AND_STARTER = "battery and starter"
    PLUG_LEADS = "plug leads"
    PLUGS = "plugs"
    GROUNDING_LEADS = "grounding leads"
    ROTOR_PIN = "rotor pin"
    PISTON_STOP = "piston stop"
    MAGNETO = "magneto"


STATE_WORDS: dict[SafeItem, tuple[str, str]] = {
    SafeItem.SWITCH: ("OFF", "not at OFF"),
    SafeItem.BATTERY_AND_STARTER: ("as it flies", "disabled"),
    SafeItem.PLUG_LEADS: ("on", "off"),
    SafeItem.PLUGS: ("in", "out"),
    SafeItem.GROUNDING_LEADS: ("on", "off: magneto live"),
    SafeItem.ROTOR_PIN: ("out", "in"),
    SafeItem.PISTON_STOP: ("out", "in"),
    SafeItem.MAGNETO: ("tight", "loose"),
}
"""The word for normal and the word for not normal, for each."""


BOARD_WORDS: dict[str, tuple[SafeItem, bool]] = {
    f"{item.value} {word}": (item, word == words[0]) for item, words in STATE_WORDS.items() for word in words
}
"""What a step of a card may say of the board, with the thing and whether that is normal."""


@dataclass(frozen=True, slots=True)
class SafeState:
    """How one thing stands, and who set it so."""

    item: SafeItem
    is_normal: bool
    by: Stamp

    @property
    def word(self) -> str:
        """How it stands, in the mechanic's word."""
        return STATE_WORDS[self.item][0 if self.is_normal else 1]


Board = tuple[SafeState, ...]


def new_board(by: Stamp) -> Board:
    """Return the board of an aircraft as it came: each thing normal, by whom it was taken in."""
    return tuple(SafeState(item, is_normal=True, by=by) for item in SafeItem)


def is_board(board: Board) -> bool:
    """Tell whether a board holds each thing once, in its order."""
    return [state.item for state in board] == list(SafeItem)


def with_state(board: Board, item: SafeItem, by: Stamp, *, is_normal: bool) -> Board:
    """Return the board with one thing set; one that stands so already keeps who set it first."""
    return tuple(
        replace(state, is_normal=is_normal, by=by) if state.item is item and state.is_normal is not is_normal else state
        for state in board
    )


def not_normal(board: Board) -> Board:
    """Return what is not normal, in the order of the board."""
    return tuple(state for state in board if not state.is_normal)
