"""Every word and key of the real windows, gathered from their widgets over an invented shop."""

from collections.abc import Iterator
from pathlib import Path

from PySide6.QtGui import QAction, QKeySequence, QShortcut
from PySide6.QtWidgets import QAbstractButton, QComboBox, QLabel, QLineEdit, QMainWindow, QWidget
from pytestqt.qtbot import QtBot

from desktop.app import make_window
from desktop.core.records.record import RecordKind
from desktop.core.rules.rule import Severity
from desktop.core.rules.rulebook import SaidFinding
from desktop.files.guide import builtin_guide
from desktop.storage.shop_store import new_shop
from desktop.usecases.records.signing.acts import Act
from desktop.viewmodels.frame.first_start import FirstNeeds, FirstStart
from desktop.viewmodels.paper.choices import card_choices, list_choice, paper_choice, roster_choice
from desktop.viewmodels.paper.papers_desk import PapersDesk
from desktop.viewmodels.paper.print_desk import PrintDesk
from desktop.viewmodels.pieces.bench import Signing
from desktop.viewmodels.pieces.lines_model import LinesModel, ListColumn
from desktop.viewmodels.records.records_desk import RecordsDesk
from desktop.viewmodels.signing.approval import ApprovalSession
from desktop.viewmodels.signing.inspection import InspectionSession
from desktop.viewmodels.signing.sign_session import ActPen, SignSession
from desktop.windows.frame.first_start_page import FirstStartWindow
from desktop.windows.frame.guide_page import GuideWindow
from desktop.windows.frame.menu_keys import keys_of
from desktop.windows.frame.real_keys import all_shortcuts, plain
from desktop.windows.orders.order_buttons import BUTTONS
from desktop.windows.paper.papers_dialog import PapersDialog
from desktop.windows.paper.preview_dialog import PreviewDialog
from desktop.windows.paper.which_log_dialog import WhichLogDialog
from desktop.windows.pieces.finding_list import FindingView
from desktop.windows.pieces.look import Look
from desktop.windows.records.record_page import RecordsPage
from desktop.windows.shop.shop_pages import PLACES
from desktop.windows.signing.approval_page import ApprovalPage
from desktop.windows.signing.inspection_page import InspectionPage
from desktop.windows.signing.sign_dialog import SignDialog
from tests.storage.file_floor import QUIET, TEXT
from tests.usecases.records.acting_floor import ActingFloor
from tests.usecases.shop.shop_floor import Floor
from tests.viewmodels.paper.fake_needs import LABELS, LEFT, PAPERS, FakePress
from tests.windows.manners_floor import Sitting


def same(words: str) -> str:
    """Return words as they are compared: without marks of letters, dots at the end, and capitals."""
    return plain(words).strip().rstrip(".…").casefold()


def words_of(widget: QWidget) -> Iterator[str]:
    """Yield every word of a window and of all that it holds, seen at this moment or not."""
    for one in (widget, *widget.findChildren(QWidget)):
        yield one.accessibleName()
        yield one.windowTitle()
        if isinstance(one, (QLabel, QAbstractButton)):
            yield one.text()
        if isinstance(one, QLineEdit):
            yield one.placeholderText()
        if isinstance(one, QComboBox):
            yield from (one.itemText(place) for place in range(one.count()))
    for action in widget.findChildren(QAction):
        yield action.text()


def keys_in(widget: QWidget) -> Iterator[str]:
    """Yield the keys of a window: of its menus, and those that a page of it answers to."""
    if isinstance(widget, QMainWindow):
        for action in widget.findChildren(QAction):
            yield keys_of(action)
    for shortcut in widget.findChildren(QShortcut):
        yield shortcut.key().toString(QKeySequence.SequenceFormat.NativeText)


class RealWords:
    """Opens every window once. ``words`` and ``keys`` hold what was found."""

    def __init__(self, qtbot: QtBot, folder: Path) -> None:
        self.words: set[str] = set()
        self.keys: set[str] = {QKeySequence(QKeySequence.StandardKey.Undo).toString()}
        self._qtbot = qtbot
        self._at_the_shop()
        self._at_the_signed_shop(folder)
        self._around(folder)

    def take(self, widget: QWidget) -> None:
        """Gather from a window."""
        self.words |= {same(word) for word in words_of(widget) if word}
        self.keys |= set(keys_in(widget))

    def _at_the_shop(self) -> None:
        sitting = Sitting(self._qtbot, Floor().with_card())
        window = sitting.window
        for number, _place in enumerate(PLACES, 1):
            window.show_place(number)
            sitting.settle()
        window.show_new_order()
        for name, person in ((name, person) for name, _ in BUTTONS for person in ("DESK", "MECH")):
            window.become(person)
            window.show_order(1)
            place = window.order_place
            assert place is not None
            place.hub_page.buttons[name].click()
            sitting.settle()
            self.take(window)
        window.show_card(1, 1)
        page = window.order_page
        assert page is not None
        for number in range(len(page.session.places)):
            page.page.show_place(number)
            sitting.settle()
            self.take(window)
        for one in all_shortcuts(window):
            self.keys |= {key.strip() for key in one.keys.split(",")}
        sitting.manners.lock_now()
        self.take(window)
        window.close()

    def _at_the_signed_shop(self, folder: Path) -> None:
        with new_shop(folder / "trial.shop", "Trial Works", TEXT, QUIET) as file:
            floor = ActingFloor(file, None).staffed().filled()
            signing = Signing(floor.desk, file)
            pen = ActPen(signing, "MECH", Act(RecordKind.CARD_SUBMITTED, 1, 1))
            parent = QWidget()
            self._qtbot.addWidget(parent)
            dialog = SignDialog(SignSession(signing, pen, lambda: "pen"), Look(), parent)
            self.take(dialog)
            dialog.reject()
            floor.act("MECH", RecordKind.CARD_SUBMITTED)
            inspection = InspectionSession(floor.shop, signing, (1, 1), lambda: "ROLF", lambda: "look")
            approval = ApprovalSession(floor.shop, signing, 1, lambda: "ROLF", lambda: "look")
            pages = (
                InspectionPage(inspection, Look()),
                ApprovalPage(approval, Look()),
                RecordsPage(RecordsDesk(signing, lambda: "KEEP", lambda: "look"), Look()),
            )
            for page in pages:
                self._qtbot.addWidget(page)
                self.take(page)

    def _around(self, folder: Path) -> None:
        card = make_window()
        needs = FirstNeeds(lambda *_: None, folder, frozenset(), lambda *_: None, lambda: folder / "demo.shop")
        first = FirstStartWindow(FirstStart(needs), builtin_guide(), Look())
        press = FakePress(log=LEFT).needs()
        lines = LinesModel((ListColumn("Order", str),), str)
        on_screen = list_choice("Work orders", lines)
        prints = (*card_choices(1, 1), on_screen, roster_choice(), paper_choice(PAPERS[LABELS], LEFT))
        preview = PreviewDialog(PrintDesk(press, prints, at_once=True), Look(), card)
        papers = PapersDialog(PapersDesk(press, 12), Look(), card)
        papers.desk.end()
        log = WhichLogDialog("left", "E-77", Look(), card)
        findings = [FindingView(SaidFinding("x", one, "engine", "Said.", "Source."), Look()) for one in Severity]
        for window in (card, first, preview, papers, log, *findings):
            self._qtbot.addWidget(window)
            self.take(window)
        card.session.is_saved = True


def guide_in(sitting: Sitting) -> GuideWindow:
    """Return the guide that is open."""
    guide = sitting.manners.door.guide
    assert guide is not None
    return guide
