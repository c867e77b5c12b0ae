"""Pictures of a shop's places beside its orders: ``python -m tests.pictures_shop FOLDER``."""

import os
import sys
from collections.abc import Callable, Iterator
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from itertools import count
from pathlib import Path
from tempfile import TemporaryDirectory

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

from PySide6.QtCore import QCoreApplication
from PySide6.QtWidgets import QApplication, QWidget

from desktop import assembly, shop_assembly
from desktop.app import application, make_shop_window
from desktop.usecases.shop.ports import Shop
from desktop.windows.frame.shop_window import ShopWindow
from desktop.windows.lists.kept_list_page import KeptListPage
from desktop.windows.pieces.look import DARK, LIGHT, Look
from desktop.windows.shop.due_page import DuePage
from tests.usecases.shop.visits_floor import DRIFTING, STEADY, add_visits, fill_lists

LOOKS = {"light": Look(LIGHT, 100), "dark": Look(DARK, 100), "large": Look(LIGHT, 200)}
TODAY = datetime(2031, 3, 4, 9, tzinfo=UTC)
DUE, PEOPLE, TOOLS = 1, 2, 3


class SetClock:
    """A clock that stands where it was set."""

    def __init__(self) -> None:
        self.time = TODAY

    def set(self, time: datetime) -> None:
        """Set the clock."""
        self.time = time

    def now(self) -> datetime:
        """Return the time, a second later at each question."""
        self.time += timedelta(seconds=1)
        return self.time


def invented_shop(place: Path) -> tuple[SetClock, Callable[[], str]]:
    """Make an invented shop with people, tools and the visits of two magnetos."""
    clock, numbers = SetClock(), count()
    shop_assembly.make_shop(place, "Quarry Lane Aero Works", "Lena Ode", "LO")
    return clock, lambda: f"picture-{next(numbers)}"


def take_pictures(folder: Path) -> Iterator[Path]:
    """Write a picture of each place of a shop, with and without lines, in each look."""
    folder.mkdir(parents=True, exist_ok=True)
    application()
    with TemporaryDirectory() as spare:
        os.environ["XDG_STATE_HOME"] = spare
        place = Path(spare) / "quarry-lane.shop"
        clock, new_id = invented_shop(place)
        with shop_assembly.shop_at(place) as opened:
            shop = replace(opened, clock=clock)
            yield from _in_each_look(shop, folder, "empty", (_due, _tools))
            fill_lists(shop, "LO", new_id)
            add_visits(shop, "LO", assembly.timing_card(), new_id, clock.set)
            clock.set(TODAY)
            views = (_due, _drift_late, _drift_steady, _drift_unknown, _people, _person, _new_person, _tools, _tool)
            yield from _in_each_look(shop, folder, "shop", (*views, _orders))


def _in_each_look(
    shop: Shop, folder: Path, kind: str, views: tuple[Callable[[ShopWindow], None], ...]
) -> Iterator[Path]:
    for name, look in LOOKS.items():
        window = make_shop_window(shop, "Quarry Lane Aero Works")
        window.show()
        window.set_look(look)
        for view in views:
            view(window)
            _settle()
            picture = folder / f"{kind}-{name}-{view.__name__.strip('_').replace('_', '-')}.png"
            window.grab().save(str(picture))
            yield picture
        window.close()


def _page(window: ShopWindow, number: int) -> QWidget:
    window.show_place(number)
    _settle()
    page = list(window.pages.values())[-1] if number == 0 else window.pages[window.bar.tabs[number].accessibleName()]
    assert isinstance(page, QWidget)
    return page


def _orders(window: ShopWindow) -> None:
    window.show_place(0)


def _due(window: ShopWindow) -> None:
    _page(window, DUE)


def _drift(window: ShopWindow, serial: str) -> None:
    page = _page(window, DUE)
    assert isinstance(page, DuePage)
    page.show_drift(serial)


def _drift_late(window: ShopWindow) -> None:
    _drift(window, DRIFTING)


def _drift_steady(window: ShopWindow) -> None:
    _drift(window, STEADY)


def _drift_unknown(window: ShopWindow) -> None:
    _drift(window, "M-0000")


def _kept_list(window: ShopWindow, number: int) -> KeptListPage:
    page = _page(window, number)
    assert isinstance(page, KeptListPage)
    page.show_list()
    return page


def _people(window: ShopWindow) -> None:
    _kept_list(window, PEOPLE)


def _person(window: ShopWindow) -> None:
    _kept_list(window, PEOPLE).open_line(1)


def _new_person(window: ShopWindow) -> None:
    page = _kept_list(window, PEOPLE)
    page.open_new()
    page.entry.keep()


def _tools(window: ShopWindow) -> None:
    _kept_list(window, TOOLS)


def _tool(window: ShopWindow) -> None:
    _kept_list(window, TOOLS).open_line(0)


def _settle() -> None:
    for _ in range(6):  # reading comes in pieces, and a layout takes its heights a round later than its widths
        QApplication.processEvents()
        QCoreApplication.sendPostedEvents()


if __name__ == "__main__":
    if len(sys.argv) != 2:
        sys.exit("Name the folder for the pictures: python -m tests.pictures_shop FOLDER")
    for written in take_pictures(Path(sys.argv[1])):
        print(written)
