"""What stands against the approval of an order, each finding with its source; or that nothing does."""

from PySide6.QtWidgets import QLabel, QVBoxLayout, QWidget

from desktop.viewmodels.orders.order_hub import OrderHub
from desktop.windows.pieces.against_view import AgainstView
from desktop.windows.pieces.look import Look


class AgainstPanel(QWidget):
    """Shows the findings of a hub, as long as its order is open."""

    def __init__(self) -> None:
        super().__init__()
        title = QLabel("Against the approval")
        title.setObjectName("group")
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.addWidget(title)
        self._lines = QVBoxLayout()
        self._column.addLayout(self._lines)

    def show_hub(self, hub: OrderHub, look: Look) -> None:
        """Show what stands against it now."""
        self._column.setSpacing(look.pixels(8))
        while item := self._lines.takeAt(0):
            widget = item.widget()
            if widget is not None:
                widget.hide()
                widget.deleteLater()
        self.setVisible(hub.is_open)
        if not hub.is_open:
            return
        remarks = hub.remarks()
        if not remarks:
            nothing = QLabel(hub.nothing_against())
            nothing.setObjectName("quiet")
            nothing.setWordWrap(True)
            self._lines.addWidget(nothing)
        for finding in remarks:
            self._lines.addWidget(AgainstView(finding.sentence, finding.source, look))
