"""The foot of a page: what is said once, the keys, and the next action, always at the same place."""

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLabel, QPushButton, QVBoxLayout, QWidget

from desktop.windows.pieces.look import Look


class PageFoot(QWidget):
    """``act`` is the next action at the bottom right; ``back``, where it is named, leads back at the left."""

    def __init__(self, act: str, keys: str, back: str = "") -> None:
        super().__init__()
        self.setObjectName("ground")
        self.message = QLabel()
        self.message.setWordWrap(True)
        self.message.setTextFormat(Qt.TextFormat.PlainText)
        self._keys = QLabel(keys)
        self._keys.setObjectName("small")
        self._keys.setWordWrap(True)
        self._keys.setAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
        self.back = QPushButton(back)
        self.back.setAutoDefault(True)
        self.act = QPushButton(act)
        self.act.setObjectName("act")
        self.act.setAutoDefault(True)
        outer = QVBoxLayout(self)
        outer.setContentsMargins(0, 0, 0, 0)
        outer.setSpacing(0)
        rule = QFrame()
        rule.setObjectName("rule")
        outer.addWidget(rule)
        self._row = QHBoxLayout()
        self._row.addWidget(self.back)
        self._row.addWidget(self.message, 2)
        self._row.addWidget(self._keys, 3)
        self._row.addWidget(self.act)
        outer.addLayout(self._row)
        self._below = QHBoxLayout()
        outer.addLayout(self._below)
        self.back.setVisible(bool(back))  # only now has it a parent; before, it would be a window of its own

    def set_look(self, look: Look, width: int) -> None:
        """Take another theme or size of text; the keys stand below where there is no room beside the button."""
        margin = look.pixels(16)
        self._row.setSpacing(margin)
        is_narrow = width < look.pixels(800)
        edge = look.pixels(4 if is_narrow else 8)
        self._row.setContentsMargins(margin, edge, margin, edge)
        self._row.removeWidget(self._keys)
        self._below.removeWidget(self._keys)
        if is_narrow:
            self._below.addWidget(self._keys)
        else:
            self._row.insertWidget(2, self._keys, 3)
        self._below.setContentsMargins(margin, 0, margin, look.pixels(4) if is_narrow else 0)

    def say(self, words: str, *, refused: bool = False) -> None:
        """Say something once."""
        self.message.setObjectName("refusal" if refused else "quiet")
        self.message.style().unpolish(self.message)
        self.message.style().polish(self.message)
        self.message.setText(words)
