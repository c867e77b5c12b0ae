"""Puts together everything that has no window. Loads no Qt; what is heavy is imported where it is needed."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

from desktop.core.errors import Refusal
from desktop.core.rules.rulebook import TIMING_RULES, Rulebook
from desktop.core.timing.typed_card import TypedCard
from desktop.core.words import day_words
from desktop.files.papers_out import write_paper
from desktop.files.readings import read_readings
from desktop.files.sentences import finding_sentences
from desktop.files.toml_text import read_file
from desktop.usecases.check_readings import CheckedCard, check_readings

if TYPE_CHECKING:  # a check loads nothing of paper
    from desktop.core.shop.cards.task_card import TaskCard
    from desktop.usecases.fill_card import CardState
    from desktop.usecases.papers.heading import CardHeading
    from desktop.usecases.ports import PaperSize, Printer
    from reports.document import Document
    from reports.pages import Page

TIMING_CARD = "T4"


def rulebook() -> Rulebook:
    """Return the rules of a card with their sentences."""
    return Rulebook(TIMING_RULES, finding_sentences())


def check_place(place: Path) -> CheckedCard:
    """Work a readings file out; raise Refusal when it cannot be used."""
    return check_typed(typed_at(place))


def typed_at(place: Path) -> TypedCard:
    """Return the typed card of a readings file; raise Refusal when it cannot be used."""
    return read_readings(read_file(place))


def check_typed(typed: TypedCard) -> CheckedCard:
    """Work a typed card out; raise Refusal when it cannot be read."""
    return check_readings(typed, rulebook())


class PaperPrinter:
    """The printer of the shop's papers; loads the drawing of PDF only when something is drawn."""

    def missing_signs(self, text: str) -> tuple[str, ...]:
        """Return the signs of a text that paper cannot show."""
        from reports.signs import missing_signs  # noqa: PLC0415 - late: most commands print nothing

        return missing_signs(text)

    def draw(self, document: Document, size: PaperSize) -> bytes:
        """Return a document as PDF."""
        from reports.render import render  # noqa: PLC0415 - late: most commands print nothing

        return render(document, size)


def timing_card() -> TaskCard:
    """Return the shipped task card for timing magnetos to an engine."""
    from desktop.files.cards import builtin_cards  # noqa: PLC0415 - late: a check needs no card

    return next(card for card in builtin_cards() if card.id == TIMING_CARD)


def paper_of(checked: CheckedCard, heading: CardHeading, size: PaperSize, *, blank: bool) -> bytes:
    """Return the task card as PDF; raise Refusal when a text cannot be printed."""
    from desktop.usecases.papers.cards.task_card import CardPrint  # noqa: PLC0415 - late: a check prints nothing
    from desktop.usecases.print_card import print_card  # noqa: PLC0415 - the same

    what = CardPrint(timing_card(), heading, blank, time_in_words(datetime.now().astimezone()))
    printer: Printer = PaperPrinter()
    return print_card(checked, what, size, printer)


def paper_of_state(state: CardState, heading: CardHeading, size: PaperSize, *, blank: bool) -> bytes:
    """Return the task card of a card that is being filled; raise Refusal while it cannot be read as a whole.

    An empty card for the pencil needs its data only.
    """
    if state.checked is None or (state.faults and not blank):
        first = state.faults[0].sentence if state.faults else "nothing is filled in"
        raise Refusal(f"The card cannot be printed yet. {first}. Fill in what is open first.")
    return paper_of(state.checked, heading, size, blank=blank)


def print_to(place: Path, checked: CheckedCard, heading: CardHeading, size: PaperSize, *, blank: bool) -> None:
    """Print a task card into a file; raise Refusal when the text or the place cannot be used."""
    write_paper(place, paper_of(checked, heading, size, blank=blank))


def pages_of(pdf: bytes, dots_per_inch: float) -> tuple[Page, ...]:
    """Return the pages of a PDF as pictures."""
    from reports.pages import pages_of as pages  # noqa: PLC0415 - late: only a preview needs it

    return pages(pdf, dots_per_inch)


def font_faces() -> tuple[bytes, ...]:
    """Return the shipped faces."""
    from reports.signs import FACE_FILES, font_bytes  # noqa: PLC0415 - late: only a window needs it

    return tuple(font_bytes(face) for face in FACE_FILES)


def time_in_words(now: datetime) -> str:
    """Say a time with its zone, as papers carry it."""
    offset = f"{now:%z}" if now.utcoffset() else ""
    return f"printed {day_words(now)} {now:%H:%M} UTC{offset[:3]}{':' if offset else ''}{offset[3:]}"


def print_place(place: Path, out: Path, size: PaperSize, *, blank: bool) -> None:
    """Print the task card of a readings file into a file; raise Refusal when one of them cannot be used."""
    from desktop.usecases.papers.heading import CardHeading  # noqa: PLC0415 - late: a check prints nothing

    checked = check_place(place)
    if out.exists() and out.samefile(place):
        raise Refusal(f"{out}: this is the readings file itself. Choose another place for the paper.")
    print_to(out, checked, CardHeading(), size, blank=blank)
