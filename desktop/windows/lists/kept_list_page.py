"""A list of the shop and the form of one entry of it: the list, the form, and back to the list."""

from PySide6.QtCore import Qt
from PySide6.QtGui import QHideEvent, QShowEvent
from PySide6.QtWidgets import QStackedWidget, QVBoxLayout, QWidget

from desktop.viewmodels.pieces.begun import Begun
from desktop.viewmodels.pieces.entry_form import EntryForm, Snapshot
from desktop.viewmodels.pieces.list_desk import ListDesk
from desktop.windows.lists.entry_page import EntryPage
from desktop.windows.lists.list_page import ListPage
from desktop.windows.pieces.look import Look

WAITS = "Not kept yet: {names}. It waits in its form."


class KeptListPage(QWidget):
    """Shows a list; its next action begins a new entry, Enter on a line opens the entry in the form."""

    def __init__(self, desk: ListDesk, form: EntryForm, list_page: ListPage, entry_page: EntryPage) -> None:
        super().__init__()
        self.setObjectName("ground")
        self.desk = desk
        self.form = form
        self.list_page = list_page
        self.entry = entry_page
        self._key = self._title = ""
        self._begun = Begun()
        self._stack = QStackedWidget()
        self._stack.addWidget(self.list_page)
        self._stack.addWidget(self.entry)
        outer = QVBoxLayout(self)
        outer.setContentsMargins(0, 0, 0, 0)
        outer.addWidget(self._stack)
        self.list_page.line_chosen.connect(self.open_line)
        self.list_page.foot.act.clicked.connect(self.open_new)
        self.entry.back_asked.connect(self.show_list)
        self.entry.keep_asked.connect(self.keep)
        desk.lines_changed.connect(lambda: self.list_page.say_notice(desk.notice()))
        desk.kept.connect(self._show_kept)
        desk.refused.connect(lambda words: self.say(words, refused=True))

    def open_new(self) -> None:
        """Begin a new entry, or go on with the one that was begun."""
        raise NotImplementedError

    def open_line(self, row: int) -> None:
        """Open the entry of a line, with what was typed there and not kept."""
        raise NotImplementedError

    def keep(self) -> None:
        """Keep what the form says."""
        raise NotImplementedError

    @property
    def is_begun(self) -> bool:
        """Whether something was typed that is not kept."""
        self._put_aside()
        return bool(self._begun)

    def show_begun(self) -> None:
        """Show where something was typed that is not kept."""
        self.show_list()
        self.say(WAITS.format(names=self._begun.names()))

    def show_list(self) -> None:
        """Show the list; what was typed and not kept waits for its form to be opened again."""
        self._put_aside()
        self._stack.setCurrentWidget(self.list_page)
        self.say(WAITS.format(names=self._begun.names()) if self._begun else "")

    def set_look(self, look: Look) -> None:
        """Take another theme or size of text."""
        self.list_page.set_look(look)
        self.entry.set_look(look)

    def say(self, words: str, *, refused: bool = False) -> None:
        """Say something once at the foot of what is shown."""
        shown = self.entry if self._stack.currentWidget() is self.entry else self.list_page
        shown.foot.say(words, refused=refused)

    def showEvent(self, event: QShowEvent) -> None:  # noqa: N802 - Qt's name
        """Read the list again."""
        super().showEvent(event)
        self.desk.look()

    def hideEvent(self, event: QHideEvent) -> None:  # noqa: N802 - Qt's name
        """Forget what was said once."""
        super().hideEvent(event)
        self.list_page.foot.say("")

    def show_form(self, key: str, title: str, task: str) -> None:
        """Show the form of an entry; ``key`` is empty for a new one. What was typed there before stands in it again."""
        text = self._begun.take(key)
        if isinstance(text, Snapshot):
            self.form.go_on(text)
        self._key, self._title = key, title
        self._stack.setCurrentWidget(self.entry)
        self.entry.begin(title, task)

    def _put_aside(self) -> None:
        if self._stack.currentWidget() is not self.entry:
            return
        self.entry.commit_all()
        self._begun.put(self._key, self._title, self.form.snapshot() if self.form.is_begun else None)

    def _show_kept(self, words: str) -> None:
        self.form.begin({}, 0)
        self.show_list()
        self.list_page.foot.say(words)
        self.list_page.table.setFocus(Qt.FocusReason.OtherFocusReason)
