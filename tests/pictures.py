"""Pictures of every place and paper, to be looked at: ``python -m tests.pictures FOLDER``.

The places of the demo's shop lie in ``demo-shop``: light, dark and at 200 percent.
"""

import os
import sys
from collections.abc import Iterator
from pathlib import Path
from tempfile import TemporaryDirectory

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

from PySide6.QtGui import QImage
from PySide6.QtWidgets import QApplication, QWidget

from desktop import assembly, shop_assembly
from desktop.app import application, make_shop_window, make_window
from desktop.demo import heading_of
from desktop.files.demo_jobs import demo_jobs
from desktop.usecases.fill_card import look_at
from desktop.windows.orders.order_page import OrderPage
from desktop.windows.pieces.look import DARK, LIGHT, Look
from tests import pictures_demo, pictures_hangar, pictures_manners, pictures_papers, pictures_shop, pictures_signing
from tests.commands.test_shop_commands import order_with

LOOKS = {"light": Look(LIGHT, 100), "dark": Look(DARK, 100), "large": Look(LIGHT, 200)}
PAPER_DPI = 96


def take_pictures(folder: Path) -> Iterator[Path]:
    """Write a picture of each place of each demo card in each look, and of each page of its paper."""
    folder.mkdir(parents=True, exist_ok=True)
    application()
    for job, typed in demo_jobs():
        window = make_window()
        window.session.begin_with(look_at(typed, assembly.rulebook()))
        window.show()
        for name, look in LOOKS.items():
            window.set_look(look)
            for number, place in enumerate(window.session.places):
                window.page.show_place(number)
                yield _grab(window, folder / f"{job.name}-{name}-{number + 1:02}-{place.id}.png")
        window.close()
        checked = assembly.check_typed(typed)
        for blank in (False, True):
            for size in ("letter", "a4"):
                pdf = assembly.paper_of(checked, heading_of(job), "a4" if size == "a4" else "letter", blank=blank)
                kind = "blank" if blank else "filled"
                for number, page in enumerate(assembly.pages_of(pdf, PAPER_DPI), 1):
                    picture = folder / f"{job.name}-paper-{size}-{kind}-{number:02}.png"
                    image = QImage(page.pixels, page.width, page.height, page.stride, QImage.Format.Format_RGB888)
                    image.save(str(picture))
                    yield picture


def take_shop_pictures(folder: Path) -> Iterator[Path]:
    """Write a picture of the work orders, the new order and a few places of a card inside its order, in each look."""
    application()
    with TemporaryDirectory() as spare:
        place = Path(spare) / "quarry-lane.shop"
        os.environ["XDG_STATE_HOME"] = spare
        shop_assembly.make_shop(place, "Quarry Lane Aero Works", "Lena Ode", "LO")
        for registration, (_, typed) in zip(("XQ-TBK", "XQ-FEN", "XQ-KIT"), demo_jobs(), strict=True):
            order_with(place, registration, typed)
        order_with(place, "XQ-MOR", None)
        with shop_assembly.shop_at(place) as shop:
            window = make_shop_window(shop, "Quarry Lane Aero Works")
            window.show()
            for name, look in LOOKS.items():
                window.set_look(look)
                window.show_orders()
                yield _grab(window, folder / f"shop-{name}-orders.png")
                window.show_new_order()
                yield _grab(window, folder / f"shop-{name}-new-order.png")
                window.show_order(4)
                yield _grab(window, folder / f"shop-{name}-order.png")
                window.show_card(1, 1)
                _settle()
                assert isinstance(window.order_page, OrderPage)
                ids = [place.id for place in window.order_page.session.places]
                for step in ("board", "step-stop-pair", "step-as-left-left", "check"):
                    window.order_page.page.show_place(ids.index(step))
                    yield _grab(window, folder / f"shop-{name}-{step}.png")
            window.close()


def _grab(window: QWidget, place: Path) -> Path:
    _settle()
    window.grab().save(str(place))
    return place


def _settle() -> None:
    for _ in range(4):  # a layout takes its heights a round later than its widths
        QApplication.processEvents()


def take_all(folder: Path) -> Iterator[Path]:
    """Write every picture there is, each kind in a folder of its own."""
    kinds = {
        "demo-shop": pictures_demo.take_pictures,
        "cards-and-papers": take_pictures,
        "one-order": take_shop_pictures,
        "places": pictures_shop.take_pictures,
        "signing": pictures_signing.take_pictures,
        "manners": pictures_manners.take_pictures,
        "hangar": pictures_hangar.take_pictures,
        "printing": pictures_papers.take_pictures,
    }
    for name, take in kinds.items():
        (folder / name).mkdir(parents=True, exist_ok=True)
        yield from take(folder / name)


if __name__ == "__main__":
    if len(sys.argv) != 2:
        sys.exit("Name the folder for the pictures: python -m tests.pictures FOLDER")
    for written in take_all(Path(sys.argv[1])):
        print(written)
