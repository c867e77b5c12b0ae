"""The limits sheets: their list, a sheet with its fields, the comparison by a second person, and files in and out."""

from collections.abc import Callable
from functools import partial

from PySide6.QtCore import QTimer
from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import QPushButton, QStackedWidget, QVBoxLayout, QWidget

from desktop.core.shop.sheets.sheet_life import SheetLife, SheetState
from desktop.viewmodels.shop.sheet_forms import CompareForm, NewSheetForm
from desktop.viewmodels.shop.sheets_desk import SheetsDesk
from desktop.viewmodels.signing.enrol_desk import Asks, Typed
from desktop.windows.lists.entry_page import EntryPage
from desktop.windows.lists.list_page import ListPage
from desktop.windows.paper.paper_desk import ask_file
from desktop.windows.pieces.look import Look
from desktop.windows.shop.compare_page import ComparePage
from desktop.windows.shop.sheet_form_page import SheetFormPage
from desktop.windows.signing.enrol_dialog import EnrolDialog

FILES = "Limits sheets (*.toml)"
KEYS = "Up, Down: choose   Enter: open   Alt+D: enter   Alt+M: import   Alt+X: export"
ONE_LINE = 1120
NO_SHEETS = (
    "No limits sheet yet",
    (
        "What a document says about an engine or a magneto is transcribed here by one person and compared by another. "
        "Begin with the button at the bottom right, or take a sheet in from a file."
    ),
)
NEW_TASK = "A sheet is transcribed from a document, and is never approved data: the document is."


