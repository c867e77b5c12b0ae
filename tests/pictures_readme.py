"""The pictures of the README, from the demo's shop: ``python -m tests.pictures_readme`` renews them."""

import os
from collections.abc import Iterator
from pathlib import Path
from tempfile import TemporaryDirectory

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

from PySide6.QtGui import QImage

from desktop import assembly, paper_assembly, shop_assembly
from desktop.app import application, make_shop_window
from desktop.demo.shop import build_shop
from desktop.usecases.papers import kinds
from desktop.usecases.papers.asked import Asked
from desktop.usecases.shop.ports import Shop
from desktop.windows.hangar.hangar_view import HangarView
from tests.pictures_demo import close, settle

FOLDER = Path(__file__).parents[1] / "resources" / "pictures"
ORDER, SOUND_ORDER, CARD, PLACE = 12, 17, 1, "step-as-left-left"
SIGNED_ORDER, SIGNED_CARD, PAGE, DPI = 14, 3, 8, 80


def take_pictures(folder: Path) -> Iterator[Path]:
    """Write a picture of the work orders, of a card, of the hangar view, and of a printed page."""
    folder.mkdir(parents=True, exist_ok=True)
    application()
    with TemporaryDirectory() as spare:
        os.environ["XDG_STATE_HOME"] = spare
        place = Path(spare) / "demo.shop"
        build_shop(place)
        with shop_assembly.shop_at(place) as shop:
            yield from _windows(shop, folder)
            yield _page(shop, folder / "printed-page.png")


def _windows(shop: Shop, folder: Path) -> Iterator[Path]:
    window = make_shop_window(shop, "demo")
    window.become("DP")
    window.show()
    settle()
    window.grab().save(str(folder / "work-orders.png"))
    yield folder / "work-orders.png"
    window.become("MC")
    window.show_card(ORDER, CARD)
    settle()
    page = window.order_page
    assert page is not None
    number = next(number for number, one in enumerate(page.session.places) if one.id == PLACE)
    page.page.show_place(number)
    settle()
    window.grab().save(str(folder / "card.png"))
    yield folder / "card.png"
    window.show_card(SOUND_ORDER, CARD)
    settle()
    page = window.order_page
    assert page is not None
    number = next(number for number, one in enumerate(page.session.places) if one.id == PLACE)
    view = HangarView(page.session, window.look, number, None, window)
    view.resize(1280, 800)
    view.show()
    view.desk.step(1)  # from the words of the step to its readings
    settle()
    view.grab().save(str(folder / "hangar-view.png"))
    yield folder / "hangar-view.png"
    view.close()
    close(window)


def _page(shop: Shop, to: Path) -> Path:
    """Print a signed card and take the page on which the last readings stand."""
    pdf = paper_assembly.printed_paper(
        shop, Asked(kinds.CARD, SIGNED_ORDER, SIGNED_CARD), "letter", assembly.time_in_words(shop.clock.now())
    )
    page = assembly.pages_of(pdf, DPI)[PAGE - 1]
    QImage(page.pixels, page.width, page.height, page.stride, QImage.Format.Format_RGB888).save(str(to))
    return to


def main() -> None:
    """Take the pictures."""
    for picture in take_pictures(FOLDER):
        print(picture.name)


if __name__ == "__main__":
    main()
