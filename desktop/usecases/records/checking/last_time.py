"""What was being kept when the program did not end by itself, and whether it is there: told at the next start."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

ENDED = "The program did not end by itself last time."
MOST_TOLD = 3
"""Windows that ended together and are told one by one."""


@dataclass(frozen=True, slots=True)
class InHand:
    """Something that is just being kept: in words, by whom, when; and by what it is found in the shop file.

    It is found by its request, or, without one, by the number and seal of its record.
    """

    what: str
    by: str
    at: datetime
    request: str = ""
    record: int = 0
    seal: str = ""


@dataclass(frozen=True, slots=True)
class LastTime:
    """What a window was keeping last before it ended by a fault; ``hand`` is None when its note cannot be read."""

    hand: InHand | None
    is_kept: bool = False


def last_time_words(found: Sequence[LastTime]) -> str:
    """Say what became of what was being kept last, the newest last; empty when every window ended by itself."""
    if not found:
        return ""
    known = sorted((one for one in found if one.hand is not None), key=_moment)
    said = [_said(one.hand, is_kept=one.is_kept) for one in known[-MOST_TOLD:] if one.hand is not None]
    if len(known) > MOST_TOLD:
        said.insert(0, f"{len(known)} windows ended with it; these are the last {MOST_TOLD}.")
    if len(known) < len(found):
        said.append("What was being kept last cannot be told any more: its note is damaged. Look at what you entered.")
    return " ".join((ENDED, *said))


def is_all_kept(found: Sequence[LastTime]) -> bool:
    """Tell whether everything that was being kept is there."""
    return all(one.is_kept for one in found)


def _said(hand: InHand, *, is_kept: bool) -> str:
    by = f"by {hand.by} " if hand.by else ""
    end = "It was kept." if is_kept else "It was not kept. Do it again."
    return f"The last thing to be kept, {by}on {hand.at:%Y-%m-%d at %H:%M}, was this: {hand.what}. {end}"


def _moment(found: LastTime) -> float:
    return found.hand.at.timestamp() if found.hand is not None else 0.0
