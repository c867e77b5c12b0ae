"""Which revision of which limits sheet a card was issued with."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class SheetPin:
    """A limits sheet by its id, its revision and the SHA-256 of its exact text, as 64 small hexadecimal digits.

    ``place`` says what it is for on the card: engine, left or right.
    """

    sheet: str
    revision: int
    digest: str
    place: str = ""
