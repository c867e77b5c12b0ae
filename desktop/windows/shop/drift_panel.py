"""The drift of one magneto: its picture and forecast, and its visits in a table beside or below."""

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent, QResizeEvent
from PySide6.QtWidgets import QBoxLayout, QLabel, QScrollArea, QVBoxLayout, QWidget

from desktop.viewmodels.shop.drift_desk import NO_VISITS, DriftDesk
from desktop.windows.lists.list_table import ListTable
from desktop.windows.pieces.look import Look
from desktop.windows.pieces.page_foot import PageFoot
from desktop.windows.pieces.painter import DrawingView

BESIDE = 1180
TABLE_NARROW = 1160
TABLE_HEIGHT = 360
CAUTION = (
    "A forecast is no interval: when the magneto is looked at next is for the approved data and the licensed person."
)
READING = "Reading the orders that name this magneto."


class DriftPanel(QWidget):
    """Shows the magneto that a desk looks at; Escape or the button leads back."""

    back_asked = Signal()

    def __init__(self, desk: DriftDesk, back: str, look: Look) -> None:
        super().__init__()
        self.setObjectName("ground")
        self._desk = desk
        self._look = look
        self._title = QLabel()
        self._title.setObjectName("title")
        self._words = QLabel()
        self._caution = QLabel(CAUTION)
        self._caution.setObjectName("quiet")
        self._empty_title = QLabel(NO_VISITS[0])
        self._empty_title.setObjectName("group")
        self._empty = QLabel(NO_VISITS[1])
        self._empty.setObjectName("quiet")
        for label in (self._title, self._words, self._caution, self._empty):
            label.setWordWrap(True)
            label.setTextFormat(Qt.TextFormat.PlainText)
        self.picture = DrawingView(look)
        self.picture.setAccessibleName("Drift")
        self.table = ListTable(desk.model, "Visits", look)
        self.foot = PageFoot(back, "Esc: back   Up, Down: visits   Tab: on")
        self._build()
        self.foot.act.clicked.connect(self.back_asked)
        desk.history_changed.connect(self.show_history)
        desk.refused.connect(lambda words: self.foot.say(words, refused=True))
        self.set_look(look)
        self.show_history()

    def _build(self) -> None:
        self._inside = QWidget()
        self._inside.setObjectName("sheet")
        self._sheet = QVBoxLayout(self._inside)
        for widget in (self._title, self._words, self._caution, self._empty_title, self._empty):
            self._sheet.addWidget(widget)
        self._middle = QBoxLayout(QBoxLayout.Direction.LeftToRight)
        self._middle.addWidget(self.picture, 0, Qt.AlignmentFlag.AlignTop | Qt.AlignmentFlag.AlignLeft)
        self._middle.addWidget(self.table, 1)
        self._sheet.addLayout(self._middle, 1)
        self.area = QScrollArea()
        self.area.setObjectName("sheet")
        self.area.setAccessibleName("Drift and visits")
        self.area.setWidgetResizable(True)
        self.area.setFocusPolicy(Qt.FocusPolicy.StrongFocus)  # its keys scroll to what has no room
        self.area.setWidget(self._inside)
        outer = QVBoxLayout(self)
        outer.setContentsMargins(0, 0, 0, 0)
        outer.setSpacing(0)
        outer.addWidget(self.area, 1)
        outer.addWidget(self.foot)

    def set_look(self, look: Look) -> None:
        """Take another theme or size of text."""
        self._look = look
        margin = look.pixels(24)
        self._sheet.setContentsMargins(margin, look.pixels(16), margin, look.pixels(16))
        self._sheet.setSpacing(look.pixels(8))
        self._middle.setSpacing(margin)
        self.picture.set_look(look)
        self._empty.setMaximumWidth(look.pixels(640))
        self._arrange()

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802 - Qt's name
        """Arrange anew: the table stands under the picture where it has no room beside it."""
        super().resizeEvent(event)
        self._arrange()

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802 - Qt's name
        """Lead back."""
        if event.key() == Qt.Key.Key_Escape:
            self.back_asked.emit()
        else:
            super().keyPressEvent(event)

    def show_history(self) -> None:
        """Show the visits as they were read."""
        desk, drawing = self._desk, self._desk.drawing()
        self._title.setText(f"Magneto {desk.serial}")
        words = desk.words()
        self._words.setText("\n".join(words))
        self._words.setVisible(bool(words))
        self._caution.setVisible(drawing is not None)
        is_empty = drawing is None and not desk.is_busy
        self._empty_title.setVisible(is_empty)
        self._empty.setVisible(is_empty)
        self.picture.show_drawing(drawing)
        self.table.setVisible(desk.model.rowCount() > 0)
        self.table.choose_first()
        self.foot.say(READING if desk.is_busy else "")
        self._arrange()
        self.take_keys()

    def take_keys(self) -> None:
        """Put the keyboard into the visits, to the picture where it has to be scrolled, or else on the button."""
        if not self.isVisible():
            return
        target: QWidget = self.table if self._desk.model.rowCount() else self.foot.act
        is_stacked = self._middle.direction() is QBoxLayout.Direction.TopToBottom
        if self.picture.drawing is not None and is_stacked:
            target = self.area
        target.setFocus(Qt.FocusReason.OtherFocusReason)

    def _arrange(self) -> None:
        look, width = self._look, self.width()
        is_wide = width >= look.pixels(BESIDE) or self.picture.drawing is None
        way = QBoxLayout.Direction.LeftToRight if is_wide else QBoxLayout.Direction.TopToBottom
        self._middle.setDirection(way)
        room = width - 2 * look.pixels(24)
        if self.picture.drawing is not None and is_wide:
            room -= self.picture.sizeHint().width() + look.pixels(24)
        self.table.set_look(look, room, narrow_below=TABLE_NARROW)
        self.table.setMinimumHeight(look.pixels(TABLE_HEIGHT if is_wide else TABLE_HEIGHT // 2))
        self.foot.set_look(look, width)
