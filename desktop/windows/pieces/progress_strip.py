"""How far a long work is, in words and in a bar, and a way to stop it."""

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QHBoxLayout, QLabel, QProgressBar, QPushButton, QWidget

from desktop.windows.pieces.look import Look

BAR = 240


class ProgressStrip(QWidget):
    """Shown while the work is under way. ``stop_asked`` comes from its button; the work itself says when it ends."""

    stop_asked = Signal()

    def __init__(self, look: Look) -> None:
        super().__init__()
        self.words = QLabel()
        self.words.setTextFormat(Qt.TextFormat.PlainText)
        self.words.setWordWrap(True)
        self.bar = QProgressBar()
        self.bar.setTextVisible(False)
        self.stop = QPushButton("&Stop")
        self.stop.setAutoDefault(True)
        self.stop.clicked.connect(self._ask)
        self._name = ""
        self._row = QHBoxLayout(self)
        self._row.setContentsMargins(0, 0, 0, 0)
        self._row.addWidget(self.words, 1)
        self._row.addWidget(self.bar)
        self._row.addWidget(self.stop)
        self.set_look(look)

    def set_look(self, look: Look) -> None:
        """Take another theme or size of text."""
        c = look.colours
        self._row.setSpacing(look.pixels(16))
        self.bar.setFixedSize(look.pixels(BAR), look.pixels(16))
        self.bar.setStyleSheet(
            f"QProgressBar {{ background: {c.sheet}; border: 1px solid {c.quiet}; }}"
            f"QProgressBar::chunk {{ background: {c.act}; }}"
        )

    def begin(self, name: str, *, can_stop: bool) -> None:
        """Show that a work began; ``name`` says what is being done."""
        self._name = name
        self.words.setText(f"{name}…")
        self.bar.setAccessibleName(f"{name}: how far it is")
        self.bar.setRange(0, 0)
        self.stop.setVisible(can_stop)
        self.stop.setEnabled(True)
        self.show()

    def show_pace(self, done: int, of: int) -> None:
        """Show how much is done, and of how much; while it is being stopped, that stays said."""
        self.bar.setRange(0, max(of, 1))
        self.bar.setValue(done)
        if self.stop.isEnabled():
            self.words.setText(f"{self._name}: {done} of {of}")

    def end(self) -> None:
        """Show nothing any more."""
        self.hide()

    def _ask(self) -> None:
        self.stop.setEnabled(False)
        self.words.setText("Stopping…")
        self.stop_asked.emit()
