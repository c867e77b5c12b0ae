"""The pages of a paper as they will print, and what of it prints: which of its choices, which size, which labels."""

from collections.abc import Sequence

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QImage, QPixmap
from PySide6.QtWidgets import (
    QComboBox,
    QGridLayout,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from desktop.viewmodels.paper.print_desk import SIZES, PrintDesk
from desktop.windows.paper.dialog_room import RoomyDialog
from desktop.windows.pieces.editors import ChoiceBox
from desktop.windows.pieces.look import Look
from reports.pages import Page

MAKING = "Making the pages…"
NARROW = 1000
HINT = "Hold a plain print and the sheet of labels against the light before the first label prints."


class PreviewDialog(RoomyDialog):
    """Shows the pages of a desk; asks for them to be printed or saved as PDF."""

    print_asked = Signal()
    save_asked = Signal()

    def __init__(self, desk: PrintDesk, look: Look, parent: QWidget) -> None:
        super().__init__(look, parent, (940, 740))
        self.desk = desk
        self.setWindowTitle("Page preview")
        self._scroll = QScrollArea()
        self._scroll.setWidgetResizable(True)
        self._scroll.setAccessibleName("Pages")
        self.what_box = self._box("What prints")
        self.size_box = self._box("Paper size")
        self.label_box = self._box("Labels")
        self.start_box = self._box("First free label")
        self._rows = [
            (self._label("&What", self.what_box), self.what_box),
            (self._label("Paper s&ize", self.size_box), self.size_box),
            (self._label("&Labels", self.label_box), self.label_box),
            (self._label("&First free label", self.start_box), self.start_box),
        ]
        self._hint = QLabel(HINT)
        self._hint.setObjectName("quiet")
        self.said = QLabel()
        for label in (self._hint, self.said):
            label.setWordWrap(True)
            label.setTextFormat(Qt.TextFormat.PlainText)
        self.save_button = QPushButton("&Save as PDF…")
        self.save_button.setAutoDefault(True)
        self.print_button = QPushButton("&Print…")
        self.print_button.setObjectName("act")
        self.print_button.setDefault(True)
        self._build()
        self._fill()
        self.what_box.activated.connect(desk.choose)
        self.size_box.activated.connect(lambda _place: self.desk.choose_size(self.size_box.currentData()))
        self.label_box.activated.connect(lambda _place: self.desk.choose_label(self.label_box.currentData()))
        self.start_box.activated.connect(lambda _place: self.desk.choose_start(self.start_box.currentData()))
        self.save_button.clicked.connect(self.save_asked)
        self.print_button.clicked.connect(self.print_asked)
        desk.asked.connect(self._wait)
        desk.made.connect(self._show)
        desk.refused.connect(self._refuse)
        if desk.paper is not None:
            self._show(desk.paper)
        self.print_button.setFocus()

    def _box(self, name: str) -> ChoiceBox:
        box = ChoiceBox(self._look)
        box.setAccessibleName(name)
        return box

    @staticmethod
    def _label(words: str, box: QComboBox) -> QLabel:
        label = QLabel(words)
        label.setBuddy(box)
        return label

    def _build(self) -> None:
        self._grid = QGridLayout()
        row = QHBoxLayout()
        row.addWidget(self.said, 1)
        row.addWidget(self.save_button)
        row.addWidget(self.print_button)
        outer = QVBoxLayout(self)
        outer.addLayout(self._grid)
        outer.addWidget(self._hint)
        outer.addWidget(self._scroll, 1)
        outer.addLayout(row)
        is_narrow = self.width() < self._look.pixels(NARROW)
        for place, (label, box) in enumerate(self._rows):
            line, column = (place, 0) if is_narrow else divmod(2 * place, 4)
            self._grid.addWidget(label, line, column)
            self._grid.addWidget(box, line, column + 1)
        for column in (1, 3):
            self._grid.setColumnStretch(column, 1)

    def _fill(self) -> None:
        """Offer what there is; what has one answer only is not asked."""
        desk = self.desk
        _offer(self.what_box, [(one.words, place) for place, one in enumerate(desk.choices)], desk.place)
        _offer(self.size_box, [(words, value) for value, words in SIZES], desk.size)
        labels = [name for name, _ in desk.labels()]
        _offer(self.label_box, [(name, name) for name in labels], desk.label or labels[0])
        starts = [(str(number), number) for number in range(1, desk.label_count() + 1)]
        _offer(self.start_box, starts, desk.start)
        shown = (len(desk.choices) > 1, True, desk.choice.is_labels, desk.choice.is_labels)
        for (label, box), is_shown in zip(self._rows, shown, strict=True):
            label.setVisible(is_shown)
            box.setVisible(is_shown)
        self._hint.setVisible(desk.choice.is_labels)

    def _wait(self) -> None:
        self._fill()
        self._say(MAKING)
        for button in (self.save_button, self.print_button):
            button.setEnabled(False)

    def _show(self, made: object) -> None:
        self._say("")
        for button in (self.save_button, self.print_button):
            button.setEnabled(True)
        self.show_pages(getattr(made, "pages", ()))

    def _refuse(self, words: str) -> None:
        self._say(words, refused=True)
        has_paper = self.desk.paper is not None
        for button in (self.save_button, self.print_button):
            button.setEnabled(has_paper)
        if not has_paper:
            self.show_pages(())

    def _say(self, words: str, *, refused: bool = False) -> None:
        self.said.setObjectName("refusal" if refused else "quiet")
        self.said.style().unpolish(self.said)
        self.said.style().polish(self.said)
        self.said.setText(words)

    def show_pages(self, pages: tuple[Page, ...]) -> None:
        """Show the pages one below the other."""
        inside = QWidget()
        inside.setObjectName("ground")
        column = QVBoxLayout(inside)
        for number, page in enumerate(pages, 1):
            label = QLabel()
            image = QImage(page.pixels, page.width, page.height, page.stride, QImage.Format.Format_RGB888)
            label.setPixmap(QPixmap.fromImage(image.copy()))
            label.setAccessibleName(f"Page {number} of {len(pages)}")
            column.addWidget(label, 0, Qt.AlignmentFlag.AlignHCenter)
        self._scroll.setWidget(inside)


def _offer(box: QComboBox, answers: Sequence[tuple[str, object]], now: object) -> None:
    """Offer answers in a box, where they are not offered already, and show the one that is chosen."""
    if [box.itemText(place) for place in range(box.count())] != [words for words, _ in answers]:
        box.clear()
        for words, value in answers:
            box.addItem(words, value)
    box.setCurrentIndex([value for _, value in answers].index(now))
