"""The way from a shop's window to paper: what is shown, the papers of an order, the papers of the shop."""

from collections.abc import Callable
from functools import partial

from PySide6.QtCore import QObject, QTimer
from PySide6.QtWidgets import QWidget

from desktop.viewmodels.frame.shop_desk import ShopDesk
from desktop.viewmodels.orders.order_desk import OrderDesk
from desktop.viewmodels.paper.choices import Choice, card_choices, record_choice
from desktop.viewmodels.paper.papers_desk import PapersDesk
from desktop.viewmodels.paper.print_desk import PrintDesk
from desktop.windows.frame.what_prints import what_prints
from desktop.windows.lists.list_page import ListPage
from desktop.windows.orders.order_page import OrderPage
from desktop.windows.orders.order_place import OrderPlace
from desktop.windows.paper.papers_dialog import PapersDialog
from desktop.windows.paper.preview_desk import PreviewDesk, Say
from desktop.windows.pieces.look import Look
from desktop.windows.records.record_page import RecordsPage

NO_FILE = "Papers are printed from a shop file, and this shop has none."


class PrintDoor(QObject):
    """Opens one preview at a time, and the list of papers. ``shown`` gives the page in front, ``say`` speaks on it."""

    def __init__(
        self,
        window: QWidget,
        desk: ShopDesk,
        orders: OrderDesk,
        shown: Callable[[], QWidget],
        say: Say,
        look: Callable[[], Look],
    ) -> None:
        super().__init__(window)
        self._window, self._desk, self._orders = window, desk, orders
        self._shown, self._say, self._look = shown, say, look
        self.preview: PreviewDesk | None = None
        self.papers: PapersDialog | None = None

    def print_shown(self) -> None:
        """Print what is in front: the card, the list, the record; of an order, choose from its papers."""
        page = self._shown()
        if isinstance(page, OrderPlace) and page.card_page is not None:
            self._print_card(page.card_page)
            return
        if isinstance(page, OrderPlace) and not isinstance(page.page, RecordsPage):
            self.show_papers(page.hub.number)
            return
        shown = page.page if isinstance(page, OrderPlace) and page.page is not None else page
        found = what_prints(shown, self._desk, self._orders)
        if isinstance(found, str):
            self._say(found, refused=True)
        else:
            self.show(found)

    def offer(self, page: QWidget) -> None:
        """Give the lists of a page their button, where this shop prints."""
        if self._desk.papers is not None:
            for one in page.findChildren(ListPage):
                one.offer_print()
                one.print_asked.connect(self.print_shown)

    def print_record(self, number: int) -> None:
        """Print a signed record, exactly as it was signed."""
        self.show((record_choice(number),))

    def show_papers(self, order: int = 0) -> None:
        """Show the papers of an order; without one, those of the shop."""
        needs = self._desk.papers
        if needs is None:
            self._say(NO_FILE, refused=True)
            return
        if self.papers is not None or self.preview is not None:
            return
        dialog = PapersDialog(PapersDesk(needs, order), self._look(), self._window)
        self.papers = dialog
        dialog.preview_asked.connect(partial(self._show_over, dialog))
        dialog.finished.connect(self._forget_papers)
        dialog.open()

    def show(self, choices: tuple[Choice, ...], parent: QWidget | None = None, say: Say | None = None) -> None:
        """Show one paper as it will print."""
        needs = self._desk.papers
        if needs is None:
            self._say(NO_FILE, refused=True)
            return
        if self.preview is not None:
            return
        desk = PreviewDesk(parent or self._window, PrintDesk(needs, choices), say or self._say, self._look())
        self.preview = desk
        desk.ended.connect(self._forget_preview)
        desk.begin()

    def end(self) -> None:
        """Make nothing more, before the window closes."""
        if self.preview is not None:
            self.preview.end()
        if self.papers is not None:
            self.papers.close()

    def _print_card(self, card: OrderPage) -> None:
        card.page.commit_focused()
        session = card.session
        self.show(card_choices(session.order.number, session.card.number))

    def _show_over(self, dialog: PapersDialog, choice: Choice) -> None:
        self.show((choice,), dialog, dialog.say)

    def _forget_preview(self) -> None:
        desk, self.preview = self.preview, None
        if desk is not None:
            desk.end()
            desk.deleteLater()
            QTimer.singleShot(0, self, self._take_keys)

    def _forget_papers(self) -> None:
        self.papers = None
        QTimer.singleShot(0, self, self._take_keys)

    def _take_keys(self) -> None:
        """Give the keyboard back to what lies below; not every desktop does that by itself."""
        if self.preview is None:
            (self.papers or self._window).activateWindow()
