"""Where somebody left off, and how they like to see it: their own, kept on their machine and never in the shop file."""

from dataclasses import dataclass

LIGHT, DARK, HIGH_CONTRAST = "light", "dark", "high contrast"
THEMES = (LIGHT, DARK, HIGH_CONTRAST)
"""The themes by name, in the order of the key that changes them."""
PERCENTS = (100, 125, 150, 175, 200)
MOST_SIGNS = 4096
"""Most signs of the path of a file."""


@dataclass(frozen=True, slots=True)
class LeftOff:
    """The shop file that was open last, the place or the order and card in it, theme and size of text in percent.

    ``place`` is the name of a place of the bar; it is empty, and ``order`` is 0, for the work orders. ``card`` is 0 for
    an order as a whole. ``is_locked`` tells that the window was locked when it was closed, and opens locked. ``person``
    is the initials of whoever worked there last, and ``listed`` what the work orders showed them. Raise ValueError for
    a theme or a size that there is not, and for a number below 0.
    """

    shop: str = ""
    place: str = ""
    order: int = 0
    card: int = 0
    theme: str = LIGHT
    percent: int = 100
    is_locked: bool = False
    person: str = ""
    listed: str = ""

    def __post_init__(self) -> None:
        if self.theme not in THEMES or self.percent not in PERCENTS or min(self.order, self.card) < 0:
            raise ValueError("nobody can have left off so")
        if max(len(one) for one in (self.shop, self.place, self.person, self.listed)) > MOST_SIGNS:
            raise ValueError("a text is too long")
