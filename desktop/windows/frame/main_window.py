"""The main window: the menu, opening and saving, preview and print, light and dark, the size of the text."""

from collections.abc import Callable
from functools import partial
from pathlib import Path

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtGui import QAction, QActionGroup, QCloseEvent, QKeySequence
from PySide6.QtWidgets import QMainWindow, QMenu, QMessageBox

from desktop.core.timing.readings import Side
from desktop.viewmodels.card.card_pictures import View
from desktop.viewmodels.card.card_session import CardSession
from desktop.windows.card.card_page import CardPage
from desktop.windows.frame.menu_keys import give_keys
from desktop.windows.paper.paper_desk import Pages, PaperDesk, ask_file
from desktop.windows.paper.preview_dialog import PreviewDialog
from desktop.windows.pieces.look import Look

READINGS = "Readings files (*.toml)"


class MainWindow(QMainWindow):
    """One window on one card; ``look_changed`` carries the theme and the size of text that somebody chose."""

    look_changed = Signal(object)

    def __init__(self, session: CardSession, pages: Pages, look: Look | None = None) -> None:
        super().__init__()
        self.session = session
        self._papers = PaperDesk(self, pages, session.save_paper)
        self.look = look or Look()
        self._may_close = False
        self.page = CardPage(session, self.look)
        self.setCentralWidget(self.page)
        self.resize(1280, 800)
        self._build_menu()
        self.page.act_asked.connect(self.show_preview)
        session.saved_changed.connect(lambda _saved: self._set_title())
        self.set_look(self.look)
        self._set_title()
        self.page.show_place(0)

    def set_look(self, look: Look) -> None:
        """Take a theme and a size of text, everywhere at once."""
        self.look = look
        look.dress(self)
        self.page.set_look(look)

    def open_file(self, place: Path) -> None:
        """Open a readings file and go to its first place."""
        if self.session.open_file(place):
            self.page.say(f"{place.name} is open.")
            self.page.show_place(0)
        self._set_title()

    @property
    def preview(self) -> PreviewDialog | None:
        """The page preview, while it is open."""
        return self._papers.preview

    def show_preview(self) -> None:
        """Show the pages as they will print."""
        self.page.commit_focused()
        name = self.session.file.stem if self.session.file else "card"
        self._papers.show(self.session.paper, name, self.page.say, self.look)

    def closeEvent(self, event: QCloseEvent) -> None:  # noqa: N802 - Qt's name
        """Ask before what was typed is lost."""
        if not self._may_close:
            self.page.commit_focused()
        if self._may_close or self.session.is_saved:
            event.accept()
            return
        event.ignore()
        self._ask_about_changes(self._close_now)

    def _close_now(self) -> None:
        self._may_close = True
        self.close()

    def _build_menu(self) -> None:
        card = self._menu("&Card")
        self._add(card, "&New", QKeySequence.StandardKey.New, lambda: self._ask_about_changes(self._begin_empty))
        self._add(
            card, "&Open…", QKeySequence.StandardKey.Open, lambda: self._ask_about_changes(self._ask_what_to_open)
        )
        self._add(card, "&Save", QKeySequence.StandardKey.Save, self._save)
        self._add(card, "Save &as…", QKeySequence.StandardKey.SaveAs, self._ask_where_to_save)
        card.addSeparator()
        self._add(card, "&Print…", QKeySequence.StandardKey.Print, self.show_preview)
        card.addSeparator()
        for side in Side:
            action = self._add(card, f"{side.capitalize()} magneto on this card", None, None)
            action.setCheckable(True)
            action.setChecked(True)
            action.toggled.connect(lambda on, side=side: self.session.show_magneto(side, present=on))
        self._side_actions = card.actions()[-2:]
        card.aboutToShow.connect(self._show_sides)
        card.addSeparator()
        self._add(card, "&Close", QKeySequence.StandardKey.Quit, self.close)
        work = self._menu("&Work")
        give_keys(self._add(work, "Next open field", None, self._next_open), "Ctrl+Return")
        show = self.page.show_place
        give_keys(self._add(work, "Next step", None, lambda: show(self.page.current + 1)), "Ctrl+PgDown")
        give_keys(self._add(work, "Step before", None, lambda: show(self.page.current - 1)), "Ctrl+PgUp")
        view = self._menu("&View")
        ends = QActionGroup(self)
        for words, end in (("From the &propeller", View.PROPELLER), ("From the &rear", View.REAR)):
            action = self._add(view, words, None, partial(self.page.set_view, end))
            action.setCheckable(True)
            action.setChecked(end is View.PROPELLER)
            ends.addAction(action)
        self._add(view, "Turn the view round", QKeySequence("Ctrl+D"), self._turn_view)
        view.addSeparator()
        self._add(view, "Light, &dark or high contrast", QKeySequence("Ctrl+L"), self._change_theme)
        self._add(view, "&Larger text", QKeySequence.StandardKey.ZoomIn, lambda: self._change_size(1))
        self._add(view, "&Smaller text", QKeySequence.StandardKey.ZoomOut, lambda: self._change_size(-1))

    def _menu(self, title: str) -> QMenu:
        menu: QMenu = self.menuBar().addMenu(title)
        return menu

    def _add(
        self,
        menu: QMenu,
        words: str,
        keys: QKeySequence | QKeySequence.StandardKey | None,
        act: Callable[[], object] | None,
    ) -> QAction:
        action = QAction(words, self)
        if keys is not None:
            action.setShortcut(keys)
        if act is not None:
            action.triggered.connect(lambda _checked=False: act())
        menu.addAction(action)
        return action

    def _show_sides(self) -> None:
        for side, action in zip(Side, self._side_actions, strict=True):
            action.blockSignals(True)  # noqa: FBT003 - Qt's signature
            action.setChecked(getattr(self.session.state.typed, side) is not None)
            action.blockSignals(False)  # noqa: FBT003 - the same

    def _save(self, go_on: Callable[[], object] | None = None) -> None:
        """Save, asking for a name where there is none yet; go on only when it is saved."""
        self.page.commit_focused()
        if self.session.file is None:
            self._ask_where_to_save(go_on)
        elif self.session.save_to(self.session.file) and go_on:
            go_on()

    def _ask_where_to_save(self, go_on: Callable[[], object] | None = None) -> None:
        self.page.commit_focused()
        name = self.session.file.name if self.session.file else "card.toml"

        def save(place: Path) -> None:
            if self.session.save_to(place) and go_on:
                QTimer.singleShot(0, self, go_on)  # after the dialog is gone

        ask_file(self, "Save the readings", READINGS, name, save, saving=True)

    def _ask_what_to_open(self) -> None:
        ask_file(self, "Open a readings file", READINGS, "", self.open_file, saving=False)

    def _begin_empty(self) -> None:
        self.session.begin_empty()
        self.page.show_place(0)
        self._set_title()

    def _ask_about_changes(self, go_on: Callable[[], None]) -> None:
        """Go on at once when everything is saved; otherwise ask first."""
        self.page.commit_focused()
        if self.session.is_saved:
            go_on()
            return
        box = QMessageBox(self)
        box.setWindowTitle("Not saved")
        box.setText("This card has readings that are not saved.")
        save = box.addButton("Save", QMessageBox.ButtonRole.AcceptRole)
        drop = box.addButton("Do not save", QMessageBox.ButtonRole.DestructiveRole)
        box.addButton("Stay here", QMessageBox.ButtonRole.RejectRole)
        box.buttonClicked.connect(lambda button: self._answer(button is save, button is drop, go_on))
        box.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        box.open()

    def _answer(self, save: bool, drop: bool, go_on: Callable[[], None]) -> None:  # noqa: FBT001 - two answers
        if drop:
            go_on()
        elif save:
            self._save(go_on)

    def _next_open(self) -> None:
        self.page.commit_focused()
        self.page.go_to_next_open()

    def _turn_view(self) -> None:
        self.page.set_view(View.REAR if self.page.view is View.PROPELLER else View.PROPELLER)

    def _change_theme(self) -> None:
        self._become(self.look.other_theme())

    def _change_size(self, step: int) -> None:
        self._become(self.look.resized(step))

    def _become(self, look: Look) -> None:
        self.set_look(look)
        self.look_changed.emit(look)

    def _set_title(self) -> None:
        name = self.session.file.name if self.session.file else "new card"
        star = "" if self.session.is_saved else " (not saved)"
        self.setWindowTitle(f"{name}{star} · Sparkwright")
