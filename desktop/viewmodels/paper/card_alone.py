"""What the window of a card without a shop prints with: its card, filled or blank, and nothing that is remembered."""

from collections.abc import Callable
from pathlib import Path
from typing import Protocol

from desktop.core.errors import Refusal
from desktop.viewmodels.paper.choices import BLANK, FILLED, Choice
from desktop.viewmodels.paper.paper_needs import Listed, Made, Outcome, PaperNeeds
from reports.pages import Page

NOT_SAVED = "The card is not saved. Choose another place."


class MakePaper(Protocol):
    """Makes a paper, None after a refusal that was said already."""

    def __call__(self, *, size: str, blank: bool) -> bytes | None:
        """Return the paper as PDF."""
        ...


def choices_alone(name: str) -> tuple[Choice, ...]:
    """Return the card, filled and blank."""
    return (Choice(FILLED, False, name, "The card"), Choice(BLANK, True, f"{name}-blank", "The blank card"))  # noqa: FBT003 - the thing is whether it is blank


def needs_alone(
    make: MakePaper, pages: Callable[[bytes, float], tuple[Page, ...]], save: Callable[[Path, bytes], bool], size: str
) -> PaperNeeds:
    """Return what prints a card that belongs to no shop; ``save`` says itself why a place cannot be used."""

    def made(blank: object, size: str, dots: float) -> Made:
        pdf = make(size=size, blank=bool(blank))
        if pdf is None:
            raise Refusal("")
        return Made(pdf, pages(pdf, dots))

    def write(place: Path, pdf: bytes) -> None:
        if not save(place, pdf):
            raise Refusal(NOT_SAVED)

    return PaperNeeds(
        made,
        lambda *_: lambda _pace: Outcome(0, 0),
        pages,
        lambda _order: Listed("", ()),
        write,
        lambda _note: None,
        lambda: size,
    )
