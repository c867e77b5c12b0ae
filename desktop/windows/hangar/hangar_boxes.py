"""What can hurt, in the hangar view: frame, triangle and word say what it is, all texts in one size that fits."""

import math

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QSizePolicy, QWidget

from desktop.windows.hangar.hangar_fit import SIZES, room_of
from desktop.windows.pieces.caution_box import CAUTION, WARNING
from desktop.windows.pieces.look import Look
from desktop.windows.pieces.painter import paint_drawing
from reports.drawn.symbols import triangle

_WRAP = int(Qt.TextFlag.TextWordWrap)
_HARD_SPACE = "\u00a0"
_FAR = 10_000.0
GAP, PAD = 8.0, 12.0
MOST = 44
FROM_AFAR = 28
"""Points at which what can hurt is read at three metres, at the least, beside the numbers."""


def hazard_of(text: str) -> str:
    """Return the first sentence of a box: the hazard stands first."""
    return text.partition(". ")[0].rstrip(".") + "."


def _joined(boxes: tuple[tuple[str, str], ...]) -> tuple[tuple[str, str], ...]:
    """Return the hazards of each kind together; notes stand back where something can hurt."""
    kinds = dict.fromkeys(kind for kind, _ in boxes if kind in (WARNING, CAUTION)) or dict.fromkeys(k for k, _ in boxes)
    return tuple((kind, " ".join(hazard_of(text) for one, text in boxes if one == kind)) for kind in kinds)


class BoxesView(QWidget):
    """The boxes of a step one below the other; ``only_hazards`` puts the first sentences of each kind into one box."""

    def __init__(self, look: Look, *, only_hazards: bool) -> None:
        super().__init__()
        self._look = look
        self._only_hazards = only_hazards
        self._pad, self._gap = (PAD / 2, GAP / 2) if only_hazards else (PAD, GAP)
        self._boxes: tuple[tuple[str, str], ...] = ()
        is_high = QSizePolicy.Policy.Fixed if only_hazards else QSizePolicy.Policy.Ignored
        self.setSizePolicy(QSizePolicy.Policy.Ignored, is_high)

    def set_height(self, pixels: int) -> None:
        """Give the boxes this height and no other."""
        self.setFixedHeight(pixels)

    def sizeHint(self) -> QSize:  # noqa: N802 - Qt's name
        """Return the height that was given."""
        return QSize(1, max(1, self.minimumHeight()))

    def set_look(self, look: Look) -> None:
        """Take another theme or size of text."""
        self._look = look
        self.update()

    def show_boxes(self, boxes: tuple[tuple[str, str], ...]) -> None:
        """Show these boxes, each a kind and its text."""
        self._boxes = _joined(boxes) if self._only_hazards else boxes
        self.setAccessibleName(" ".join(f"{kind.upper()}. {text}" for kind, text in self._boxes))
        self.setVisible(bool(boxes))
        self.update()

    def minimumSizeHint(self) -> QSize:  # noqa: N802 - Qt's name
        """Return nearly nothing: the texts follow the room."""
        return QSize(1, 1)

    def height_at(self, size: float, width: int) -> int:
        """Return the height that all boxes take at a size of the scale and a width; none without boxes."""
        if not self._boxes:
            return 0
        taken = sum(self._heights(size, width)) + self._gap * (len(self._boxes) - 1)
        return math.ceil(taken) if math.isfinite(taken) else 0

    def points(self) -> float:
        """Return the largest size of the scale in which all boxes fit; the smallest when none does."""
        for size in SIZES:
            if size <= MOST and sum(self._heights(size)) + self._gap * (len(self._boxes) - 1) <= self.height():
                return size
        return SIZES[-1]

    def is_whole(self) -> bool:
        """Tell whether all boxes lie inside the room."""
        return sum(self._heights(self.points())) + self._gap * (len(self._boxes) - 1) <= self.height()

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: N802, ARG002 - Qt's name and signature
        """Paint each box."""
        if not self._boxes:
            return
        size = self.points()
        top = 0.0
        with QPainter(self) as painter:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            for (kind, words), height in zip(self._boxes, self._heights(size), strict=True):
                self._paint_box(painter, QRectF(0, top, self.width(), height), kind, words, size)
                top += height + self._gap

    def _paint_box(self, painter: QPainter, room: QRectF, kind: str, words: str, size: float) -> None:
        look = self._look
        width = 4.0 if kind == CAUTION else 1.5
        ink = QColor(look.colours.ink)
        pen = QPen(ink, width)
        pen.setJoinStyle(Qt.PenJoinStyle.MiterJoin)
        painter.setPen(pen)
        painter.setBrush(QColor(look.colours.sheet))
        frame = room.adjusted(width / 2, width / 2, -width / 2, -width / 2)
        painter.drawRect(frame)
        if kind == WARNING:
            painter.drawRect(frame.adjusted(4, 4, -4, -4))
        head = self._head(size)
        mark = _line_height(size)
        if kind in (WARNING, CAUTION):
            painter.save()
            painter.translate(room.left() + self._pad, room.top() + self._pad)
            paint_drawing(painter, triangle(), mark / 24.0, Look(look.colours, round(100 * max(1.0, mark / 36))))
            painter.restore()
        painter.setPen(ink)
        painter.setFont(_font(size, bold=True))
        painter.drawText(
            QRectF(room.left() + self._pad + mark + GAP, room.top() + self._pad, head, mark + 2),
            int(Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignLeft),
            kind.upper(),
        )
        painter.setFont(_font(size))
        left = self._pad + mark + GAP + (0 if self._only_hazards else head + self._pad)
        painter.drawText(
            room.adjusted(left, self._pad, -self._pad, -self._pad),
            _WRAP | int(Qt.AlignmentFlag.AlignTop),
            self._led(kind, words, size),
        )

    def _heights(self, size: float, width: int | None = None) -> list[float]:
        whole = self.width() if width is None else width
        room = whole - (2 * self._pad + _line_height(size) + GAP)
        room -= 0 if self._only_hazards else self._pad + self._head(size)
        font = _font(size)
        heights = []
        for kind, words in self._boxes:
            taken = room_of(self._led(kind, words, size), font, room)
            too_wide = taken.width() > room
            heights.append(float("inf") if too_wide else taken.height() + 2 * self._pad)
        return heights

    def _led(self, kind: str, words: str, size: float) -> str:
        """Return the words of a box; beside the numbers they run on after its signal word, in the same line."""
        if not self._only_hazards:
            return words
        head = room_of(kind.upper(), _font(size, bold=True), _FAR).width() + GAP
        one = QFontMetricsF(_font(size)).horizontalAdvance(_HARD_SPACE)
        return _HARD_SPACE * math.ceil(head / one) + words

    def _head(self, size: float) -> float:
        return max((room_of(kind.upper(), _font(size, bold=True), _FAR).width() for kind, _ in self._boxes), default=0)


def _font(size: float, *, bold: bool = False) -> QFont:
    return Look().font(size, bold=bold)


def _line_height(size: float) -> float:
    return room_of("X", _font(size), _FAR).height()
