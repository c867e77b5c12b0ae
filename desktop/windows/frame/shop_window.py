"""The window of a shop: its places, the work orders first, a new order, and the card inside its order."""

from functools import partial

from PySide6.QtCore import QTimer, Signal
from PySide6.QtGui import QCloseEvent
from PySide6.QtWidgets import QMainWindow, QStackedWidget, QVBoxLayout, QWidget

from desktop.core.left_off import LeftOff
from desktop.viewmodels.frame.shop_desk import ShopDesk
from desktop.viewmodels.frame.shop_needs import ShopNeeds
from desktop.viewmodels.orders.new_order_form import NewOrderForm
from desktop.viewmodels.orders.order_desk import OrderDesk
from desktop.viewmodels.signing.sign_session import SignSession
from desktop.windows.card.place_bar import PlaceBar
from desktop.windows.frame.at_work import AtWork
from desktop.windows.frame.closing_question import ask_before_closing
from desktop.windows.frame.manners import Manners
from desktop.windows.frame.print_door import PrintDoor
from desktop.windows.frame.shop_menu import MenuActs, ShopMenu
from desktop.windows.frame.standing import go_back, is_begun, name_of_place, show_begun, where
from desktop.windows.frame.who_works import WhoWorks
from desktop.windows.orders.new_order_page import NewOrderPage
from desktop.windows.orders.order_page import OrderPage
from desktop.windows.orders.order_place import OrderPlace
from desktop.windows.orders.orders_page import OrdersPage
from desktop.windows.pieces.look import Look
from desktop.windows.records.records_place import RecordsPlace
from desktop.windows.shop.shop_pages import PLACES, ShopPage
from desktop.windows.signing.sign_dialog import SignDialog

ORDERS = ("Work orders", "Ctrl+1")
NO_ORDER = "No order is open. Open one, then print its papers."


