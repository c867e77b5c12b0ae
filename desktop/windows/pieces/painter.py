"""Paints drawings on the screen: the same values that are painted on paper."""

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QBrush, QColor, QFont, QFontMetricsF, QPainter, QPaintEvent, QPen, QPolygonF
from PySide6.QtWidgets import QSizePolicy, QWidget

from desktop.windows.pieces.look import CODE_FAMILY, TEXT_FAMILY, Look
from reports.drawing import (
    STROKE_POINTS,
    Arc,
    Arrow,
    Circle,
    Drawing,
    HatchedBox,
    HatchedRing,
    Line,
    Polygon,
    Shape,
    Stroke,
    Words,
    arrow_parts,
    hatch_lines,
)

PIXELS_A_POINT = 4 / 3  # at 96 pixels an inch, the unit of the whole layout
_SIXTEENTHS = 16
_BEFORE = {"start": 0.0, "middle": 0.5, "end": 1.0}


class DrawingView(QWidget):
    """Shows one drawing at the size of the text beside it; empty while there is none."""

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._look = look
        self._drawing: Drawing | None = None
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Fixed)

    @property
    def drawing(self) -> Drawing | None:
        """The drawing that is shown."""
        return self._drawing

    def show_drawing(self, drawing: Drawing | None) -> None:
        """Show another drawing, or nothing."""
        self._drawing = drawing
        self.setVisible(drawing is not None)
        if drawing is not None:
            self.setAccessibleDescription(drawing.says)
        self.updateGeometry()
        self.update()

    def set_look(self, look: Look) -> None:
        """Paint in another theme or size."""
        self._look = look
        self.updateGeometry()
        self.update()

    def sizeHint(self) -> QSize:  # noqa: N802 - Qt's name
        """Return the drawing's sides at the present size of text."""
        if self._drawing is None:
            return QSize(0, 0)
        factor = PIXELS_A_POINT * self._look.percent / 100
        return QSize(round(self._drawing.width * factor), round(self._drawing.height * factor))

    def minimumSizeHint(self) -> QSize:  # noqa: N802 - Qt's name
        """Return the drawing's own size: smaller, its words could not be read."""
        return self.sizeHint()

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: N802, ARG002 - Qt's name and signature
        """Paint the drawing in proportion, in the middle."""
        if self._drawing is None:
            return
        factor = min(self.width() / self._drawing.width, self.height() / self._drawing.height)
        with QPainter(self) as painter:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            painter.translate((self.width() - self._drawing.width * factor) / 2, 0)
            paint_drawing(painter, self._drawing, factor, self._look)


def paint_drawing(painter: QPainter, drawing: Drawing, factor: float, look: Look) -> None:
    """Paint a drawing from the painter's origin, scaled; line widths follow the size of the text."""
    for shape in drawing.shapes:
        _paint(painter, shape, factor, look)


def _paint(painter: QPainter, shape: Shape, factor: float, look: Look) -> None:
    match shape:
        case Line():
            painter.setPen(_pen(shape.stroke, look))
            painter.drawLine(
                QPointF(shape.x1 * factor, shape.y1 * factor), QPointF(shape.x2 * factor, shape.y2 * factor)
            )
        case Arc():
            painter.setPen(_pen(shape.stroke, look))
            painter.drawArc(
                _square(shape.x, shape.y, shape.radius, factor),
                round((90 - shape.start) * _SIXTEENTHS),
                round(-shape.sweep * _SIXTEENTHS),
            )
        case Circle():
            _set_both(painter, shape.stroke, shape.fill, look)
            painter.drawEllipse(_square(shape.x, shape.y, shape.radius, factor))
        case Polygon():
            _set_both(painter, shape.stroke, shape.fill, look)
            painter.drawPolygon(QPolygonF([QPointF(x * factor, y * factor) for x, y in shape.points]))
        case Arrow():
            for part in arrow_parts(shape):
                _paint(painter, part, factor, look)
        case Words():
            _paint_words(painter, shape, factor, look)
        case HatchedRing() | HatchedBox():
            for line in hatch_lines(shape):
                _paint(painter, line, factor, look)


def _paint_words(painter: QPainter, words: Words, factor: float, look: Look) -> None:
    font = QFont(CODE_FAMILY if words.code else TEXT_FAMILY)
    font.setPixelSize(max(1, round(words.size * factor)))
    font.setBold(words.bold)
    font.setFeature(QFont.Tag("tnum"), 1)
    width = QFontMetricsF(font).horizontalAdvance(words.text)
    painter.setFont(font)
    painter.setPen(QColor(getattr(look.colours, words.role)))
    painter.drawText(QPointF(words.x * factor - width * _BEFORE[words.anchor], words.y * factor), words.text)


def _square(x: float, y: float, radius: float, factor: float) -> QRectF:
    return QRectF((x - radius) * factor, (y - radius) * factor, 2 * radius * factor, 2 * radius * factor)


def _pen(stroke: Stroke, look: Look) -> QPen:
    pen = QPen(QColor(getattr(look.colours, stroke.role)))
    pen.setWidthF(STROKE_POINTS[stroke.weight] * 4 / 3 * look.percent / 100)
    pen.setCapStyle(Qt.PenCapStyle.FlatCap)
    if stroke.dashed:
        pen.setDashPattern([3, 3])
    return pen


def _set_both(painter: QPainter, stroke: Stroke | None, fill: str | None, look: Look) -> None:
    painter.setPen(_pen(stroke, look) if stroke else Qt.PenStyle.NoPen)
    painter.setBrush(QBrush(QColor(getattr(look.colours, fill))) if fill else Qt.BrushStyle.NoBrush)
