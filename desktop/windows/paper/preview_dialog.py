"""The pages of a paper as they will print."""

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QImage, QPixmap
from PySide6.QtWidgets import QComboBox, QDialog, QHBoxLayout, QLabel, QPushButton, QScrollArea, QVBoxLayout, QWidget

from desktop.windows.pieces.look import Look
from reports.pages import Page

SIZES = (("letter", "Letter"), ("a4", "A4"))


class PreviewDialog(QDialog):
    """Shows the pages; prints them or saves them as PDF."""

    print_asked = Signal()
    save_asked = Signal()
    size_chosen = Signal(str)
    blank_chosen = Signal(bool)

    def __init__(self, look: Look, parent: QWidget) -> None:
        super().__init__(parent)
        self._look = look
        self.setWindowTitle("Page preview")
        self.resize(look.pixels(900), look.pixels(700))
        self._scroll = QScrollArea()
        self._scroll.setWidgetResizable(True)
        self._scroll.setAccessibleName("Pages")
        self.size_box = QComboBox()
        self.size_box.setAccessibleName("Paper size")
        for value, words in SIZES:
            self.size_box.addItem(words, value)
        self.size_box.activated.connect(lambda: self.size_chosen.emit(self.size_box.currentData()))
        self.blank_box = QComboBox()
        self.blank_box.setAccessibleName("Filled or blank")
        self.blank_box.addItem("Filled in", userData=False)
        self.blank_box.addItem("Blank, for the pencil", userData=True)
        self.blank_box.activated.connect(lambda: self.blank_chosen.emit(self.blank_box.currentData()))
        self.save_button = QPushButton("Save as PDF…")
        self.save_button.clicked.connect(self.save_asked)
        self.print_button = QPushButton("Print…")
        self.print_button.setObjectName("act")
        self.print_button.setDefault(True)
        self.print_button.clicked.connect(self.print_asked)
        row = QHBoxLayout()
        row.addWidget(self.size_box)
        row.addWidget(self.blank_box)
        row.addStretch(1)
        row.addWidget(self.save_button)
        row.addWidget(self.print_button)
        outer = QVBoxLayout(self)
        outer.addWidget(self._scroll, 1)
        outer.addLayout(row)
        self.print_button.setFocus()

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
