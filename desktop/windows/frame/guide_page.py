"""The guide in a window of its own, beside the work: the pages at the left, one page at the right."""

from PySide6.QtCore import QEvent, QObject, Qt, QUrl
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import (
    QApplication,
    QBoxLayout,
    QLabel,
    QLineEdit,
    QListWidget,
    QListWidgetItem,
    QSplitter,
    QTextBrowser,
    QVBoxLayout,
    QWidget,
)

from desktop.core.guide import GuidePage
from desktop.viewmodels.frame.guide import Guide
from desktop.windows.pieces.look import CODE_FAMILY, Look
from desktop.windows.pieces.page_foot import PageFoot

KEYS = "Up, Down: another page   Enter: read it   Tab: on   Esc: close"
NOTHING = "No page has all of these words. Take a letter away."
FOR_THE_LIST = (Qt.Key.Key_Up, Qt.Key.Key_Down)
FOR_THE_TEXT = (Qt.Key.Key_PageUp, Qt.Key.Key_PageDown)
LIST_WIDTH = 300


class GuideWindow(QWidget):
    """Shows a guide."""

    def __init__(self, guide: Guide, look: Look) -> None:
        super().__init__(None, Qt.WindowType.Window)
        self.setObjectName("ground")
        self.setAttribute(Qt.WidgetAttribute.WA_QuitOnClose, False)  # noqa: FBT003 - Qt's signature
        self.setWindowTitle("Guide · Sparkwright")
        self.resize(1040, 760)
        self._guide = guide
        self._look = look
        self.current: GuidePage = guide.pages[0]
        self.search = QLineEdit()
        self.search.setAccessibleName("Find in the guide")
        self.search.setPlaceholderText("Any words")
        self.search.setMaxLength(200)
        self._find = QLabel("&Find")
        self._find.setBuddy(self.search)
        self.list = QListWidget()
        self.list.setAccessibleName("Pages of the guide")
        self.list.setWordWrap(True)
        self.list.setTextElideMode(Qt.TextElideMode.ElideNone)
        self.list.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.list.setResizeMode(QListWidget.ResizeMode.Adjust)
        self.text = QTextBrowser()
        self.text.setAccessibleName("Page of the guide")
        self.text.setOpenLinks(False)
        self.text.setTabChangesFocus(False)
        self.foot = PageFoot("&Close the guide", KEYS)
        self._build()
        self.search.textEdited.connect(self._search)
        self.search.installEventFilter(self)
        self.list.currentItemChanged.connect(lambda item, _before: self._choose(item))
        self.list.itemActivated.connect(lambda _item: self.text.setFocus(Qt.FocusReason.OtherFocusReason))
        self.text.anchorClicked.connect(self._follow)
        self.foot.act.clicked.connect(self.close)
        self.set_guide(guide)
        self.set_look(look)

    def _build(self) -> None:
        left = QWidget()
        left.setObjectName("ground")
        self._left = QVBoxLayout(left)
        row = QBoxLayout(QBoxLayout.Direction.LeftToRight)
        row.addWidget(self._find)
        row.addWidget(self.search, 1)
        self._left.addLayout(row)
        self._left.addWidget(self.list, 1)
        self._split = QSplitter(Qt.Orientation.Horizontal)
        self._split.addWidget(left)
        self._split.addWidget(self.text)
        self._split.setStretchFactor(1, 1)
        self._split.setChildrenCollapsible(False)
        outer = QVBoxLayout(self)
        outer.setContentsMargins(0, 0, 0, 0)
        outer.setSpacing(0)
        outer.addWidget(self._split, 1)
        outer.addWidget(self.foot)

    def set_guide(self, guide: Guide) -> None:
        """Take other pages."""
        self._guide = guide
        self.current = guide.page(self.current.id) or guide.pages[0]
        self._search(self.search.text())

    def set_look(self, look: Look) -> None:
        """Take another theme or size of text."""
        self._look = look
        c, pad = look.colours, look.pixels(8)
        self.setStyleSheet(
            look.sheet()
            + f"""
            QListWidget {{ background: {c.ground}; border: none; outline: none; }}
            QListWidget::item {{ padding: {pad // 2}px {pad}px; color: {c.ink}; border: 2px solid {c.ground}; }}
            QListWidget::item:selected {{ background: {c.sheet}; color: {c.ink}; border: 2px solid {c.line}; }}
            QListWidget:focus::item:selected {{ border: 2px solid {c.act}; }}
            QTextBrowser {{ background: {c.sheet}; border: none; padding: {2 * pad}px; }}
            QSplitter::handle {{ background: {c.line}; }}
            """
        )
        self._left.setContentsMargins(2 * pad, 2 * pad, pad, pad)
        left = min(look.pixels(LIST_WIDTH), self.width() * 3 // 8)
        self._split.setSizes([left, self.width() - left])
        self.foot.set_look(look, self.width())
        self._show()

    def show_place(self, place: str) -> None:
        """Show the page of a place."""
        self.show_page(self._guide.page_for(place).id)

    def show_page(self, page_id: str) -> None:
        """Show a page by its id; one that there is not changes nothing."""
        page = self._guide.page(page_id)
        if page is None:
            return
        self.current = page
        if not any(self._id(row) == page_id for row in range(self.list.count())):
            self.search.clear()
            self._search("")
        row = next(row for row in range(self.list.count()) if self._id(row) == page_id)
        self.list.setCurrentRow(row)
        self._show()

    def begin(self) -> None:
        """Put the keyboard into the list of pages."""
        self.list.setFocus(Qt.FocusReason.OtherFocusReason)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:  # noqa: N802 - Qt's name
        """Move in the list and in the page while the search has the keyboard."""
        if watched is self.search and event.type() == QEvent.Type.KeyPress and isinstance(event, QKeyEvent):
            if event.key() in FOR_THE_LIST:
                QApplication.sendEvent(self.list, event)
                return True
            if event.key() in FOR_THE_TEXT:
                QApplication.sendEvent(self.text, event)
                return True
            if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
                self.text.setFocus(Qt.FocusReason.OtherFocusReason)
                return True
        return super().eventFilter(watched, event)

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802 - Qt's name
        """Close with Escape."""
        if event.key() == Qt.Key.Key_Escape:
            self.close()
        else:
            super().keyPressEvent(event)

    def _search(self, text: str) -> None:
        found = self._guide.find(text)
        self.list.blockSignals(True)  # noqa: FBT003 - Qt's signature
        self.list.clear()
        for page in found:
            item = QListWidgetItem(page.title)
            item.setData(Qt.ItemDataRole.UserRole, page.id)
            self.list.addItem(item)
        ids = [page.id for page in found]
        self.list.setCurrentRow(ids.index(self.current.id) if self.current.id in ids else 0)
        self.list.blockSignals(False)  # noqa: FBT003 - the same
        self.foot.say("" if found else NOTHING)
        self._choose(self.list.currentItem())

    def _choose(self, item: QListWidgetItem | None) -> None:
        page = self._guide.page(str(item.data(Qt.ItemDataRole.UserRole))) if item else None
        if page is not None and (page is not self.current or not self.text.toPlainText()):
            self.current = page
            self._show()

    def _follow(self, link: QUrl) -> None:
        self.show_page(link.toString())

    def _id(self, row: int) -> str:
        return str(self.list.item(row).data(Qt.ItemDataRole.UserRole))

    def _show(self) -> None:
        c = self._look.colours
        self.text.setHtml(self._guide.html(self.current, (c.ink, c.quiet, c.act), CODE_FAMILY))
        self.text.setAccessibleDescription(self.current.title)
