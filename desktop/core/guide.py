"""The pages of the guide inside the program, as values."""

from dataclasses import dataclass
from enum import StrEnum


class Mark(StrEnum):
    """What a piece of a sentence is."""

    TEXT = "text"
    LABEL = "label"
    KEY = "key"
    PAGE = "page"


class Block(StrEnum):
    """What a paragraph is."""

    HEADING = "heading"
    STEP = "step"
    TEXT = "text"
    WARNING = "warning"
    CAUTION = "caution"
    NOTE = "note"


@dataclass(frozen=True, slots=True)
class Piece:
    """A piece of a sentence: plain text, a label of the windows, a key, or the id of another page."""

    mark: Mark
    text: str


@dataclass(frozen=True, slots=True)
class Paragraph:
    """One paragraph."""

    kind: Block
    pieces: tuple[Piece, ...]

    @property
    def words(self) -> str:
        """The whole paragraph as plain words; another page stands with its id."""
        return "".join(piece.text for piece in self.pieces)


@dataclass(frozen=True, slots=True)
class GuidePage:
    """One page: for whom it is written, and from which places F1 leads to it."""

    id: str
    title: str
    written_for: tuple[str, ...]
    places: tuple[str, ...]
    paragraphs: tuple[Paragraph, ...]

    def marked(self, mark: Mark) -> tuple[str, ...]:
        """Return what is marked so on the page, in its order."""
        return tuple(piece.text for one in self.paragraphs for piece in one.pieces if piece.mark is mark)
