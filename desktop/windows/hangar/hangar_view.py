"""The hangar view of a card: full screen, for three metres and gloves, from the propeller."""

import math

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtGui import QCloseEvent, QFont, QKeyEvent, QResizeEvent
from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QPushButton, QSizePolicy, QStackedWidget, QVBoxLayout, QWidget

from desktop.core.timing.readings import Side
from desktop.viewmodels.card.form_session import FormSession
from desktop.viewmodels.hangar.hangar import HangarDesk
from desktop.viewmodels.hangar.hangar_shown import Hangar
from desktop.windows.hangar.hangar_boxes import FROM_AFAR, BoxesView
from desktop.windows.hangar.hangar_fit import FitText, room_of
from desktop.windows.hangar.hangar_parts import LABEL, EntryView, SafeBand, TileView, TurnView, VerdictBand
from desktop.windows.pieces.look import Look
from desktop.windows.pieces.painter import DrawingView

EDGE, GAP = 12, 6
TARGET = 48
"""The least side of what is pressed, in pixels: with gloves on."""

_STEPS = {
    Qt.Key.Key_Space: 1,
    Qt.Key.Key_PageDown: 1,
    Qt.Key.Key_Right: 1,
    Qt.Key.Key_PageUp: -1,
    Qt.Key.Key_Left: -1,
}
_FIELDS = {Qt.Key.Key_Down: 1, Qt.Key.Key_Up: -1}
INSTRUCTION = (28, 24)
"""Points of the instruction beside the numbers: smaller where it then takes one line."""
ROOMY = 570
"""Pixels beside hazards, instruction and buttons below which the keys and the small scale give way to the numbers."""
_LEAVE = (Qt.Key.Key_Escape, Qt.Key.Key_F11)
KEYS = "Enter keep   Backspace rub out   Up, Down field   * boxes   Ctrl+L colours"


class _Picture(DrawingView):
    """A drawing that takes what room there is, and keeps its proportions."""

    def __init__(self, look: Look) -> None:
        super().__init__(look)
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Ignored)

    def set_look(self, look: Look) -> None:
        """Take another theme; lines are heavy enough for a large picture at every size of text."""
        super().set_look(Look(look.colours, 150))

    def sizeHint(self) -> QSize:  # noqa: N802 - Qt's name
        """Return nearly nothing: it takes what is given."""
        return QSize(1, 1)

    def minimumSizeHint(self) -> QSize:  # noqa: N802 - Qt's name
        """Return the same."""
        return QSize(1, 1)


