"""A list of lines as a table: what each column says of a line is data."""

from collections.abc import Callable, Hashable, Sequence
from dataclasses import dataclass
from typing import Any

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QObject, QPersistentModelIndex, Qt

from desktop.viewmodels.pieces.card_words import Progress

Index = QModelIndex | QPersistentModelIndex
NOWHERE = QModelIndex()


@dataclass(frozen=True, slots=True)
class ListColumn:
    """A column: its heading, its words of a line, its width at 100 percent, and how it is shown.

    ``width`` is 0 for the column that takes what is left. ``ring`` gives a shape beside the words. ``below`` names, by
    heading, the columns whose words stand under its own where the window is narrow; they have no column there, and
    ``said_below`` stands before them. ``code`` is for numbers that are read sign by sign.
    """

    heading: str
    words: Callable[[Any], str]
    width: int = 0
    ring: Callable[[Any], Progress] | None = None
    below: tuple[str, ...] = ()
    strong: bool = False
    quiet: bool = False
    narrow_width: int | None = None
    said_below: str = ""
    code: bool = False


class LinesModel(QAbstractTableModel):
    """Lines of one kind; ``key`` tells which line is which when they are read again."""

    def __init__(
        self, columns: tuple[ListColumn, ...], key: Callable[[Any], Hashable], parent: QObject | None = None
    ) -> None:
        super().__init__(parent)
        self.columns = columns
        self._key = key
        self._lines: tuple[Any, ...] = ()

    def show_lines(self, lines: Sequence[Any]) -> None:
        """Show these lines; where the same ones stand in the same places, only what they say changes."""
        new = tuple(lines)
        if [self._key(line) for line in new] == [self._key(line) for line in self._lines]:
            before, self._lines = self._lines, new
            for row, (old, one) in enumerate(zip(before, new, strict=True)):
                if old != one:
                    self.dataChanged.emit(self.index(row, 0), self.index(row, len(self.columns) - 1))
            return
        self.beginResetModel()
        self._lines = new
        self.endResetModel()

    def line(self, row: int) -> Any:  # noqa: ANN401 - a line of whatever kind the list shows
        """Return the line of a row."""
        return self._lines[row]

    def row_of(self, key: Hashable) -> int | None:
        """Return the row of a line by its key; None when it does not stand here."""
        return next((row for row, line in enumerate(self._lines) if self._key(line) == key), None)

    def key_at(self, row: int) -> Hashable:
        """Return the key of the line in a row."""
        return self._key(self._lines[row])

    def rowCount(self, parent: Index = NOWHERE) -> int:  # noqa: N802 - Qt's name
        """Return how many lines there are."""
        return 0 if parent.isValid() else len(self._lines)

    def columnCount(self, parent: Index = NOWHERE) -> int:  # noqa: N802 - Qt's name
        """Return how many things a line says."""
        return 0 if parent.isValid() else len(self.columns)

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        """Return the words of a cell, the same as its tool tip, and its name for a reader of the screen."""
        if not index.isValid() or not 0 <= index.row() < len(self._lines):
            return None
        column = self.columns[index.column()]
        words = column.words(self._lines[index.row()])
        if role == Qt.ItemDataRole.DisplayRole:
            return words
        if role == Qt.ItemDataRole.ToolTipRole:
            return words or None
        if role == Qt.ItemDataRole.AccessibleTextRole:
            return f"{column.heading}: {words or 'nothing'}"
        return None

    def headerData(  # noqa: N802 - Qt's name
        self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole
    ) -> object:
        """Return the heading of a column."""
        if orientation is Qt.Orientation.Horizontal and role == Qt.ItemDataRole.DisplayRole:
            return self.columns[section].heading
        return None
