"""What the hangar view shows, as one value: words, numbers and drawings of the present step."""

from dataclasses import dataclass

from desktop.viewmodels.card.card_pictures import Pictures
from desktop.viewmodels.hangar.hangar_words import Tile, Turning
from desktop.viewmodels.pieces.card_words import Verdict
from desktop.viewmodels.pieces.fields import Place


@dataclass(frozen=True, slots=True)
class Entry:
    """The field that figures go into: what it is, what was typed, which keys fill it."""

    label: str
    echo: str
    hint: str
    stands: str = ""


@dataclass(frozen=True, slots=True)
class Hangar:
    """Everything that the hangar view shows, in words and drawings.

    ``is_work`` tells the view with the dial from the one with instruction and boxes alone. ``safe`` is what is not as
    it flies; None where the card has no safe-state board. ``message`` is said once, ``is_refused`` when it is a no.
    """

    place: Place
    count: str
    is_work: bool
    turning: Turning | None
    tiles: tuple[Tile, Tile, Tile]
    entry: Entry | None
    verdict: Verdict
    reason: str
    safe: tuple[str, ...] | None
    pictures: Pictures
    next_words: str
    more: str = ""
    rotation: Turning | None = None
    message: str = ""
    is_refused: bool = False
