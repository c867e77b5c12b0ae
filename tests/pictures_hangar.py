"""Pictures of the hangar view and of the records: ``python -m tests.pictures_hangar FOLDER``."""

import os
import sys
from collections.abc import Iterator
from pathlib import Path
from tempfile import TemporaryDirectory

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

from PySide6.QtWidgets import QApplication, QWidget

from desktop import shop_assembly
from desktop.app import application, make_shop_window
from desktop.files.demo_jobs import demo_jobs
from desktop.viewmodels.orders.order_session import OrderSession
from desktop.windows.hangar.hangar_view import HangarView
from desktop.windows.pieces.look import CONTRAST, DARK, LIGHT, Look
from desktop.windows.records.records_place import RecordsPlace
from tests.commands.test_shop_commands import order_with
from tests.storage.signed_file import signed_file

LOOKS = {
    "light": Look(LIGHT),
    "dark": Look(DARK),
    "contrast": Look(CONTRAST),
    "light-large": Look(LIGHT, 200),
    "contrast-large": Look(CONTRAST, 200),
}


def take_pictures(folder: Path) -> Iterator[Path]:
    """Write a picture of each step of the demo cards in the hangar view, and of the records, in each look."""
    folder.mkdir(parents=True, exist_ok=True)
    application()
    with TemporaryDirectory() as spare:
        os.environ["XDG_STATE_HOME"] = spare
        place = Path(spare) / "quarry-lane.shop"
        shop_assembly.make_shop(place, "Quarry Lane Aero Works", "Lena Ode", "LO")
        for registration, (_, typed) in zip(("XQ-TBK", "XQ-FEN", "XQ-KIT"), demo_jobs(), strict=True):
            order_with(place, registration, typed)
        with shop_assembly.shop_at(place) as shop:
            for number in (1, 2, 3):
                session = OrderSession(shop, "LO", (number, 1), shop_assembly.new_id)
                for name, look in LOOKS.items():
                    yield from _hangar(session, look, folder, f"hangar-{number}-{name}")
        signed = Path(spare) / "mill.shop"
        signed_file(signed)
        for name, look in LOOKS.items():
            yield from _records(signed, look, folder, f"records-{name}")


def _hangar(session: OrderSession, look: Look, folder: Path, name: str) -> Iterator[Path]:
    host = QWidget()
    view = HangarView(session, look, 0, None, host)
    view.resize(1280, 800)
    view.show()
    shown = view.desk.shown()
    for _ in range(2 * len(session.places)):
        part = "readings" if shown.is_work else "words"
        yield _grab(view, folder / f"{name}-{view.desk.number + 1:02}-{part}.png")
        before = (view.desk.number, shown.is_work)
        view.desk.step(1)
        shown = view.desk.shown()
        if (view.desk.number, shown.is_work) == before:
            break
    view.close()


def _records(place: Path, look: Look, folder: Path, name: str) -> Iterator[Path]:
    with shop_assembly.shop_at(place) as shop:
        window = make_shop_window(shop, "Mill Shop", look)
        window.resize(1280, 800)
        window.show()
        _settle()
        names = [tab.accessibleName() for tab in window.bar.tabs]
        window.show_place(names.index("Records"))
        page = window.pages["Records"]
        assert isinstance(page, RecordsPlace)
        yield _grab(window, folder / f"{name}-list.png")
        page.search.verify.click()
        while page.search.desk.is_busy:
            QApplication.processEvents()
        yield _grab(window, folder / f"{name}-verified.png")
        page.search.show_list()
        page.open_record(5)
        yield _grab(window, folder / f"{name}-record.png")
        window.close()


def _grab(window: QWidget, place: Path) -> Path:
    _settle()
    window.grab().save(str(place))
    return place


def _settle() -> None:
    for _ in range(6):
        QApplication.processEvents()


if __name__ == "__main__":
    if len(sys.argv) != 2:
        sys.exit("Name the folder for the pictures: python -m tests.pictures_hangar FOLDER")
    for written in take_pictures(Path(sys.argv[1])):
        print(written)
