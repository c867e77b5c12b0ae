"""Asked before a label of a twin prints: which engine's log it goes into, said by whoever prints it."""

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QDialog, QHBoxLayout, QLabel, QLineEdit, QPushButton, QVBoxLayout, QWidget

from desktop.windows.pieces.look import Look

WIDTH = 520
WRONG = "This label is for the {right} engine. Take the log of the {right} engine, or do not print."


class WhichLogDialog(QDialog):
    """Lets nothing print until the engine's side is typed; ``confirmed`` comes once it is."""

    confirmed = Signal()

    def __init__(self, position: str, serial: str, look: Look, parent: QWidget, act: str = "Print the label") -> None:
        super().__init__(parent)
        self._position = position
        self.setWindowTitle("Which log")
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        serial_words = f", serial {serial}" if serial else ""
        self.words = QLabel(f"This label goes into the log of the {position.upper()} engine{serial_words}.")
        self.words.setObjectName("group")
        self._task = QLabel("Take that log, read its serial number, and type which engine's log it is.")
        self._task.setObjectName("quiet")
        self.field = QLineEdit()
        self.field.setMaxLength(40)
        self.field.setAccessibleName("Log of the engine")
        self._label = QLabel("&Log of the engine")
        self._label.setBuddy(self.field)
        self.said = QLabel()
        self.said.setObjectName("fault")
        for label in (self.words, self._task, self.said):
            label.setWordWrap(True)
            label.setTextFormat(Qt.TextFormat.PlainText)
        self.cancel = QPushButton("Do not print")
        self.cancel.setAutoDefault(False)
        self.act = QPushButton(act)
        self.act.setObjectName("act")
        self.act.setDefault(True)
        row = QHBoxLayout()
        row.addWidget(self._label)
        row.addWidget(self.field, 1)
        self._buttons = QHBoxLayout()
        self._buttons.addWidget(self.cancel)
        self._buttons.addStretch(1)
        self._buttons.addWidget(self.act)
        self._column = QVBoxLayout(self)
        self._column.addWidget(self.words)
        self._column.addWidget(self._task)
        self._column.addLayout(row)
        self._column.addWidget(self.said)
        self._column.addLayout(self._buttons)
        self.act.clicked.connect(self._confirm)
        self.cancel.clicked.connect(self.reject)
        self.field.textEdited.connect(lambda _text: self.said.setText(""))
        self.set_look(look)
        self.field.setFocus()

    def set_look(self, look: Look) -> None:
        """Take a theme and a size of text."""
        margin = look.pixels(24)
        self._column.setContentsMargins(margin, look.pixels(16), margin, look.pixels(16))
        self._column.setSpacing(look.pixels(12))
        self.setMinimumWidth(look.pixels(WIDTH))

    def _confirm(self) -> None:
        typed = self.field.text().strip().casefold()
        if typed == self._position.casefold():
            self.accept()
            self.confirmed.emit()
        elif not typed:
            self.said.setText(f"Type {self._position.casefold()}, if that is the log in your hand.")
        else:
            self.said.setText(WRONG.format(right=self._position.casefold()))
        self.field.setFocus()
        self.field.selectAll()
