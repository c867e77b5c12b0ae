"""Findings and verdicts: said by word and by the shape of a ring, with a bar at the edge; colour is added."""

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLabel, QSizePolicy, QVBoxLayout, QWidget

from desktop.core.rules.rulebook import SaidFinding
from desktop.core.words import where_words
from desktop.viewmodels.pieces.card_words import Progress, Verdict
from desktop.windows.pieces.look import Look

_WORDS = {"stops": "Stops.", "explain": "Reason needed.", "note": "Note."}


class Ring(QWidget):
    """A ring: closed when done, half when open, crossed when something stops, thin when nothing is there yet."""

    def __init__(self, progress: Progress, look: Look, size: int = 14) -> None:
        super().__init__()
        self._progress = progress
        self._look = look
        self._side = look.pixels(size)
        self.setFixedSize(QSize(self._side, self._side))
        self.setAccessibleName(progress.value)

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: N802, ARG002 - Qt's name and signature
        """Paint the ring."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        paint_ring(painter, QRectF(0, 0, self._side, self._side), self._progress, self._look)
        painter.end()


def ring_colour(progress: Progress, look: Look) -> str:
    """Return the colour that is added to a ring and its word."""
    c = look.colours
    return {Progress.EMPTY: c.quiet, Progress.OPEN: c.ask, Progress.DONE: c.good, Progress.STOPS: c.stop}[progress]


def paint_ring(painter: QPainter, room: QRectF, progress: Progress, look: Look) -> None:
    """Paint a ring of a progress into a square."""
    colour = ring_colour(progress, look)
    width = 1.0 if progress is Progress.EMPTY else room.width() / 8
    ring = room.adjusted(width, width, -width, -width)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.setPen(QPen(QColor(colour), width))
    if progress is Progress.OPEN:
        painter.drawArc(ring, -90 * 16, 180 * 16)
        return
    painter.drawEllipse(ring)
    if progress is Progress.DONE:
        painter.setBrush(QColor(colour))
        painter.setPen(Qt.PenStyle.NoPen)
        painter.drawEllipse(room.center(), room.width() / 7, room.width() / 7)
    if progress is Progress.STOPS:
        inner = ring.adjusted(ring.width() / 4.5, ring.width() / 4.5, -ring.width() / 4.5, -ring.width() / 4.5)
        painter.drawLine(inner.topLeft(), inner.bottomRight())
        painter.drawLine(QPointF(inner.right(), inner.top()), QPointF(inner.left(), inner.bottom()))


class VerdictView(QWidget):
    """A verdict: ring, large words, and the lines below."""

    def __init__(self, verdict: Verdict, look: Look, points: int = 20) -> None:
        super().__init__()
        outer = QVBoxLayout(self)
        outer.setContentsMargins(0, 0, 0, 0)
        outer.setSpacing(look.pixels(4))
        head = QHBoxLayout()
        head.setSpacing(look.pixels(12))
        head.addWidget(Ring(verdict.progress, look, 20), 0, Qt.AlignmentFlag.AlignVCenter)
        words = QLabel(verdict.words)
        words.setWordWrap(True)
        colour = ring_colour(verdict.progress, look)
        words.setStyleSheet(f"color: {colour}; font-size: {look.points(points)}pt; font-weight: bold")
        head.addWidget(words, 1)
        outer.addLayout(head)
        for line in verdict.lines:
            label = QLabel(line)
            label.setWordWrap(True)
            outer.addWidget(label)


class FindingView(QFrame):
    """A finding: a bar at the edge, its word, its sentence, where the rule comes from."""

    def __init__(self, finding: SaidFinding, look: Look) -> None:
        super().__init__()
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(look.pixels(12))
        bar = QFrame()
        bar.setObjectName(f"edge-{finding.severity}")
        bar.setFixedWidth(look.pixels(4))
        row.addWidget(bar)
        column = QVBoxLayout()
        column.setSpacing(look.pixels(2))
        c = look.colours
        colour = {"stops": c.stop, "explain": c.ask}.get(finding.severity, c.ink)
        word = QLabel(_WORDS[finding.severity])
        word.setStyleSheet(f"color: {colour}; font-weight: bold")
        sentence = QLabel(finding.sentence)
        sentence.setWordWrap(True)
        source = QLabel(f"{where_words(finding.where).capitalize()}. {finding.source}")
        source.setObjectName("small")
        source.setWordWrap(True)
        for label in (word, sentence, source):
            label.setTextFormat(Qt.TextFormat.PlainText)
            column.addWidget(label)
        row.addLayout(column, 1)
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Minimum)
        self.setAccessibleName(f"{_WORDS[finding.severity]} {finding.sentence}")
