"""What stands above the fields of a place: its title, what to do, and what can hurt somebody or something."""

from PySide6.QtWidgets import QLabel, QVBoxLayout, QWidget

from desktop.viewmodels.pieces.fields import Place
from desktop.windows.pieces.caution_box import CautionBox
from desktop.windows.pieces.look import Look


class PlaceHead(QWidget):
    """Title, instruction and boxes of a place; it stays in sight while the fields below it scroll."""

    def __init__(self, place: Place, look: Look) -> None:
        super().__init__()
        self.setObjectName("sheet")
        self._look = look
        self._title = QLabel()
        self._title.setObjectName("title")
        self._task = QLabel()
        self._task.setObjectName("task")
        self._more = QLabel()
        self._more.setObjectName("quiet")
        self.boxes: list[CautionBox] = []
        self._layout = QVBoxLayout(self)
        for label in (self._title, self._task, self._more):
            label.setWordWrap(True)
            self._layout.addWidget(label)
        self._column = QVBoxLayout()
        self._layout.addLayout(self._column)
        self.set_place(place)
        self.set_look(look)

    def set_look(self, look: Look) -> None:
        """Take another theme or size of text."""
        self._look = look
        side, gap = look.pixels(24), look.pixels(8)
        self._layout.setContentsMargins(side, look.pixels(16), side, gap)
        self._layout.setSpacing(gap)
        self._column.setSpacing(gap)
        for box in self.boxes:
            box.set_look(look)

    def set_place(self, place: Place) -> None:
        """Show the words and the boxes of a place."""
        for label, words in ((self._title, place.title), (self._task, place.task), (self._more, place.more)):
            label.setText(words)
            label.setVisible(bool(words))
        for box in self.boxes:
            box.hide()
            box.deleteLater()
        self.boxes = [CautionBox(kind, words, self._look) for kind, words in place.boxes]
        for box in self.boxes:
            self._column.addWidget(box)
