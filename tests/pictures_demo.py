"""Pictures of every place of the demo's shop: ``python -m tests.pictures_demo FOLDER``.

The same shop, the same people, the same orders as whoever looks round the demo sees; light, dark and at 200 percent.
"""

import os
import sys
from collections.abc import Callable, Iterator
from pathlib import Path
from tempfile import TemporaryDirectory

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

from PySide6.QtWidgets import QApplication, QDialog, QWidget

from desktop import shop_assembly
from desktop.app import application, make_shop_window
from desktop.core.shop.orders.order_states import OrderState
from desktop.demo.shop import build_shop
from desktop.usecases.shop.ports import Shop
from desktop.windows.frame.shop_window import ShopWindow
from desktop.windows.pieces.look import DARK, LIGHT, Look
from desktop.windows.shop.shop_pages import PLACES

LOOKS = {"light": Look(LIGHT, 100), "dark": Look(DARK, 100), "large": Look(LIGHT, 200)}
View = Callable[[ShopWindow], QWidget]


def take_pictures(folder: Path) -> Iterator[Path]:
    """Write a picture of each place of the demo's shop in each look."""
    folder.mkdir(parents=True, exist_ok=True)
    application()
    with TemporaryDirectory() as spare:
        os.environ["XDG_STATE_HOME"] = spare
        place = Path(spare) / "demo.shop"
        build_shop(place)
        with shop_assembly.shop_at(place) as shop:
            for name, view in views(shop).items():
                for look_name, look in LOOKS.items():
                    window = make_shop_window(shop, "demo", look)
                    window.become("AV")
                    window.show()
                    shown = view(window)
                    settle()
                    picture = folder / f"{name}-{look_name}.png"
                    shown.grab().save(str(picture))
                    yield picture
                    close(window)


def views(shop: Shop) -> dict[str, View]:
    """Return how each place is come to: the bar, an order in each state with what opens from it, each kind of card."""
    found: dict[str, View] = {"orders": _itself, "new-order": _new_order}
    for number, place in enumerate(PLACES, 1):
        found[place.name.lower().replace(" ", "-")] = _place(number)
    for state, number in first_in_each_state(shop).items():
        name = state.value.replace(" ", "-")
        found[f"order-{name}"] = _order(number)
        order = shop.store.order(number)
        for card in order.cards[:1] if order is not None else ():
            found[f"card-{name}"] = _card(number, card.number)
        if state is OrderState.ACCEPTED:
            found["approval"] = _approval(number)
        if state is OrderState.IN_WORK:
            for form in ("discrepancy", "part", "search", "directive", "time", "leave-out", "void"):
                found[f"form-{form}"] = _form(number, form)
            found["issue"] = _job(number)
            found["records-of-order"] = _records(number)
    return found


def first_in_each_state(shop: Shop) -> dict[OrderState, int]:
    """Return the lowest order number in each state."""
    found: dict[OrderState, int] = {}
    number = 1
    while (order := shop.store.order(number)) is not None:
        found.setdefault(order.state, number)
        number += 1
    return found


def _itself(window: ShopWindow) -> QWidget:
    return window


def _new_order(window: ShopWindow) -> QWidget:
    window.show_new_order()
    return window


def _place(number: int) -> View:
    def view(window: ShopWindow) -> QWidget:
        window.show_place(number)
        return window

    return view


def _order(number: int) -> View:
    def view(window: ShopWindow) -> QWidget:
        window.show_order(number)
        return window

    return view


def _card(number: int, card: int) -> View:
    def view(window: ShopWindow) -> QWidget:
        window.show_card(number, card)
        return window

    return view


def _form(number: int, name: str) -> View:
    def view(window: ShopWindow) -> QWidget:
        window.show_order(number)
        settle()
        place = window.order_place
        assert place is not None
        place.show_form(name, window.desk.around_form(name, place.hub.order))
        return window

    return view


def _job(number: int) -> View:
    def view(window: ShopWindow) -> QWidget:
        window.show_order(number)
        settle()
        assert window.order_place is not None
        window.order_place.show_job()
        return window

    return view


def _records(number: int) -> View:
    def view(window: ShopWindow) -> QWidget:
        window.show_order(number)
        settle()
        assert window.order_place is not None
        window.order_place.show_records()
        return window

    return view


def _approval(number: int) -> View:
    def view(window: ShopWindow) -> QWidget:
        window.show_order(number)
        settle()
        assert window.order_place is not None
        window.order_place.show_approval(approves=True)
        return window

    return view


def settle() -> None:
    """Let the window take its shape."""
    for _ in range(8):
        QApplication.processEvents()


def close(window: ShopWindow) -> None:
    """Close a window, whatever stands in it."""
    for dialog in window.findChildren(QDialog):
        dialog.reject()
    window._may_close = True  # noqa: SLF001 - the picture is taken
    window.close()
    window.deleteLater()
    settle()


def main() -> None:
    """Take the pictures and say how many there are."""
    taken = list(take_pictures(Path(sys.argv[1])))
    print(f"{len(taken)} pictures in {sys.argv[1]}")


if __name__ == "__main__":
    main()
