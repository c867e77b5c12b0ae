"""What use cases need from outside, as protocols."""

from typing import Literal, Protocol, TypeAlias

from reports.document import Document

PaperSize: TypeAlias = Literal["letter", "a4"]


class Printer(Protocol):
    """Draws documents."""

    def missing_signs(self, text: str) -> tuple[str, ...]:
        """Return the signs of a text that paper cannot show."""
        ...

    def draw(self, document: Document, size: PaperSize) -> bytes:
        """Return a document as PDF."""
        ...
