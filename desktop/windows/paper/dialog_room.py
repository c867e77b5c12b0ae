"""A dialog that takes the room it wants, and never more than its window has."""

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QDialog, QWidget

from desktop.windows.pieces.look import Look

EDGE = 32
"""What of the window stays in sight around it, in pixels."""


class RoomyDialog(QDialog):
    """``wanted`` is the size at 100 percent. It is deleted when it closes."""

    def __init__(self, look: Look, parent: QWidget, wanted: tuple[int, int]) -> None:
        super().__init__(parent)
        self._look = look
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        room = parent.window().size()
        width, height = (look.pixels(side) for side in wanted)
        self.resize(min(width, room.width() - EDGE), min(height, room.height() - EDGE))
