"""Tags that are cut out and hung up, and words that are read across a hangar."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from reports.document import Block

_WORDS_LIMIT = 120
_LEAST_MM, _MOST_MM = 40, 110


@dataclass(frozen=True, slots=True)
class BigWords:
    """Words that are read from across the hangar, in the largest of three sizes that gives whole words and few lines.

    At most 120 characters, such as "DO NOT TURN THE PROPELLER".
    """

    text: str

    def __post_init__(self) -> None:
        """Refuse what nobody reads from afar."""
        _refuse_long(self.text)


@dataclass(frozen=True, slots=True)
class Tag:
    """A tag with a frame and a ring for the hole at its left: a title, big words, whatever else it says.

    `bands` stand at its top, since a tag that was cut out keeps nothing of its page ("invented data"). The tag is as
    high as its contents, at least `height_mm`; two of 90 mm stand on a page. `printed` stands small at its bottom:
    shop, time of printing and check code, as given.
    """

    title: str
    big: str = ""
    blocks: tuple[Block, ...] = ()
    bands: tuple[str, ...] = ()
    height_mm: float = 90.0
    printed: str = ""

    def __post_init__(self) -> None:
        """Refuse a tag that would not be one."""
        _refuse_long(self.title, self.big, *self.bands)
        if not _LEAST_MM <= self.height_mm <= _MOST_MM:
            raise ValueError(f"a tag is {_LEAST_MM} to {_MOST_MM} mm high")


@dataclass(frozen=True, slots=True)
class Tags:
    """Tags below each other, two on a page while they fit, with a line to cut along between and around them."""

    tags: tuple[Tag, ...]


def _refuse_long(*texts: str) -> None:
    if any(len(text) > _WORDS_LIMIT for text in texts):
        raise ValueError(f"big words and the title of a tag have at most {_WORDS_LIMIT} characters")
