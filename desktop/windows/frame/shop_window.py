"""The window of a shop: its places, the work orders first, a new order, and the card inside its order."""

from collections.abc import Callable
from functools import partial

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtGui import QAction, QActionGroup, QCloseEvent, QKeySequence
from PySide6.QtWidgets import QMainWindow, QMenu, QMessageBox, QStackedWidget, QVBoxLayout, QWidget

from desktop.core.left_off import LeftOff
from desktop.core.shop.orders.order_line import order_name
from desktop.core.timing.readings import Side
from desktop.viewmodels.card.card_pictures import View
from desktop.viewmodels.frame.shop_desk import ShopDesk
from desktop.viewmodels.frame.shop_needs import ShopNeeds
from desktop.viewmodels.orders.new_order_form import NewOrderForm
from desktop.viewmodels.orders.order_desk import OrderDesk
from desktop.viewmodels.signing.sign_session import SignSession
from desktop.windows.card.place_bar import PlaceBar
from desktop.windows.frame.lock_watch import STAYS
from desktop.windows.frame.manners import Manners
from desktop.windows.frame.present_place import NEW_ORDER, WORK_ORDERS, place_of
from desktop.windows.orders.new_order_page import NewOrderPage
from desktop.windows.orders.order_page import OrderPage
from desktop.windows.orders.order_place import OrderPlace
from desktop.windows.orders.orders_page import OrdersPage
from desktop.windows.paper.paper_desk import MakePaper, Pages, PaperDesk
from desktop.windows.pieces.look import Look
from desktop.windows.records.records_place import RecordsPlace
from desktop.windows.shop.shop_pages import PLACES, ShopPage
from desktop.windows.signing.sign_dialog import SignDialog

ORDERS = ("Work orders", "Ctrl+1")


