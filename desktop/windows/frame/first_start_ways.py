"""What one can do at the first start instead of making a shop."""

from PySide6.QtCore import QEvent, QObject, Signal
from PySide6.QtWidgets import QBoxLayout, QLabel, QPushButton, QVBoxLayout, QWidget

from desktop.windows.pieces.look import Look

DEMO, OPEN, CARD = "&Look round the demo", "&Open a shop file…", "One card, &without a shop"
RESTORE = "&Restore a copy"
INSTEAD = "Or instead"
ONE_LINE = 860


class OtherWays(QWidget):
    """The other ways in one line, or one below the other where there is no room.

    ``reached`` carries the button that has the keyboard, so that it is brought into sight.
    """

    demo_asked = Signal()
    restore_asked = Signal()
    open_asked = Signal()
    card_asked = Signal()
    reached = Signal(object)

    def __init__(self, *, has_demo: bool) -> None:
        super().__init__()
        words = QLabel(INSTEAD)
        words.setObjectName("quiet")
        self.demo, self.restore = QPushButton(DEMO), QPushButton(RESTORE)
        self.open, self.card = QPushButton(OPEN), QPushButton(CARD)
        self.buttons = (self.demo, self.restore, self.open, self.card)
        self._row = QBoxLayout(QBoxLayout.Direction.LeftToRight)
        for button in self.buttons:
            button.setAutoDefault(True)
            button.installEventFilter(self)
            self._row.addWidget(button)
        self._row.addStretch(1)
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.addWidget(words)
        self._column.addLayout(self._row)
        self.demo.setVisible(has_demo)
        asks = (self.demo_asked, self.restore_asked, self.open_asked, self.card_asked)
        for button, asked in zip(self.buttons, asks, strict=True):
            button.clicked.connect(asked)

    def set_look(self, look: Look, width: int) -> None:
        """Take another theme or size of text, and the width there is."""
        self._row.setSpacing(look.pixels(12))
        self._column.setSpacing(look.pixels(8))
        way = QBoxLayout.Direction
        self._row.setDirection(way.LeftToRight if width >= look.pixels(ONE_LINE) else way.TopToBottom)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:  # noqa: N802 - Qt's name
        """Say which button has the keyboard."""
        if event.type() == QEvent.Type.FocusIn:
            self.reached.emit(watched)
        return super().eventFilter(watched, event)
