"""A choice of a person: found by initials, or by the first letters of any part of the name."""

from collections.abc import Sequence

from PySide6.QtCore import QElapsedTimer, Qt
from PySide6.QtGui import QKeyEvent

from desktop.windows.pieces.editors import ChoiceBox
from desktop.windows.pieces.look import Look

PAUSE_MS = 1500
"""After so long a pause a letter begins a new search."""


class PersonBox(ChoiceBox):
    """Shows people by name and initials."""

    def __init__(self, look: Look) -> None:
        super().__init__(look)
        self._typed = ""
        self._pause = QElapsedTimer()
        self._pause.start()

    def show_people(self, people: Sequence[tuple[str, str]], chosen: str) -> None:
        """Show people by initials and name, one of them chosen: the first where nobody is."""
        self.clear()
        for initials, name in people:
            self.addItem(f"{name} ({initials})", initials)
        self.setCurrentIndex(max(0, self.findData(chosen)))
        self._typed = ""

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802 - Qt's name
        """Choose by letters; everything else as in any choice."""
        held = event.modifiers() & (Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.AltModifier)
        text = event.text()
        if self._pause.restart() > PAUSE_MS:
            self._typed = ""
        if held or not text or not text.isprintable() or (text == " " and not self._typed):
            super().keyPressEvent(event)
            return
        self._find(text)

    def _find(self, text: str) -> None:
        """Choose whoever the letters name; letters that name nobody begin anew, after whoever is chosen."""
        for typed, first in ((self._typed + text, self.currentIndex()), (text, self.currentIndex() + 1)):
            places = [(first + step) % self.count() for step in range(self.count())] if self.count() else []
            for is_named in (_by_initials, _by_name):
                found = [place for place in places if is_named(self.itemText(place), typed.casefold())]
                if found:
                    self._typed = typed
                    self.setCurrentIndex(found[0])
                    return


def _by_initials(words: str, typed: str) -> bool:
    return words.rpartition("(")[2].casefold().startswith(typed)


def _by_name(words: str, typed: str) -> bool:
    name = words.rpartition("(")[0].casefold()
    return name.startswith(typed) or any(part.startswith(typed) for part in name.split())
