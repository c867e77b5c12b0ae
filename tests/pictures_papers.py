"""Pictures of everything that prints in a shop's window: ``python -m tests.pictures_papers FOLDER``."""

import os
import sys
from collections.abc import Callable, Iterator
from pathlib import Path
from tempfile import TemporaryDirectory
from time import monotonic, sleep

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

from PySide6.QtWidgets import QApplication, QDialog

from desktop import shop_assembly
from desktop.app import application, make_shop_window
from desktop.demo.shop import build_shop
from desktop.usecases.shop.ports import Shop
from desktop.windows.frame.shop_window import ShopWindow
from desktop.windows.paper.papers_dialog import PapersDialog
from desktop.windows.paper.preview_dialog import PreviewDialog
from desktop.windows.pieces.look import DARK, LIGHT, Look

LOOKS = {"light": Look(LIGHT, 100), "dark": Look(DARK, 100), "large": Look(LIGHT, 200)}
TWIN, SIGNED = 11, 14
LISTS = ("orders", "due", "people", "tools", "sheets", "records")
LABELS, SAVING = "Maintenance entry on labels", "Saving"
PATIENCE = 30.0


def take_pictures(folder: Path) -> Iterator[Path]:
    """Write a picture of the papers of an order and of the shop, of labels, of many on their way, and of each list."""
    folder.mkdir(parents=True, exist_ok=True)
    application()
    with TemporaryDirectory() as spare:
        os.environ["XDG_STATE_HOME"] = spare
        place = Path(spare) / "quarry-lane.shop"
        build_shop(place)
        with shop_assembly.shop_at(place) as shop:
            for name, look in LOOKS.items():
                for what, widget in _views(shop, look, Path(spare) / name):
                    picture = folder / f"papers-{name}-{what}.png"
                    widget.grab().save(str(picture))
                    yield picture


def _views(shop: Shop, look: Look, spare: Path) -> Iterator[tuple[str, ShopWindow | QDialog]]:
    window = make_shop_window(shop, "Quarry Lane Aero Works", look)
    window.desk.person_id = "DP"
    window.show()
    for number, name in enumerate(LISTS):
        window.show_place(number)
        _wait(lambda: not window.desk.due.is_busy)
        yield f"place-{name}", window
        window.door.print_shown()
        yield f"list-{name}", _preview(window)
        _close(window, _preview(window))
    window.show_order(TWIN)
    yield "order", window
    dialog = _papers(window, TWIN)
    for row in (0, 1, 7):
        dialog.desk.turn(row)
    yield "of-an-order", dialog
    dialog.preview_asked.emit(dialog.desk.choice(0))
    yield "work-order", _preview(window)
    _close(window, _preview(window))
    dialog.close()
    dialog = _papers(window, SIGNED)
    row = next(row for row, line in enumerate(dialog.desk.lines()) if line.paper.title == LABELS)
    dialog.preview_asked.emit(dialog.desk.choice(row))
    yield "labels", _preview(window)
    _close(window, _preview(window))
    dialog.all.click()
    dialog._save_in(spare)  # noqa: SLF001 - the folder is named by hand otherwise
    _wait(lambda: dialog.strip.bar.value() > 0)
    yield "saving", dialog
    dialog.strip.stop.click()
    _wait(lambda: not dialog.desk.is_busy)
    yield "stopped", dialog
    dialog.close()
    yield "of-the-shop", _papers(window, 0)
    window.door.end()
    window.close()


def _papers(window: ShopWindow, order: int) -> PapersDialog:
    _wait(lambda: window.door.papers is None)
    window.door.show_papers(order)
    dialog = window.door.papers
    assert dialog is not None
    _wait(lambda: dialog.desk.model.rowCount() > 0)
    return dialog


def _preview(window: ShopWindow) -> PreviewDialog:
    _wait(lambda: window.door.preview is not None and window.door.preview.preview is not None)
    assert window.door.preview is not None
    assert window.door.preview.preview is not None
    return window.door.preview.preview


def _close(window: ShopWindow, preview: PreviewDialog) -> None:
    preview.close()
    _wait(lambda: window.door.preview is None)


def _wait(until: Callable[[], bool]) -> None:
    begun = monotonic()
    while not until() and monotonic() - begun < PATIENCE:
        QApplication.processEvents()
        sleep(0.01)
    for _ in range(6):
        QApplication.processEvents()


if __name__ == "__main__":
    if len(sys.argv) != 2:
        sys.exit("Name the folder for the pictures: python -m tests.pictures_papers FOLDER")
    for written in take_pictures(Path(sys.argv[1])):
        print(written)