class ShopWindow(QMainWindow):
    """One window at one shop file; a second one may be open at the same time."""

    other_shop_asked = Signal()

    def __init__(self, desk: ShopDesk, name: str, look: Look | None = None, needs: ShopNeeds | None = None) -> None:
        super().__init__()
        self.desk = desk
        self.look = look or Look()
        self.setWindowTitle(f"{name} · Sparkwright")
        self.resize(1280, 800)
        self._stack = QStackedWidget()
        self.bar = PlaceBar((ORDERS, *((place.name, place.keys) for place in PLACES)), self.look)
        self.bar.place_chosen.connect(self.show_place)
        middle = QWidget()
        column = QVBoxLayout(middle)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addWidget(self.bar)
        column.addWidget(self._stack, 1)
        self.setCentralWidget(middle)
        self.pages: dict[str, ShopPage] = {}
        self.orders_desk = OrderDesk(desk.shop, desk.person_id, desk.new_id, self)
        self.orders = OrdersPage(self.orders_desk, self.look)
        self._form = NewOrderForm(self.orders_desk.aircraft, self, self.orders_desk.plates)
        self._may_close = self._is_copied = False
        self.new_order = NewOrderPage(self._form, self.orders_desk, self.look)
        for page in (self.orders, self.new_order):
            self._stack.addWidget(page)
        self.order_place: OrderPlace | None = None
        self.orders.order_chosen.connect(self.show_order)
        self.orders.new_asked.connect(self.show_new_order)
        self.new_order.back_asked.connect(self.show_orders)
        self.orders_desk.order_opened.connect(lambda answer: self.show_order(answer.number))
        desk.refused.connect(partial(self.say, refused=True))
        desk.signed.sign_asked.connect(self.open_sign)
        self.manners: Manners | None = None
        self.door = PrintDoor(self, desk, self.orders_desk, self.shown, self.say, lambda: self.look)
        self._menu = ShopMenu(self, self._menu_acts(), lambda: self.order_page)
        self.who = AtWork(self.menuBar(), self.look)
        desks = (desk, self.orders_desk)
        self._works = WhoWorks(desks, self._menu, self.who, lambda: self.order_place, self.restore, self)
        if needs is not None:
            self.manners = self._works.manners = Manners(self, self, needs)
        self.set_look(self.look)
        self.show_orders()
        self._works.begin()

    def show_orders(self) -> None:
        """Show the work orders."""
        self._leave_order()
        self.orders_desk.look_for_changes()
        self._show(self.orders)
        self.bar.show_place(0)

    def show_place(self, number: int) -> None:
        """Show a place by its number in the bar; a page is built when it is first asked for."""
        if number == 0:
            self.show_orders()
            return
        self._leave_order()
        place = PLACES[number - 1]
        if place.name not in self.pages:
            page = self.pages[place.name] = place.build(self.desk, self.look)
            if isinstance(page, RecordsPlace):
                page.search.print_asked.connect(self.door.print_record)
            self._stack.addWidget(_widget(page))
            self.door.offer(_widget(page))
        self._show(_widget(self.pages[place.name]))
        self.bar.show_place(number)

    def show_new_order(self) -> None:
        """Show the form of a new order."""
        self._leave_order()
        self._show(self.new_order)

    def show_order(self, number: int) -> None:
        """Show an order as a whole."""
        hub = self.desk.hub(number)
        if hub is None:
            return
        self._leave_order()
        place = OrderPlace(self.desk, hub, self.look)
        place.left.connect(self.show_orders)
        place.page_changed.connect(self._page_changed)
        place.who_asked.connect(self._works.ask)
        place.hub_page.papers_asked.connect(partial(self.door.show_papers, number))
        self.order_place = place
        self._stack.addWidget(place)
        self._show(place)
        # A turn later: the page that is left still moves the cursor while it is hidden.
        QTimer.singleShot(0, place, place.hub_page.take_keys)

    def restore(self, left_off: LeftOff) -> None:
        """Go to where somebody left off; what is there no more leads to the work orders.

        While nobody is at work it waits, and only whoever was there goes back to it.
        """
        if self._works.wait(left_off):
            return
        go_back(self, left_off)
        if left_off.is_locked and self.manners is not None:
            self.manners.lock_now()

    def left_off(self) -> LeftOff:
        """Return where the window stands."""
        return where(self)

    def shown(self) -> QWidget:
        """Return the page in front."""
        return self._stack.currentWidget() or self.orders

    @property
    def listed(self) -> str:
        """The name of what the work orders show."""
        return self.orders_desk.asked.value

    def present_place(self) -> str:
        """Name the place that is shown, as the guide knows it."""
        return name_of_place(self)

    @property
    def person(self) -> str:
        """The initials of whoever works here; empty while nobody said so."""
        return self.desk.person_id

    def become(self, person_id: str) -> None:
        """Let another person work here."""
        self._works.become(person_id)
        self._page_changed()

    def show_card(self, number: int, card: int) -> None:
        """Show a card of an order."""
        self.show_order(number)
        if self.order_place is not None:
            self.order_place.show_card(card)

    def open_sign(self, session: SignSession) -> None:
        """Open the dialog of a signature that no order's page asks for."""
        dialog = SignDialog(session, self.look, self)
        dialog.finished.connect(lambda _result: QTimer.singleShot(0, self, self.activateWindow))
        dialog.open()

    @property
    def order_page(self) -> OrderPage | None:
        """The page of a card, while one is shown."""
        return self.order_place.card_page if self.order_place is not None else None

    def say(self, words: str, *, refused: bool = False) -> None:
        """Say something once on the page that is shown, and where it is hidden by a question also there."""
        if self.manners is not None and self.manners.lock.is_asking:
            self.manners.watch.page.tell(words)
        place = self.order_place
        present = self._stack.currentWidget()
        shown = next((one for one in self.pages.values() if _widget(one) is present), None)
        if place is not None:
            place.say(words, refused=refused)
        elif shown is not None:
            shown.say(words, refused=refused)
        else:
            self.orders.say(words, refused=refused)

    def set_look(self, look: Look) -> None:
        """Take a theme and a size of text, everywhere at once."""
        self.look = look
        look.dress(self)
        self.bar.set_look(look)
        self.who.set_look(look)
        if self.manners is not None:
            self.manners.set_look(look)
        for page in (self.orders, self.new_order, self.order_place, *self.pages.values()):
            if page is not None:
                page.set_look(look)

    def closeEvent(self, event: QCloseEvent) -> None:  # noqa: N802 - Qt's name
        """Keep the field that is being typed; ask before something that was not kept is lost."""
        if self.is_begun and not self._may_close:
            event.ignore()
            ask_before_closing(self, show_begun(self), self._close_now)
            return
        if self.manners is not None and not self._is_copied and not self.manners.may_close(self._close_copied):
            self._may_close = False
            event.ignore()
            return
        if self.manners is not None:
            self.manners.end()
        self._leave_order()
        self.orders_desk.rest()
        self.desk.found.end()
        self.desk.copies.end()
        self.door.end()
        super().closeEvent(event)

    @property
    def is_begun(self) -> bool:
        """Whether something was typed in this window that is not kept."""
        return is_begun(self)

    def close_for_restore(self) -> None:
        """Close without asking and without a copy: the shop file is kept aside whole."""
        self._may_close = self._is_copied = True
        self.close()

    def _close_copied(self) -> None:
        self._may_close = self._is_copied = True
        self.close()

    def _close_now(self) -> None:
        self._may_close = True
        self.close()

    def _show(self, page: QWidget) -> None:
        """Show a page; the bar goes where a form or a card needs the room."""
        self.bar.setVisible(page not in (self.new_order, self.order_place))
        self._stack.setCurrentWidget(page)
        self._page_changed()

    def _page_changed(self) -> None:
        """Offer what means something on the page that is shown, and remember where the window stands."""
        is_locked = self.manners is not None and self.manners.lock.is_locked
        if not is_locked:
            self._menu.offer(has_card=self.order_page is not None, has_order=self.order_place is not None)
        if self.manners is not None and self.isVisible() and not is_locked:
            self.manners.remember()

    def _leave_order(self) -> None:
        place, self.order_place = self.order_place, None
        if place is None:
            return
        place.leave()
        self._stack.removeWidget(place)
        place.deleteLater()

    def _menu_acts(self) -> MenuActs:
        """Return what the menus do."""
        places = [(one.name, one.keys, partial(self.show_place, number)) for number, one in enumerate(PLACES, 1)]
        return MenuActs(
            places=((*ORDERS, self.show_orders), *places),
            other_shop=self.other_shop_asked.emit,
            new_order=self.show_new_order,
            print_shown=self.door.print_shown,
            order_papers=self._show_papers,
            shop_papers=self.door.show_papers,
            close=self.close,
            who=lambda person_id: self._works.ask(person_id),  # noqa: PLW0108 - it is made after the menu
            change_theme=self._change_theme,
            change_size=self._change_size,
        )

    def _show_papers(self) -> None:
        if self.order_place is not None:
            self.door.show_papers(self.order_place.hub.number)
        else:
            self.say(NO_ORDER, refused=True)

    def _change_theme(self) -> None:
        self.set_look(self.look.other_theme())

    def _change_size(self, step: int) -> None:
        self.set_look(self.look.resized(step))


def _widget(page: ShopPage) -> QWidget:
    assert isinstance(page, QWidget)  # noqa: S101 - every page is one; the protocol cannot say it
    return page