class ShopWindow(QMainWindow):
    """One window at one shop file; a second one may be open at the same time."""

    other_shop_asked = Signal()

    def __init__(
        self, desk: ShopDesk, name: str, pages: Pages, look: Look | None = None, needs: ShopNeeds | None = None
    ) -> None:
        super().__init__()
        self.desk = desk
        self.look = look or Look()
        self._papers = PaperDesk(self, pages, desk.save_paper)
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
        self._form = NewOrderForm(self.orders_desk.aircraft, self)
        self._may_close = self._is_copied = False
        self.new_order = NewOrderPage(self._form, self.orders_desk, self.look)
        for page in (self.orders, self.new_order):
            self._stack.addWidget(page)
        self.order_place: OrderPlace | None = None
        self.orders.order_chosen.connect(self.show_order)
        self.orders.new_asked.connect(self.show_new_order)
        self.new_order.back_asked.connect(self.show_orders)
        self.orders_desk.order_opened.connect(lambda answer: self.show_order(answer.number))
        desk.refused.connect(self._say_refusal)
        desk.signed.sign_asked.connect(self.open_sign)
        desk.roster.kept.connect(lambda _words: self._list_people())
        self.manners: Manners | None = None
        self._build_menu()
        if needs is not None:
            self.manners = Manners(self, self, needs)
        self.set_look(self.look)
        self.show_orders()

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
                page.paper_asked.connect(self._print_record)
            self._stack.addWidget(_widget(page))
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
        self.order_place = place
        self._stack.addWidget(place)
        self._show(place)
        # A turn later: the page that is left still moves the cursor while it is hidden.
        QTimer.singleShot(0, place, place.hub_page.take_keys)

    def restore(self, left_off: LeftOff) -> None:
        """Go to where somebody left off; what is there no more leads to the work orders."""
        names = [place.name for place in PLACES]
        if left_off.order and self.desk.shop.store.version(left_off.order):
            if left_off.card:
                self.show_card(left_off.order, left_off.card)
            else:
                self.show_order(left_off.order)
        elif left_off.place in names:
            self.show_place(names.index(left_off.place) + 1)
        if left_off.is_locked and self.manners is not None:
            self.manners.lock_now()

    def left_off(self) -> LeftOff:
        """Return where the window stands."""
        if self.order_place is not None:
            card = self.order_page.session.card.number if self.order_page is not None else 0
            return LeftOff(order=self.order_place.hub.number, card=card)
        present = self._stack.currentWidget()
        return LeftOff(place=next((name for name, page in self.pages.items() if _widget(page) is present), ""))

    def present_place(self) -> str:
        """Name the place that is shown, as the guide knows it."""
        if self.order_place is not None:
            return place_of(self.order_place.page)
        if self._stack.currentWidget() is self.new_order:
            return NEW_ORDER
        return self.left_off().place or WORK_ORDERS

    @property
    def person(self) -> str:
        """The initials of whoever works here."""
        return self.desk.person_id

    def become(self, person_id: str) -> None:
        """Let another person work here."""
        self._become(person_id)
        self._list_people()

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

    def _say_refusal(self, words: str) -> None:
        """Say a refusal on the page that is shown."""
        place = self.order_place
        present = self._stack.currentWidget()
        shown = next((one for one in self.pages.values() if _widget(one) is present), None)
        if place is not None:
            place.say(words, refused=True)
        elif shown is not None:
            shown.say(words, refused=True)
        else:
            self.orders.say(words, refused=True)

    def set_look(self, look: Look) -> None:
        """Take a theme and a size of text, everywhere at once."""
        self.look = look
        look.dress(self)
        self.bar.set_look(look)
        if self.manners is not None:
            self.manners.set_look(look)
        for page in (self.orders, self.new_order, self.order_place, *self.pages.values()):
            if page is not None:
                page.set_look(look)

    def closeEvent(self, event: QCloseEvent) -> None:  # noqa: N802 - Qt's name
        """Keep the field that is being typed; ask before something that was not kept is lost."""
        self.new_order.commit_all()
        begun = next((number for number, place in enumerate(PLACES, 1) if self._is_begun(place.name)), 0)
        is_on_order = self.order_place is not None and self.order_place.is_begun
        if (self._form.is_begun or begun or is_on_order) and not self._may_close:
            event.ignore()
            self._ask_about_typed(begun)
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
        super().closeEvent(event)

    def _close_copied(self) -> None:
        self._may_close = self._is_copied = True
        self.close()

    def _is_begun(self, name: str) -> bool:
        return name in self.pages and self.pages[name].is_begun

    def _ask_about_typed(self, begun: int) -> None:
        """Ask about a new order, or else about what was typed at a place of the bar."""
        box = QMessageBox(self)
        if self._form.is_begun:
            self.show_new_order()
            box.setWindowTitle("Not opened")
            box.setText("This new order is not opened yet. Closed now, it is lost.")
        elif self.order_place is not None and self.order_place.is_begun:
            self.order_place.show_begun()
            box.setWindowTitle("Not kept")
            box.setText("Something that was typed on this order is not kept yet. Closed now, it is lost.")
        else:
            self.show_place(begun)
            self.pages[PLACES[begun - 1].name].show_begun()
            box.setWindowTitle("Not kept")
            box.setText("Something that was typed here is not kept yet. Closed now, it is lost.")
        stay = box.addButton("Stay here", QMessageBox.ButtonRole.RejectRole)
        box.addButton("Close without it", QMessageBox.ButtonRole.DestructiveRole)
        box.buttonClicked.connect(lambda button: None if button is stay else self._close_now())
        box.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        box.open()

    def _close_now(self) -> None:
        self._may_close = True
        self.close()

    def _show(self, page: QWidget) -> None:
        """Show a page; the bar goes where a form or a card needs the room."""
        self.bar.setVisible(page not in (self.new_order, self.order_place))
        self._stack.setCurrentWidget(page)

    def _leave_order(self) -> None:
        place, self.order_place = self.order_place, None
        if place is None:
            return
        place.leave()
        self._stack.removeWidget(place)
        place.deleteLater()

    def _build_menu(self) -> None:
        places = self.menuBar().addMenu("&Places")
        self._add(places.addAction(ORDERS[0]), ORDERS[1], self.show_orders)
        for number, place in enumerate(PLACES, 1):
            self._add(places.addAction(place.name), place.keys, partial(self.show_place, number))
        self._add(places.addAction("&Another shop…"), "Ctrl+O", self.other_shop_asked.emit)
        work = self.menuBar().addMenu("&Work")
        self._add(work.addAction("&New work order"), "Ctrl+N", self.show_new_order)
        self._add(work.addAction("Next open field"), "Ctrl+Return", self._next_open)
        self._add(work.addAction("Next place"), "Ctrl+PgDown", partial(self._step, 1))
        self._add(work.addAction("Place before"), "Ctrl+PgUp", partial(self._step, -1))
        for side in Side:
            name = f"{side.capitalize()} magneto: off the card, or on it again"
            self._add(work.addAction(name), "", partial(self._turn_magneto, side))
        self._add(work.addAction("&Print the card…"), "Ctrl+P", self._print)
        self._add(work.addAction("&Close"), "Ctrl+Q", self.close)
        work.actions()[-1].setProperty(STAYS, True)  # noqa: FBT003 - Qt's signature
        self._people: QMenu = self.menuBar().addMenu("I &am")
        self._who = QActionGroup(self)
        self._list_people()
        view = self.menuBar().addMenu("&View")
        self._add(view.addAction("Turn the view round"), "Ctrl+D", self._turn_view)
        self._add(view.addAction("Light or &dark"), "Ctrl+L", self._change_theme)
        self._add(view.addAction("&Larger text"), "Ctrl++", partial(self._change_size, 1))
        self._add(view.addAction("&Smaller text"), "Ctrl+-", partial(self._change_size, -1))

    def _list_people(self) -> None:
        """Offer everybody who is with the shop today."""
        self._people.clear()
        for one in self.desk.people():
            action = self._people.addAction(f"{one.name} ({one.id})")
            action.setCheckable(True)
            action.setChecked(one.id == self.desk.person_id)
            action.triggered.connect(partial(self._become, one.id))
            self._who.addAction(action)

    def _add(self, action: QAction, keys: str, act: Callable[[], object]) -> None:
        action.setShortcut(QKeySequence(keys))
        action.triggered.connect(lambda _checked=False: act())

    def _become(self, person_id: str) -> None:
        self.desk.person_id = self.orders_desk.person_id = person_id
        if self.manners is not None:
            self.manners.say_who()
        if self.order_page is not None:
            self.order_page.session.person_id = person_id
            self.order_page.session.reload()
        elif self.order_place is not None:
            self.order_place.hub.reload()

    def _step(self, by: int) -> None:
        if self.order_page is not None:
            page = self.order_page.page
            page.show_place(page.current + by)

    def _next_open(self) -> None:
        if self.order_page is not None:
            self.order_page.page.commit_focused()
            self.order_page.page.go_to_next_open()

    def _print(self) -> None:
        if self.order_page is not None:
            page = self.order_page
            page.page.commit_focused()
            self._papers.show(page.session.paper, order_name(page.session.order.number), page.page.say, self.look)

    def _print_record(self, make: MakePaper, name: str) -> None:
        """Show the pages of a signed record."""
        self._papers.show(make, name, self.pages["Records"].say, self.look)

    def _turn_magneto(self, side: Side) -> None:
        if self.order_page is not None:
            session = self.order_page.session
            session.show_magneto(side, present=getattr(session.state.typed, side) is None)

    def _turn_view(self) -> None:
        if self.order_page is not None:
            page = self.order_page.page
            page.set_view(View.REAR if page.view is View.PROPELLER else View.PROPELLER)

    def _change_theme(self) -> None:
        self.set_look(self.look.other_theme())

    def _change_size(self, step: int) -> None:
        self.set_look(self.look.resized(step))


def _widget(page: ShopPage) -> QWidget:
    assert isinstance(page, QWidget)  # noqa: S101 - every page is one; the protocol cannot say it
    return page
