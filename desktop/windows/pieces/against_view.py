"""What stands against something, one line each: a bar, a ring, the words, where they come from."""

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLabel, QVBoxLayout

from desktop.viewmodels.pieces.card_words import Progress
from desktop.windows.pieces.finding_list import Ring
from desktop.windows.pieces.look import Look

_EDGES = {Progress.STOPS: "edge-stops", Progress.OPEN: "edge-explain"}


class AgainstView(QFrame):
    """Words that say themselves what they are about; crossed where they stop, half where somebody has to look."""

    def __init__(self, words: str, source: str, look: Look, progress: Progress = Progress.STOPS) -> None:
        super().__init__()
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(look.pixels(10))
        bar = QFrame()
        bar.setObjectName(_EDGES.get(progress, "edge-note"))
        bar.setFixedWidth(look.pixels(4))
        row.addWidget(bar)
        row.addWidget(Ring(progress, look), 0, Qt.AlignmentFlag.AlignTop)
        column = QVBoxLayout()
        column.setSpacing(look.pixels(2))
        for text, name in ((words, ""), (source, "small")):
            if text:
                label = QLabel(text)
                label.setObjectName(name)
                label.setWordWrap(True)
                label.setTextFormat(Qt.TextFormat.PlainText)
                column.addWidget(label)
        row.addLayout(column, 1)
        self.setAccessibleName(f"{progress}. {words}")
