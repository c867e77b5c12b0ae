"""The inspector's page: everything on the card in reading order, what stands out and what is new beside it."""

from itertools import pairwise

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtGui import QHideEvent, QKeyEvent, QResizeEvent, QShowEvent
from PySide6.QtWidgets import QBoxLayout, QHBoxLayout, QLabel, QLineEdit, QPushButton, QVBoxLayout, QWidget

from desktop.viewmodels.signing.inspection import MARK_RINGS, InspectionSession
from desktop.windows.pieces.look import Look
from desktop.windows.pieces.page_foot import PageFoot
from desktop.windows.pieces.read_text import Line, ReadText

LOOK_EVERY_MS = 1500
BESIDE, SIDE_WIDTH = 1040, 420
KEYS = "PgDn: read on   Alt+S: reason   Alt+C: accept   Esc: back"


class InspectionPage(QWidget):
    """Shows one session."""

    back_asked = Signal()

    def __init__(self, session: InspectionSession, look: Look) -> None:
        super().__init__()
        self.setObjectName("ground")
        self.session = session
        session.setParent(self)
        self._look = look
        self._title = QLabel(session.title)
        self._title.setObjectName("title")
        self._whose = QLabel()
        self._whose.setObjectName("quiet")
        self._against = QLabel()
        for label in (self._title, self._whose, self._against):
            label.setWordWrap(True)
            label.setTextFormat(Qt.TextFormat.PlainText)
        self.text = ReadText("The card in reading order", look)
        self.side = ReadText("What stands out, and what is new", look)
        self.reason = QLineEdit()
        self.reason.setMaxLength(2000)
        self.reason.setAccessibleName("Reason for returning the card")
        self.reason.setPlaceholderText("needed to return the card")
        self._reason_label = QLabel("Rea&son")
        self._reason_label.setBuddy(self.reason)
        self.give_back = QPushButton("Re&turn to the mechanic")
        self.give_back.setAutoDefault(True)
        self.foot = PageFoot(f"A&ccept card {session.card}", KEYS, "Back to the order")
        self._build()
        self.reason.textEdited.connect(self._take_reason)
        self.reason.returnPressed.connect(self._return)
        self.give_back.clicked.connect(self._return)
        self.foot.act.clicked.connect(session.accept)
        self.foot.back.clicked.connect(self.back_asked)
        session.changed.connect(self.show_card)
        session.refused.connect(lambda words: self.foot.say(words, refused=True))
        self._timer = QTimer(self)
        self._timer.setInterval(LOOK_EVERY_MS)
        self._timer.timeout.connect(session.look)
        self.set_look(look)
        self.show_card()

    def _build(self) -> None:
        sheet = QWidget()
        sheet.setObjectName("sheet")
        self._column = QVBoxLayout(sheet)
        for label in (self._title, self._whose, self._against):
            self._column.addWidget(label)
        self._middle = QBoxLayout(QBoxLayout.Direction.LeftToRight)
        self._middle.addWidget(self.text, 3)
        self._middle.addWidget(self.side, 2)
        self._column.addLayout(self._middle, 1)
        self._row = QHBoxLayout()
        self._row.addWidget(self._reason_label)
        self._row.addWidget(self.reason, 1)
        self._row.addWidget(self.give_back)
        self._column.addLayout(self._row)
        outer = QVBoxLayout(self)
        outer.setContentsMargins(0, 0, 0, 0)
        outer.setSpacing(0)
        outer.addWidget(sheet, 1)
        outer.addWidget(self.foot)
        order = (self.text, self.side, self.reason, self.give_back, self.foot.act, self.foot.back)
        for one, other in pairwise(order):
            QWidget.setTabOrder(one, other)

    def set_look(self, look: Look) -> None:
        """Take another theme or size of text."""
        self._look = look
        margin = look.pixels(24)
        self._column.setContentsMargins(margin, look.pixels(12), margin, look.pixels(12))
        self._column.setSpacing(look.pixels(6))
        self._middle.setSpacing(look.pixels(16))
        self._row.setSpacing(look.pixels(12))
        self.text.set_look(look)
        self.side.set_look(look)
        self._arrange()
        self.show_card()

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802 - Qt's name
        """Arrange anew: what stands out stands beside the card where there is room, else above it."""
        super().resizeEvent(event)
        self._arrange()

    def showEvent(self, event: QShowEvent) -> None:  # noqa: N802 - Qt's name
        """Look for changes while the page is seen, and begin with the reading."""
        super().showEvent(event)
        self._timer.start()
        self.text.setFocus(Qt.FocusReason.OtherFocusReason)

    def hideEvent(self, event: QHideEvent) -> None:  # noqa: N802 - Qt's name
        """Look no more."""
        super().hideEvent(event)
        self._timer.stop()

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802 - Qt's name
        """Lead back."""
        if event.key() == Qt.Key.Key_Escape:
            self.back_asked.emit()
        else:
            super().keyPressEvent(event)

    def say(self, words: str, *, refused: bool = False) -> None:
        """Say something once at the foot."""
        self.foot.say(words, refused=refused)

    def go_on(self, reason: str) -> None:
        """Go on with a reason that was typed before."""
        self.session.reason = reason
        self.reason.setText(reason)

    def show_card(self) -> None:
        """Show the card as it is."""
        session = self.session
        self._whose.setText(session.whose)
        stops = session.read.stops
        self._against.setText("Against accepting it: " + " ".join(stops) if stops else "")
        self._against.setStyleSheet(f"color: {self._look.colours.stop}; font-weight: bold")
        self._against.setVisible(bool(stops))
        self.text.show_sections(
            (
                section.title,
                tuple(
                    (row.label, row.text, tuple((m.value, MARK_RINGS[m]) for m in row.marks)) for row in section.rows
                ),
            )
            for section in session.read.sections
        )
        self.side.show_sections(self._beside())
        self.reason.setEnabled(session.is_for_inspection)
        self.give_back.setEnabled(session.is_for_inspection)
        self.foot.act.setEnabled(session.is_for_inspection)
        if not self.reason.hasFocus():
            self.reason.setText(session.reason)

    def _beside(self) -> tuple[tuple[str, tuple[Line, ...]], ...]:
        session = self.session
        counts = tuple((f"{count}", mark.value, ((mark.value, MARK_RINGS[mark]),)) for mark, count in session.counts())
        rows = tuple(
            (row.label, row.text, tuple((mark.value, MARK_RINGS[mark]) for mark in row.marks))
            for row in session.standing_out()
        )
        out: tuple[Line, ...] = rows or (("Stands out", "nothing", ()),)
        new: tuple[Line, ...] = (("Last return", session.returned_words(), ()),)
        new += tuple(("New", words, ()) for words in session.changed_words())
        title = ", ".join(f"{count} {word}" for count, word, _ in counts)
        return (("Since the last return", new), (f"Stands out: {title}" if title else "Stands out", out))

    def _arrange(self) -> None:
        look, width = self._look, self.width()
        is_wide = width >= look.pixels(BESIDE)
        self._middle.setDirection(QBoxLayout.Direction.LeftToRight if is_wide else QBoxLayout.Direction.BottomToTop)
        self.foot.set_look(look, width)

    def _take_reason(self, text: str) -> None:
        self.session.reason = text

    def _return(self) -> None:
        self.session.reason = self.reason.text()
        self.session.give_back()
