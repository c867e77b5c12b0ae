"""What can be printed of what is shown: this list or its own paper, this card filled or blank, this record again."""

from dataclasses import dataclass

from PySide6.QtCore import QAbstractItemModel, Qt

from desktop.core.shop.orders.order_line import order_name
from desktop.usecases.papers import kinds
from desktop.usecases.papers.asked import Asked
from desktop.usecases.papers.shop.list_paper import ListOnScreen
from desktop.usecases.papers.stable_set import PaperThere
from desktop.viewmodels.paper.paper_needs import WhichLog

THIS_LIST = "This list"
FILLED, BLANK = "Filled in", "Blank, for the pencil"
MOST_LINES = 1000
"""Lines of a list that print; what is asked for is said on the paper, so that a longer list can be cut by it."""


@dataclass(frozen=True, slots=True)
class Choice:
    """One thing that prints: its words among the others, the thing, the name of its file, and how it is spoken of.

    ``log`` is asked for before it goes out, where it is a label of one engine of several.
    """

    words: str
    thing: object
    file: str
    said: str
    log: WhichLog | None = None

    @property
    def is_labels(self) -> bool:
        """Whether it goes on a sheet of labels."""
        return isinstance(self.thing, Asked) and self.thing.kind is kinds.ENTRY_LABELS


def list_choice(title: str, model: QAbstractItemModel, asked: str = "", empty: str = "") -> Choice:
    """Return the list of a model exactly as it stands on screen; of one that is read page by page, every page."""
    while model.rowCount() < MOST_LINES and model.canFetchMore(model.index(-1, -1)):
        model.fetchMore(model.index(-1, -1))
    columns = range(model.columnCount())
    count = min(model.rowCount(), MOST_LINES)
    is_cut = model.rowCount() > count or model.canFetchMore(model.index(-1, -1))
    said = " ".join(part for part in (asked, f"The first {count} lines only." if is_cut else "") if part)
    headings = tuple(str(model.headerData(place, Qt.Orientation.Horizontal) or "") for place in columns)
    rows = tuple(tuple(str(model.index(row, place).data() or "") for place in columns) for row in range(count))
    shown = ListOnScreen(title, headings, rows, said, *((empty,) if empty else ()))
    return Choice(THIS_LIST, shown, _file(title), "The list")


def card_choices(order: int, card: int) -> tuple[Choice, ...]:
    """Return a card, filled and blank."""
    name = f"{order_name(order)}-card-{card:02d}"
    return (
        Choice(FILLED, Asked(kinds.CARD, order, card), name, "The card"),
        Choice(BLANK, Asked(kinds.BLANK_CARD, order, card), f"{name}-blank", "The blank card"),
    )


def record_choice(number: int) -> Choice:
    """Return a signed record, exactly as it was signed."""
    asked = Asked(kinds.RECORD, of=str(number), reprint=True)
    return Choice(f"Record {number}", asked, f"record-{number:04d}", f"Record {number}")


def due_choice() -> Choice:
    """Return the shop's paper of what is coming due."""
    return _of_the_shop(kinds.DUE)


def roster_choice() -> Choice:
    """Return the roster."""
    return _of_the_shop(kinds.ROSTER)


def tools_choice() -> Choice:
    """Return the tools of the shop with their due dates."""
    return _of_the_shop(kinds.TOOL_LIST)


def sheet_choice(sheet: str) -> Choice:
    """Return a limits sheet."""
    return Choice(
        f"Limits sheet {sheet}", Asked(kinds.SHEET, of=sheet), f"sheet-{_file(sheet)}", f"Limits sheet {sheet}"
    )


def drift_choice(serial: str) -> Choice:
    """Return the drift of a magneto, with its picture."""
    return Choice("Drift with its picture", Asked(kinds.DRIFT, of=serial), f"drift-{_file(serial)}", "The drift")


def declaration_choice(person: str) -> Choice:
    """Return what a person declared when enrolled to sign."""
    asked = Asked(kinds.DECLARATION, of=person)
    return Choice(f"Declaration of {person}", asked, f"declaration-{_file(person)}", f"The declaration of {person}")


def paper_choice(paper: PaperThere, log: WhichLog | None = None) -> Choice:
    """Return a paper of a list of papers."""
    is_labels = paper.asked.kind is kinds.ENTRY_LABELS
    return Choice(paper.title, paper.asked, paper.file, paper.title, log if is_labels else None)


def _of_the_shop(kind: kinds.PaperKind) -> Choice:
    return Choice(kind.title, Asked(kind), f"shop-{kind.name}", kind.title)


def _file(text: str) -> str:
    """Return a text as the name of a file."""
    return "".join(sign if sign.isascii() and sign.isalnum() else "-" for sign in text).strip("-").casefold() or "paper"
