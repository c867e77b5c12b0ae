"""The middle of the card page: the head of the present place stays in sight, its fields scroll below it."""

from PySide6.QtCore import Qt, QTimer
from PySide6.QtWidgets import QScrollArea, QVBoxLayout, QWidget

from desktop.windows.card.place_view import PlaceView

MOST_HEAD = 0.68
"""How much of the height a place's head may take and stay in sight; a taller one scrolls with the fields."""


class PlaceSheet(QWidget):
    """Holds the views of all places and shows one."""

    def __init__(self) -> None:
        super().__init__()
        self._pinned = QWidget()
        self._pinned.setObjectName("sheet")
        self._heads = QVBoxLayout(self._pinned)
        self._heads.setContentsMargins(0, 0, 0, 0)
        self._area = QScrollArea()
        self._area.setObjectName("sheet")
        self._area.setWidgetResizable(True)
        self._area.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        inside = QWidget()
        inside.setObjectName("sheet")
        self._column = QVBoxLayout(inside)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._views = QVBoxLayout()
        self._column.addLayout(self._views)
        self._column.addStretch(1)
        self._area.setWidget(inside)
        outer = QVBoxLayout(self)
        outer.setContentsMargins(0, 0, 0, 0)
        outer.setSpacing(0)
        outer.addWidget(self._pinned)
        outer.addWidget(self._area, 1)

    def add(self, view: PlaceView) -> None:
        """Take the view of a place, which is not shown yet."""
        view.hide()
        view.head.hide()
        self._heads.addWidget(view.head)
        self._views.addWidget(view)

    def put_below(self, widget: QWidget) -> None:
        """Put something below the fields, where it has no room beside them."""
        self._column.insertWidget(self._column.count() - 1, widget)

    def take_from_below(self, widget: QWidget) -> None:
        """Take it away again."""
        self._column.removeWidget(widget)

    def to_top(self) -> None:
        """Show the beginning of the place."""
        self._area.verticalScrollBar().setValue(0)

    def bring(self, widget: QWidget) -> None:
        """Show a part of the place, once it is laid out."""
        QTimer.singleShot(0, widget, lambda: self._area.ensureWidgetVisible(widget))

    def show_view(self, view: PlaceView) -> None:
        """Show the view of a place; its head stays in sight while that leaves room for the fields."""
        room = self._pinned.height() * self._pinned.isVisible() + self._area.height()
        tall = view.head.heightForWidth(self._area.width()) > MOST_HEAD * room
        home = self._views if tall else self._heads
        if home.indexOf(view.head) < 0:
            home.insertWidget(0, view.head)
        view.head.show()
        view.show()
        self._pinned.setVisible(not tall)
