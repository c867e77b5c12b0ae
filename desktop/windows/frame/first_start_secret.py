"""A secret in a form: its label, the field that hides it, and what is to be known of it."""

from PySide6.QtWidgets import QHBoxLayout, QLabel, QWidget

from desktop.windows.pieces.look import Look
from desktop.windows.signing.sign_dialog import SecretField

LABEL_WIDTH, EDITOR_WIDTH = 152, 288
LEAST_HINT = "at least 8 characters"


class SecretRow(QWidget):
    """A secret with its label, and below it what is wrong with it."""

    def __init__(self, label: str, name: str) -> None:
        super().__init__()
        self.field = SecretField(name)
        self.label = QLabel(label)
        self.label.setBuddy(self.field)
        self.hint = QLabel(LEAST_HINT)
        self.hint.setObjectName("quiet")
        self.hint.setWordWrap(True)
        self.row = QHBoxLayout(self)
        self.row.setContentsMargins(0, 0, 0, 0)
        self.row.addWidget(self.label)
        self.row.addWidget(self.field)
        self.row.addWidget(self.hint, 1)

    def set_look(self, look: Look) -> None:
        """Take another theme or size of text."""
        self.label.setFixedWidth(look.pixels(LABEL_WIDTH))
        self.field.setFixedWidth(look.pixels(EDITOR_WIDTH))
        self.row.setSpacing(look.pixels(12))
