"""Who may sign: the roster as it signs, and beside each person what can be done."""

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtGui import QKeyEvent, QShowEvent
from PySide6.QtWidgets import QPushButton, QVBoxLayout, QWidget

from desktop.viewmodels.signing.enrol_desk import EnrolDesk, SignerLine, Typed
from desktop.windows.lists.list_page import ListPage
from desktop.windows.pieces.look import Look
from desktop.windows.signing.enrol_dialog import EnrolDialog

KEYS = "Up, Down: choose   Enter: the first that can be done   Esc: back"
ONE_LINE = 1160
EMPTY = ("Nobody can be enrolled here", "People stand here once they are on the roster.")
WORDS = {
    "enrol": "&Enrol…",
    "again": "Sign the &change…",
    "replace": "&New secret…",
    "withdraw": "With&draw…",
    "unlock": "&Unlock…",
}


class EnrolPage(QWidget):
    """Shows the roster of a desk as it signs; ``back_asked`` leads to the people."""

    back_asked = Signal()

    def __init__(self, desk: EnrolDesk, look: Look) -> None:
        super().__init__()
        self.setObjectName("ground")
        self.desk = desk
        self._look = look
        self.dialog: EnrolDialog | None = None
        self.list_page = ListPage(
            "Who may sign", desk.model, EMPTY, "&Back to the people", KEYS, look, narrow_below=ONE_LINE
        )
        self.buttons = {name: QPushButton(words, self) for name, words in WORDS.items()}
        self.list_page.head.addStretch(0)
        for name, button in self.buttons.items():
            button.setAutoDefault(True)
            button.clicked.connect(lambda _=False, name=name: self.ask(name))
            self.list_page.head.addWidget(button)
        outer = QVBoxLayout(self)
        outer.setContentsMargins(0, 0, 0, 0)
        outer.addWidget(self.list_page)
        self.list_page.line_chosen.connect(self._open)
        self.list_page.foot.act.clicked.connect(self.back_asked)
        self.list_page.table.selectionModel().currentRowChanged.connect(lambda _now, _before: self._show_buttons())
        desk.lines_changed.connect(self._show_buttons)
        desk.kept.connect(self.list_page.foot.say)
        desk.refused.connect(lambda words: self.list_page.foot.say(words, refused=True))
        self._show_buttons()

    def set_look(self, look: Look) -> None:
        """Take another theme or size of text."""
        self._look = look
        self.list_page.set_look(look)

    def showEvent(self, event: QShowEvent) -> None:  # noqa: N802 - Qt's name
        """Read the roster again."""
        super().showEvent(event)
        self.desk.look()
        self.list_page.take_keys()

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802 - Qt's name
        """Lead back."""
        if event.key() == Qt.Key.Key_Escape:
            self.back_asked.emit()
        else:
            super().keyPressEvent(event)

    def ask(self, deed: str) -> None:
        """Open the dialog of a deed about the chosen person."""
        line = self._line()
        if line is None or deed not in self.desk.deeds(line):
            return

        def do(typed: Typed) -> str:
            return self.desk.do(deed, line.person, typed)

        self.dialog = EnrolDialog(self.desk.asks(deed, line.person), do, self._look, self)
        self.dialog.finished.connect(self._forget_dialog)
        self.dialog.open()

    def _forget_dialog(self) -> None:
        self.dialog = None
        QTimer.singleShot(0, self, self._take_keys)

    def _take_keys(self) -> None:
        self.window().activateWindow()
        self.list_page.take_keys()

    def _open(self, row: int) -> None:
        self.ask(self.desk.deeds(self.desk.model.line(row))[0])

    def _line(self) -> SignerLine | None:
        row = self.list_page.table.chosen()
        if row is None:
            return None
        line: SignerLine = self.desk.model.line(row)
        return line

    def _show_buttons(self) -> None:
        line = self._line()
        deeds = self.desk.deeds(line) if line is not None else ()
        for name, button in self.buttons.items():
            button.setVisible(name in deeds)
