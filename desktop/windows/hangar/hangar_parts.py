"""The parts of the hangar view: the way to turn, numbers, what is typed, the verdict, the safe state."""

from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from desktop.viewmodels.hangar.hangar_shown import Entry
from desktop.viewmodels.hangar.hangar_words import Tile, Turning
from desktop.viewmodels.pieces.board_words import LIVE
from desktop.viewmodels.pieces.card_words import Progress, Verdict
from desktop.windows.hangar.hangar_fit import FitText
from desktop.windows.pieces.finding_list import paint_ring
from desktop.windows.pieces.look import Look
from desktop.windows.pieces.painter import paint_drawing
from reports.drawing import Arc, Arrow, Drawing, Stroke

LABEL = 16
HINT = 24
WAY_UNKNOWN = "The way to turn is not known yet"
_SIDE = 100.0


def turn_drawing(*, is_clockwise: bool) -> Drawing:
    """Return three quarters of a circle with an arrow's head: the way to turn."""
    sign = 1.0 if is_clockwise else -1.0
    arc = Arc(_SIDE / 2, _SIDE / 2, 38.0, -135.0 * sign, 270.0 * sign, Stroke("heavy", "act"))
    return Drawing(_SIDE, _SIDE, (Arrow(arc, 30.0),), "clockwise" if is_clockwise else "counter-clockwise")


class _TurnSign(QWidget):
    """The arrow alone."""

    def __init__(self, look: Look) -> None:
        super().__init__()
        self.look = look
        self.drawing: Drawing | None = None

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: N802, ARG002 - Qt's name and signature
        """Paint the arrow in proportion."""
        if self.drawing is None:
            return
        factor = min(self.width(), self.height()) / _SIDE
        with QPainter(self) as painter:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            painter.translate((self.width() - _SIDE * factor) / 2, (self.height() - _SIDE * factor) / 2)
            paint_drawing(painter, self.drawing, factor, Look(self.look.colours, 200))


class TurnView(QWidget):
    """The way to turn the propeller now, by arrow and by word, as one faces it."""

    def __init__(self, look: Look) -> None:
        super().__init__()
        self._sign = _TurnSign(look)
        self.way = FitText(look, bold=True, role="act")
        self.how = FitText(look, most=28)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        column = QVBoxLayout()
        column.setSpacing(0)
        column.addWidget(self.way, 68)
        column.addWidget(self.how, 32)
        row.addWidget(self._sign)
        row.addLayout(column, 1)
        self.set_look(look)

    def set_look(self, look: Look) -> None:
        """Take another theme or size of text."""
        self._sign.look = look
        self._sign.setFixedWidth(104)
        self.way.set_look(look)
        self.how.set_look(look)
        self.update()

    def show_turning(self, turning: Turning | None) -> None:
        """Show the way to turn; without the engine's data it is not known."""
        self._sign.drawing = turn_drawing(is_clockwise=turning.is_clockwise) if turning else None
        self._sign.setVisible(turning is not None)
        self.way.set_words(turning.way if turning else WAY_UNKNOWN, "act" if turning else "quiet")
        self.how.set_words(f"{turning.how}; as you face the propeller" if turning else "")
        self.how.setVisible(turning is not None)
        self._sign.update()


class TileView(QWidget):
    """A number as large as it fits, and above it what it is."""

    def __init__(self, look: Look) -> None:
        super().__init__()
        self._column = QVBoxLayout(self)
        self._column.setSpacing(0)
        self.label = FitText(look, role="quiet")
        self.value = FitText(look, most=80, bold=True)
        self._row = QHBoxLayout()
        self._row.addWidget(self.value, 1)
        self._column.addWidget(self.label)
        self._column.addLayout(self._row, 1)
        self._column.setContentsMargins(12, 3, 12, 3)
        self._look = look
        self.set_look(look)

    def set_look(self, look: Look) -> None:
        """Take another theme or size of text."""
        self._look = look
        self.label.set_height(30)
        self.label.set_look(look)
        self.value.set_look(look)

    def show_tile(self, tile: Tile) -> None:
        """Show a number."""
        self.label.set_words(tile.label)
        self.value.set_words(tile.words, "ink")

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: N802, ARG002 - Qt's name and signature
        """Paint a thin rule above."""
        with QPainter(self) as painter:
            painter.fillRect(0, 0, self.width(), 1, QColor(self._look.colours.line))