class SheetsPage(QWidget):
    """Shows the sheets of a desk."""

    def __init__(self, desk: SheetsDesk, look: Look) -> None:
        super().__init__()
        self.setObjectName("ground")
        self.desk = desk
        self._look = look
        self.form_page: SheetFormPage | EntryPage | None = None
        self.dialog: EnrolDialog | None = None
        self.list_page = ListPage(
            "Limits sheets", desk.model, NO_SHEETS, "A&dd a sheet", KEYS, look, narrow_below=ONE_LINE
        )
        self.take_in = QPushButton("I&mport from a file…")
        self.write_out = QPushButton("E&xport to a file…")
        self.list_page.head.addStretch(0)
        for button in (self.take_in, self.write_out):
            button.setAutoDefault(True)
            self.list_page.head.addWidget(button)
        self._stack = QStackedWidget()
        self._stack.addWidget(self.list_page)
        outer = QVBoxLayout(self)
        outer.setContentsMargins(0, 0, 0, 0)
        outer.addWidget(self._stack)
        self.list_page.line_chosen.connect(self.open_line)
        self.list_page.foot.act.clicked.connect(self.open_new)
        self.take_in.clicked.connect(self._ask_what_to_take_in)
        self.write_out.clicked.connect(self._ask_where_to_write)
        desk.kept.connect(self._say_kept)
        desk.refused.connect(lambda words: self.say(words, refused=True))

    @property
    def is_begun(self) -> bool:
        """Whether something was typed that is not kept: a draft is kept field by field."""
        page = self.form_page
        if page is None:
            return False
        page.commit_all()
        return page.is_begun

    def show_begun(self) -> None:
        """Show what was typed."""

    def set_look(self, look: Look) -> None:
        """Take another theme or size of text."""
        self._look = look
        self.list_page.set_look(look)
        if self.form_page is not None:
            self.form_page.set_look(look)

    def say(self, words: str, *, refused: bool = False) -> None:
        """Say something once at the foot of what is shown."""
        (self.form_page or self.list_page).foot.say(words, refused=refused)

    def showEvent(self, event: QShowEvent) -> None:  # noqa: N802 - Qt's name
        """Read the list again."""
        super().showEvent(event)
        self.desk.look()

    def show_list(self) -> None:
        """Show the list."""
        page, self.form_page = self.form_page, None
        if page is not None:
            page.commit_all()
            self._stack.removeWidget(page)
            page.hide()
            page.deleteLater()
        self.desk.look()
        self._stack.setCurrentWidget(self.list_page)
        self.list_page.take_keys()

    def open_new(self) -> None:
        """Begin a sheet: its id, and what it is about."""
        form = self.desk.new_form()
        page = EntryPage(form, "Begin the sheet", "Back to the sheets", self._look)
        form.setParent(page)
        page.keep_asked.connect(lambda: self._begin(form))
        self._open(page)
        page.begin("New limits sheet", NEW_TASK)

    def open_line(self, row: int) -> None:
        """Open the sheet of a line."""
        self.open_sheet(self.desk.model.line(row).id)

    def open_sheet(self, sheet_id: str) -> None:
        """Open a sheet as it stands."""
        form = self.desk.form(sheet_id)
        if form is None:
            return
        page = SheetFormPage(form, self._look)
        page.act_asked.connect(self._act)
        self._open(page)
        page.begin("", "")
        page.show_sheet()

    def open_comparison(self, life: SheetLife) -> None:
        """Hold a finished sheet against its document."""
        form = self.desk.compare_form(life)
        page = ComparePage(form, self._look)
        form.setParent(page)
        page.keep_asked.connect(lambda: self._compare(form))
        self._open(page)
        page.begin_comparison()

    def _begin(self, form: NewSheetForm) -> None:
        sheet_id = form.text("id")
        if self.desk.begin(sheet_id, form.kind()):
            form.begin({}, 0)
            self.open_sheet(sheet_id)

    def _act(self, life: SheetLife) -> None:
        if life.state is SheetState.FOR_COMPARISON:
            self.open_comparison(life)
            return
        asks = self.desk.asks(comparing=False) if life.state is SheetState.DRAFT else None
        if asks is not None:
            self._sign(asks, lambda typed: self.desk.sign_finish(life, typed.secret), self.show_list)
            return
        verb = self.desk.finish if life.state is SheetState.DRAFT else self.desk.revise
        if not verb(life):
            return
        if life.state is SheetState.DRAFT:
            self.show_list()
        else:
            self.open_sheet(life.sheet.id)

    def _compare(self, form: CompareForm) -> None:
        asks = (
            None if form.differs() else self.desk.asks(comparing=True, is_own=self.desk.who() in form.life.written_by)
        )
        if asks is not None:
            life, confirmed, reason = form.life, form.confirmed(), form.text("reason")

            def done() -> None:
                form.begin({}, 0)
                self.show_list()

            self._sign(asks, lambda typed: self.desk.sign_compare(life, confirmed, reason, typed.secret), done)
            return
        if self.desk.compare(form.life, form.confirmed(), form.differs(), form.text("reason")):
            form.begin({}, 0)
            self.show_list()

    def _sign(self, asks: Asks, do: Callable[[Typed], str], done: Callable[[], None]) -> None:
        """Ask for the secret; what was signed is left behind, what was not stays as it is."""
        self.dialog = EnrolDialog(asks, do, self._look, self)
        self.dialog.accepted.connect(done)
        self.dialog.finished.connect(self._forget_dialog)
        self.dialog.open()

    def _forget_dialog(self) -> None:
        self.dialog = None
        if self.form_page is None:
            QTimer.singleShot(0, self, self.list_page.take_keys)

    def _open(self, page: SheetFormPage | EntryPage) -> None:
        old, self.form_page = self.form_page, page
        page.back_asked.connect(self.show_list)
        self._stack.addWidget(page)
        self._stack.setCurrentWidget(page)
        if old is not None:
            self._stack.removeWidget(old)
            old.hide()
            old.deleteLater()

    def _say_kept(self, words: str) -> None:
        if words:
            self.list_page.foot.say(words)
        if self.form_page is None:
            self.list_page.take_keys()

    def _ask_what_to_take_in(self) -> None:
        ask_file(self, "Take a limits sheet in", FILES, "", self.desk.take_in, saving=False)

    def _ask_where_to_write(self) -> None:
        row = self.list_page.table.chosen()
        if row is None:
            self.say("Choose a sheet first.", refused=True)
            return
        name = self.desk.model.line(row).id
        write = partial(self.desk.write_out, name)
        ask_file(self, "Write the limits sheet", FILES, f"{name}.toml", write, saving=True)
