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

from desktop import assembly, copy_assembly, shop_assembly
from desktop.app import application, make_shop_window
from desktop.core.shop.settings import ShopSettings
from desktop.files.guide import builtin_guide
from desktop.usecases.shop.lists.keep_settings import keep_settings
from desktop.usecases.shop.ports import Request, Shop
from desktop.viewmodels.shop.copies_found import FoundCopy
from desktop.viewmodels.shop.copies_restore import RestoreDesk, RestoreNeeds
from desktop.windows.frame.restore_window import RestoreWindow
from desktop.windows.frame.shop_window import ShopWindow
from desktop.windows.lists.kept_list_page import KeptListPage
from desktop.windows.pieces.look import DARK, LIGHT, Look
from desktop.windows.shop.copies_page import MAKING
from desktop.windows.shop.copies_place import CopiesPlace
from desktop.windows.shop.due_page import DuePage
from tests.usecases.shop.visits_floor import DRIFTING, STEADY, add_visits, fill_lists

LOOKS = {"light": Look(LIGHT, 100), "dark": Look(DARK, 100), "large": Look(LIGHT, 200)}
TODAY = datetime(2031, 3, 4, 9, tzinfo=UTC)
DUE, PEOPLE, TOOLS, COPIES = 1, 2, 3, 7
COPIES_FOLDER = "Copies that leave the house"


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
            yield from _in_each_look(shop, folder, "empty", (_due, _tools, _copies))
            fill_lists(shop, "LO", new_id)
            add_visits(shop, "LO", assembly.timing_card(), new_id, clock.set)
            clock.set(TODAY)
            views = (_due, _drift_late, _drift_steady, _drift_unknown, _people, _person, _new_person, _tools, _tool)
            _make_copies(place, Path(spare) / COPIES_FOLDER)
            keep_settings(shop, Request(new_id(), "LO"), ShopSettings(backup_place=str(Path(spare) / COPIES_FOLDER)))
            more = (*views, _copies, _copying, _restore_choose, _restore_older, _restore_refused)
            yield from _in_each_look(shop, folder, "shop", (*more, _orders))
            yield from _first_restore(folder)


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


def _make_copies(shop: Path, folder: Path) -> None:
    """Make two copies, and cut one of them short."""
    folder.mkdir()
    for _ in range(2):
        copy_assembly.back_up_at_pace(shop, folder, lambda _done, _of: True)
    first = min(folder.iterdir())
    first.write_bytes(first.read_bytes()[:20000])


def _copies_place(window: ShopWindow) -> CopiesPlace:
    page = _page(window, COPIES)
    assert isinstance(page, CopiesPlace)
    while page.desk.is_looking:
        QApplication.processEvents()
    page.show_copies()
    return page


def _copies(window: ShopWindow) -> None:
    _copies_place(window)


def _copying(window: ShopWindow) -> None:
    page = _copies_place(window).copies
    page.strip.begin(MAKING, can_stop=True)
    page.strip.show_pace(420, 1203)
    page._buttons.hide()  # noqa: SLF001 - as while a copy is made


FOUND = FoundCopy(
    Path("/media/safe/Quarry Lane Aero Works 2031-03-01 170211.shop-copy"),
    Path("/home/shop/quarry-lane.shop"),
    "Quarry Lane Aero Works",
    "2031-03-01T17:02:11+01:00",
    *(212, 640, "0f1e2d3c4b5a69788796a5b4c3d2e1f00f1e2d3c4b5a69788796a5b4c3d2e1f0"),
    "is older than the present file: it lacks 2 orders, 9 records, 31 changes of orders",
    is_older=True,
    has_present=True,
    present_records=649,
    keepers=(("LO", "Lena Ode"), ("TR", "Tom Rill")),
    missing=("W-0213 (XQ-TBK)", "W-0214 (XQ-ABD)"),
    changed=("W-0198 (XQ-OOM)", "W-0207 (XQ-TBK)"),
)


def _restore_page(window: ShopWindow) -> CopiesPlace:
    place = _copies_place(window)
    place._stack.setCurrentWidget(place.restore)  # noqa: SLF001 - as after a copy was chosen
    return place


def _restore_choose(window: ShopWindow) -> None:
    _restore_page(window)


def _restore_older(window: ShopWindow) -> None:
    _restore_page(window).desk.restoring.show_found(FOUND)


def _restore_refused(window: ShopWindow) -> None:
    place = _restore_page(window)
    place.desk.restoring.show_found(FOUND)
    place.restore.act()


def _first_restore(folder: Path) -> Iterator[Path]:
    """Write pictures of a restore where there is no shop file any more."""
    new = replace(FOUND, is_older=False, has_present=False, present_records=None, missing=(), changed=())
    for name, look in LOOKS.items():
        needs = RestoreNeeds(lambda *_: lambda _pace: None, lambda *_: lambda _pace: None, Path("/home/shop"))
        window = RestoreWindow(RestoreDesk(needs, None, is_open=False), builtin_guide(), look)
        window.show()
        window.desk.show_found(new)
        _settle()
        picture = folder / f"first-{name}-restore.png"
        window.grab().save(str(picture))
        yield picture
        window.close()


def _settle() -> None:
    for _ in range(6):  # reading comes in pieces, and a layout takes its heights a round later than its widths
        QApplication.processEvents()
        QCoreApplication.sendPostedEvents()


if __name__ == "__main__":
    if len(sys.argv) != 2:
        sys.exit("Name the folder for the pictures: python -m tests.pictures_shop FOLDER")
    for written in take_pictures(Path(sys.argv[1])):
        print(written)