class EntryView(TileView):
    """The field that figures go into; its frame is heavy, and its mark at the end of the text stands still."""

    def __init__(self, look: Look, *, is_wide: bool) -> None:
        self.hint = FitText(look, most=28 if is_wide else HINT, role="quiet")
        super().__init__(look)
        self._row.setStretch(0, 3)
        self._row.addWidget(self.hint, 6 if is_wide else 2)

    def set_look(self, look: Look) -> None:
        """Take another theme or size of text."""
        super().set_look(look)
        self.hint.set_look(look)

    def show_entry(self, entry: Entry | None) -> None:
        """Show what is typed; before the first figure, what stands in the field."""
        self.setVisible(entry is not None)
        if entry is None:
            return
        self.label.set_words(entry.label)
        self.value.set_words(f"{entry.echo}_" if entry.echo else (entry.stands or "_"), "act" if entry.echo else "ink")
        self.value.setAccessibleName(entry.echo or entry.stands or "empty")
        self.hint.set_words(entry.hint)

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: N802, ARG002 - Qt's name and signature
        """Paint the frame."""
        with QPainter(self) as painter:
            painter.setPen(QPen(QColor(self._look.colours.act), 3))
            painter.setBrush(QColor(self._look.colours.sheet))
            painter.drawRect(QRectF(self.rect()).adjusted(1.5, 1.5, -1.5, -1.5))


class VerdictBand(QWidget):
    """Ring and verdict large; below them the reason, or what is to be said now."""

    def __init__(self, look: Look) -> None:
        super().__init__()
        self._look = look
        self._progress = Progress.EMPTY
        self.words = FitText(look, most=66, bold=True)
        self.reason = FitText(look, most=28)
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(0)
        row = QHBoxLayout()
        row.addSpacing(68)
        row.addWidget(self.words, 1)
        self._column.addLayout(row, 68)
        self._column.addWidget(self.reason, 32)

    def set_look(self, look: Look) -> None:
        """Take another theme or size of text."""
        self._look = look
        self.words.set_look(look)
        self.reason.set_look(look)

    def show_verdict(self, verdict: Verdict, reason: str, message: str, *, is_refused: bool) -> None:
        """Show a verdict; a message stands in the place of its reason."""
        self._progress = verdict.progress
        roles = {Progress.EMPTY: "quiet", Progress.OPEN: "ask", Progress.DONE: "good", Progress.STOPS: "stop"}
        self.words.set_words(verdict.words, roles[verdict.progress])
        self.reason.set_words(message or reason, "stop" if message and is_refused else "ink")
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: N802, ARG002 - Qt's name and signature
        """Paint the ring on the middle of the words."""
        side = min(52.0, self.words.height() - 8.0)
        with QPainter(self) as painter:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            top = self.words.y() + (self.words.height() - side) / 2
            paint_ring(painter, QRectF(4, top, side, side), self._progress, self._look)


class SafeBand(QWidget):
    """What is not as it flies, in a heavy frame; a thin rule when all is normal."""

    def __init__(self, look: Look) -> None:
        super().__init__()
        self._look = look
        self._is_open = False
        self._progress: Progress | None = None
        self.words = FitText(look, most=44, bold=True)
        row = QHBoxLayout(self)
        row.setContentsMargins(76, 6, 16, 6)
        row.addWidget(self.words)

    def set_look(self, look: Look) -> None:
        """Take another theme or size of text."""
        self._look = look
        self.words.set_look(look)

    def show_safe(self, safe: tuple[str, ...] | None) -> None:
        """Show the safe state in ink: as it flies is no safe state, and leads off make turning safer."""
        self._is_open = safe is None or bool(safe)
        if safe is None:
            self._progress = Progress.STOPS
            self.words.set_words("This card has no safe-state board. Every propeller is live.", "stop")
        elif safe:
            self._progress = Progress.OPEN
            self.words.set_words(f"Not as it flies: {', '.join(safe)}", "ink")
        else:
            self._progress = None
            self.words.set_words(LIVE, "ink")
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: N802, ARG002 - Qt's name and signature
        """Paint frame and ring."""
        with QPainter(self) as painter:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            ink = self._look.colours.stop if self._progress is Progress.STOPS else self._look.colours.ink
            pen = QPen(QColor(ink), 3 if self._is_open else 1)
            pen.setJoinStyle(Qt.PenJoinStyle.MiterJoin)
            painter.setPen(pen)
            painter.drawRect(QRectF(self.rect()).adjusted(1.5, 1.5, -1.5, -1.5))
            if self._progress is not None:
                side = min(44.0, self.height() - 16.0)
                paint_ring(painter, QRectF(18, (self.height() - side) / 2, side, side), self._progress, self._look)
