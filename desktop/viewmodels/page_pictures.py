"""A page of paper as a picture."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class PagePicture:
    """Rows of red, green and blue bytes, ``stride`` bytes a row."""

    width: int
    height: int
    stride: int
    pixels: bytes
