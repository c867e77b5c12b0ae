"""Pictures of first start, settings, lock, guide and small dialogs: ``python -m tests.pictures_manners FOLDER``."""

import os
import sys
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from tempfile import TemporaryDirectory

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

from PySide6.QtCore import QCoreApplication
from PySide6.QtWidgets import QApplication, QWidget

from desktop import shop_assembly
from desktop.app import application, make_shop_window, needs_of
from desktop.core.left_off import LeftOff
from desktop.shop_windows import ShopWindows
from desktop.usecases.records.copies.backup import OnClosing
from desktop.usecases.records.keys.people_ports import FOR_DEMO
from desktop.viewmodels.frame.bug_report import bug_report
from desktop.viewmodels.frame.closing_copy import ClosingCopy
from desktop.viewmodels.frame.guide import KEYS_PAGE
from desktop.windows.frame.bug_dialog import BugDialog
from desktop.windows.frame.closing_dialog import ClosingDialog
from desktop.windows.frame.shop_window import ShopWindow
from desktop.windows.paper.which_log_dialog import WhichLogDialog
from desktop.windows.pieces.look import CONTRAST, DARK, LIGHT, Look
from tests.usecases.shop.visits_floor import fill_lists

LOOKS = {
    "light": Look(LIGHT, 100),
    "dark": Look(DARK, 100),
    "contrast": Look(CONTRAST, 100),
    "large": Look(LIGHT, 200),
}


class Nothing:
    """A memory that keeps nothing."""

    def read(self) -> LeftOff:
        """Return the beginning."""
        return LeftOff()

    def write(self, left_off: LeftOff) -> None:
        """Keep nothing."""


def take_pictures(folder: Path) -> Iterator[Path]:
    """Write a picture of each place in each look."""
    folder.mkdir(parents=True, exist_ok=True)
    application()
    with TemporaryDirectory() as spare:
        os.environ["XDG_STATE_HOME"] = spare
        yield from _first_start(folder, Path(spare))
        place = Path(spare) / "quarry-lane.shop"
        shop_assembly.make_shop(place, "Quarry Lane Aero Works", "Lena Ode", "LO")
        with shop_assembly.shop_at(place) as shop:
            numbers = iter(range(1000))
            fill_lists(shop, "LO", lambda: f"picture-{next(numbers)}")
            for name, look in LOOKS.items():
                needs = replace(needs_of(shop, place, Nothing()), copy_folder=lambda: "")
                window = make_shop_window(shop, "Quarry Lane Aero Works", look, needs)
                window.show()
                yield from _of_window(window, folder, name, look)
                window.close()


def _first_start(folder: Path, home: Path) -> Iterator[Path]:
    for name, look in LOOKS.items():
        with ShopWindows(Nothing(), lambda *_: None, FOR_DEMO, home) as windows:
            windows.show_first()
            first = windows.first
            assert first is not None
            first.set_look(look)
            yield _taken(first, folder, f"first-{name}")
            first.page.make()
            first.page._say_secret("The two secrets are not the same. Type both again.")  # noqa: SLF001 - for the picture
            yield _taken(first, folder, f"first-faults-{name}")
            first.close()


def _of_window(window: ShopWindow, folder: Path, name: str, look: Look) -> Iterator[Path]:
    places = [tab.accessibleName() for tab in window.bar.tabs]
    window.show_place(places.index("Settings"))
    yield _taken(window, folder, f"settings-{name}")
    manners = window.manners
    assert manners is not None
    for page in ("card", "no-cut", KEYS_PAGE):
        manners.door.open(page=page)
        guide = manners.door.guide
        assert guide is not None
        guide.resize(1280, 800)
        guide.set_look(look)
        yield _taken(guide, folder, f"guide-{page}-{name}")
    manners.door.close()
    report = bug_report(KeyError, KeyError("x"), None)
    copy = ClosingCopy(lambda: "/x", lambda *_: OnClosing(None, ""))
    closing = ClosingDialog(copy, look, window)
    closing.strip.begin("Copying", can_stop=False)
    closing.strip.show_pace(3, 10)
    yield _taken(_shown(closing), folder, f"closing-{name}")
    closing._take(False, "No copy was made on closing. The disk is full. Make room, then try again.")  # noqa: SLF001
    yield _taken(closing, folder, f"closing-failed-{name}")
    closing.reject()
    bug = BugDialog(report, window)
    yield _taken(_shown(bug), folder, f"bug-{name}")
    bug.accept()
    log = WhichLogDialog("left", "E-77041", look, window)
    log.field.setText("right")
    log._confirm()  # noqa: SLF001 - for the picture
    yield _taken(_shown(log), folder, f"which-log-{name}")
    log.reject()
    manners.lock_now()
    manners.watch.page._say("This is not the secret of Gil Ortega. Wrong tries in a row: 1 of 10. Wait 1 second.")  # noqa: SLF001
    yield _taken(window, folder, f"locked-{name}")


def _shown(widget: QWidget) -> QWidget:
    widget.show()
    return widget


def _taken(widget: QWidget, folder: Path, name: str) -> Path:
    for _ in range(6):
        QApplication.processEvents()
        QCoreApplication.sendPostedEvents()
    picture = folder / f"{name}.png"
    widget.grab().save(str(picture))
    return picture


if __name__ == "__main__":
    if len(sys.argv) != 2:
        sys.exit("Name the folder for the pictures: python -m tests.pictures_manners FOLDER")
    for written in take_pictures(Path(sys.argv[1])):
        print(written)