class HangarView(QWidget):
    """A window of its own over a card. ``left`` carries the number of the place where it was left."""

    left = Signal(int)

    def __init__(self, session: FormSession, look: Look, number: int, side: Side | None, parent: QWidget) -> None:
        super().__init__(parent, Qt.WindowType.Window)
        self.setObjectName("ground")
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.setAttribute(Qt.WidgetAttribute.WA_StyledBackground)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setWindowTitle("Hangar view · Sparkwright")
        self.setAccessibleName("Hangar view")
        self.look = look
        self.desk = HangarDesk(session, number, side, self)
        self.safe = SafeBand(look)
        self.turn = TurnView(look)
        self.tiles = (TileView(look), TileView(look), TileView(look))
        self.entry = EntryView(look, is_wide=False)
        self.words_entry = EntryView(look, is_wide=True)
        self.verdict = VerdictBand(look)
        self.message = FitText(look, most=28)
        self.instruction = FitText(look, most=28, bold=True)
        self.hazards = BoxesView(look, only_hazards=True)
        self.whole_instruction = FitText(look, most=66, bold=True)
        self.rotation = TurnView(look)
        self.more = FitText(look, most=28, role="quiet")
        self.boxes = BoxesView(look, only_hazards=False)
        self.dial = _Picture(look)
        self.magnified = _Picture(look)
        self.count = FitText(look, most=20)
        self.keys = FitText(look, most=20, role="quiet")
        self.keys.set_words(KEYS)
        self.leave_button = self._button("Leave   Esc", self.close)
        self.back_button = self._button("Back   Page Up", lambda: self.desk.step(-1))
        self.next_button = self._button("Next step   Space", lambda: self.desk.step(1))
        self.next_button.setObjectName("act")
        for name, view in (("Dial", self.dial), ("Around nominal", self.magnified)):
            view.setAccessibleName(name)
        self._build()
        self.set_look(look)
        self.desk.changed.connect(self._show)
        self._show(self.desk.shown())

    def _button(self, words: str, act: object) -> QPushButton:
        button = QPushButton(words)
        button.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        button.clicked.connect(act)
        return button

    def _build(self) -> None:
        self._stack = QStackedWidget()
        self._work, self._words = QWidget(), QWidget()
        for page in (self._work, self._words):
            self._stack.addWidget(page)
        self._build_work()
        self._build_words()
        foot = QHBoxLayout()
        foot.setSpacing(EDGE)
        foot.addWidget(self.leave_button)
        foot.addWidget(self.back_button)
        foot.addWidget(self.count, 1)
        foot.addWidget(self.next_button)
        outer = QVBoxLayout(self)
        outer.setContentsMargins(EDGE, EDGE, EDGE, EDGE)
        outer.setSpacing(GAP)
        outer.addWidget(self.safe, 8)
        outer.addWidget(self._stack, 92)
        self.keys.set_height(30)
        outer.addWidget(self.keys)
        outer.addLayout(foot)

    def _build_work(self) -> None:
        whole = QVBoxLayout(self._work)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.setSpacing(GAP)
        pictures = QVBoxLayout()
        pictures.setSpacing(0)
        pictures.addWidget(self.dial, 300)
        pictures.addWidget(self.magnified, 110)
        grid = QGridLayout()
        grid.setSpacing(GAP)
        grid.addWidget(self.tiles[0], 0, 0)
        grid.addWidget(self.tiles[1], 0, 1)
        grid.addWidget(self.tiles[2], 1, 0)
        grid.addWidget(self.entry, 1, 1)
        for place in (0, 1):
            grid.setColumnStretch(place, 1)
        grid.setRowStretch(0, 10)
        grid.setRowStretch(1, 11)
        column = QVBoxLayout()
        column.setSpacing(GAP)
        column.addWidget(self.turn, 168)
        column.addLayout(grid, 375)
        column.addWidget(self.verdict, 178)
        row = QHBoxLayout()
        row.setSpacing(24)
        row.addLayout(pictures, 36)
        row.addLayout(column, 64)
        whole.addWidget(self.instruction)
        whole.addWidget(self.hazards)
        whole.addLayout(row, 1)

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802 - Qt's name
        """Give instruction and hazards the height that they need to be read from afar."""
        super().resizeEvent(event)
        self._give_heights()

    def _give_heights(self) -> None:
        """Give the instruction and the hazards the height that their sentences need, the numbers the rest."""
        width = self.width() - 2 * EDGE
        words, large = self.instruction.words, _instructing(INSTRUCTION[0])
        font = next((one for one in map(_instructing, INSTRUCTION) if _is_a_line(words, one, width)), large)
        lines = room_of(words, font, width)
        self.instruction.set_height(math.ceil(lines.height()))
        self.hazards.set_height(self.hazards.height_at(FROM_AFAR, width))
        room = self.height() - self.next_button.minimumHeight() - self.instruction.height() - self.hazards.height()
        is_tight = self._stack.currentWidget() is self._work and room < ROOMY
        self.keys.setVisible(not is_tight)
        self.magnified.setVisible(not is_tight and self.magnified.drawing is not None)

    def _build_words(self) -> None:
        column = QVBoxLayout(self._words)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(GAP)
        column.addWidget(self.whole_instruction, 22)
        column.addWidget(self.more, 14)
        column.addWidget(self.rotation, 13)
        column.addWidget(self.boxes, 48)
        column.addWidget(self.words_entry, 18)
        column.addWidget(self.message, 6)

    def set_look(self, look: Look) -> None:
        """Take another theme or size of text: what fits its box keeps its size, labels and buttons follow."""
        self.look = look
        self.setStyleSheet(look.sheet())
        for part in (
            *(self.safe, self.turn, *self.tiles, self.entry, self.words_entry, self.verdict, self.message),
            *(self.instruction, self.hazards, self.whole_instruction, self.more, self.rotation, self.boxes),
            *(self.dial, self.magnified, self.count, self.keys),
        ):
            part.set_look(look)
        for button in (self.leave_button, self.back_button, self.next_button):
            button.setMinimumHeight(max(TARGET, look.pixels(40)))
            button.setStyleSheet(f"font-size: {max(LABEL, look.points(11))}pt")
        self.update()

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802 - Qt's name
        """Take the keys of a keypad, a space bar and a presenter's remote; a key that is held does it once."""
        key, held = Qt.Key(event.key()), event.modifiers() & ~Qt.KeyboardModifier.KeypadModifier
        if held & Qt.KeyboardModifier.ControlModifier:
            self._take_held(key)
        elif event.isAutoRepeat() and key != Qt.Key.Key_Backspace:
            return
        elif key in _LEAVE:
            self.close()
        elif key in _STEPS:
            self.desk.step(_STEPS[key])
        elif key in _FIELDS:
            self.desk.move(_FIELDS[key])
        elif key in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.desk.enter()
        elif key in (Qt.Key.Key_Backspace, Qt.Key.Key_Delete):
            self.desk.rub_out()
        elif event.text() == "*":
            self.desk.show_boxes()
        elif event.text() and event.text() in "0123456789.,+-/":
            self.desk.type("." if event.text() == "," else event.text())
        else:
            super().keyPressEvent(event)

    def closeEvent(self, event: QCloseEvent) -> None:  # noqa: N802 - Qt's name
        """Let go of the card and say where it was left."""
        self.desk.leave()
        self.left.emit(self.desk.number)
        super().closeEvent(event)

    def _take_held(self, key: Qt.Key) -> None:
        if key == Qt.Key.Key_L:
            self.set_look(self.look.other_theme())
        elif key in (Qt.Key.Key_Plus, Qt.Key.Key_Equal, Qt.Key.Key_Minus):
            self.set_look(self.look.resized(-1 if key == Qt.Key.Key_Minus else 1))

    def _show(self, hangar: Hangar) -> None:
        """Show everything of the present step."""
        self._stack.setCurrentWidget(self._work if hangar.is_work else self._words)
        self.safe.show_safe(hangar.safe)
        self.turn.show_turning(hangar.turning)
        for view, tile in zip(self.tiles, hangar.tiles, strict=True):
            view.show_tile(tile)
        self.entry.show_entry(hangar.entry)
        self.words_entry.show_entry(None if hangar.next_words == "the readings" else hangar.entry)
        self.verdict.show_verdict(hangar.verdict, hangar.reason, hangar.message, is_refused=hangar.is_refused)
        self.message.set_words(hangar.message, "stop" if hangar.is_refused else "ink")
        place = hangar.place
        self.instruction.set_words(place.task)
        self.hazards.show_boxes(place.boxes)
        self.whole_instruction.set_words(place.task)
        self.more.set_words(hangar.more)
        self.more.setVisible(bool(hangar.more))
        self.rotation.show_turning(hangar.rotation)
        self.rotation.setVisible(hangar.rotation is not None)
        self.boxes.show_boxes(place.boxes)
        self.dial.show_drawing(hangar.pictures.dial)
        self.magnified.show_drawing(hangar.pictures.magnified)
        self._give_heights()
        then = f"   then: {hangar.next_words}" if hangar.next_words else ""
        self.count.set_words(f"{hangar.count}   {place.title}{then}")


def _instructing(size: float) -> QFont:
    return Look().font(size, bold=True)


def _is_a_line(words: str, font: QFont, width: float) -> bool:
    return room_of(words, font, width).height() <= room_of("X", font, width).height()
