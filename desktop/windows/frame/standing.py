"""Where a shop's window stands, how it goes back there, and what was typed in it that is not kept."""

from typing import Protocol

from PySide6.QtWidgets import QWidget

from desktop.core.left_off import LeftOff
from desktop.viewmodels.frame.shop_desk import ShopDesk
from desktop.viewmodels.pieces.begun import OnOrder
from desktop.windows.frame.closing_question import HERE, NOT_KEPT, NOT_OPENED
from desktop.windows.frame.present_place import NEW_ORDER, WORK_ORDERS, place_of
from desktop.windows.orders.new_order_page import NewOrderPage
from desktop.windows.orders.order_place import OrderPlace
from desktop.windows.shop.shop_pages import PLACES, ShopPage


class Places(Protocol):
    """What a window with places has, and how it goes to them."""

    desk: ShopDesk
    new_order: NewOrderPage
    order_place: OrderPlace | None
    pages: dict[str, ShopPage]

    def shown(self) -> QWidget:
        """Return the page in front."""
        ...

    def show_new_order(self) -> None:
        """Show the form of a new order."""
        ...

    def show_order(self, number: int) -> None:
        """Show an order."""
        ...

    def show_card(self, number: int, card: int) -> None:
        """Show a card of an order."""
        ...

    def show_place(self, number: int) -> None:
        """Show a place of the bar."""
        ...


def where(window: Places) -> LeftOff:
    """Return where a window stands: an order and its card, or a place of the bar."""
    place = window.order_place
    if place is not None:
        return LeftOff(order=place.hub.number, card=place.card_page.session.card.number if place.card_page else 0)
    shown: object = window.shown()
    return LeftOff(place=next((name for name, page in window.pages.items() if page is shown), ""))


def name_of_place(window: Places) -> str:
    """Name the place that is shown, as the guide knows it."""
    if window.order_place is not None:
        return place_of(window.order_place.page)
    return NEW_ORDER if window.shown() is window.new_order else where(window).place or WORK_ORDERS


def go_back(window: Places, left_off: LeftOff) -> None:
    """Go to where somebody left off; what is there no more leads to the work orders."""
    names = [place.name for place in PLACES]
    if left_off.order and window.desk.shop.store.version(left_off.order):
        if left_off.card:
            window.show_card(left_off.order, left_off.card)
        else:
            window.show_order(left_off.order)
    elif left_off.place in names:
        window.show_place(names.index(left_off.place) + 1)


def is_begun(window: Places) -> bool:
    """Tell whether something was typed in a window that is not kept."""
    window.new_order.commit_all()
    is_on_order = window.order_place is not None and window.order_place.is_begun
    return bool(window.new_order.is_begun or is_on_order or window.desk.begun or _begun_place(window))


def show_begun(window: Places) -> str:
    """Show where something is not kept, and return what is to be asked: a new order first, then orders, then places."""
    begun = window.desk.begun
    waits = next((one for one in begun.places() if isinstance(one, OnOrder)), None)
    if window.new_order.is_begun:
        window.show_new_order()
        return NOT_OPENED
    if waits is not None:
        place = window.order_place
        if place is not None and place.hub.number == waits.order:
            place.show_hub()
        else:
            window.show_order(waits.order)
        return NOT_KEPT.format(names=begun.names())
    number = _begun_place(window)
    window.show_place(number)
    window.pages[PLACES[number - 1].name].show_begun()
    return HERE


def _begun_place(window: Places) -> int:
    """Return the number of the first place of the bar where something waits, 0 for none."""
    pages = window.pages
    return next((at for at, one in enumerate(PLACES, 1) if one.name in pages and pages[one.name].is_begun), 0)
