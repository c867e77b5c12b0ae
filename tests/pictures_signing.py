"""Pictures of an order and of everything that is signed: ``python -m tests.pictures_signing FOLDER``."""

import os
import sys
from collections.abc import Callable, Iterator
from pathlib import Path
from tempfile import TemporaryDirectory

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

from PySide6.QtWidgets import QApplication, QWidget

from desktop.app import application, make_shop_window
from desktop.core.records.record import RecordKind
from desktop.core.shop.aircraft.parts import Part, Way
from desktop.core.shop.orders.discrepancies import Outcome
from desktop.core.shop.orders.safe_state import SafeItem
from desktop.core.shop.sheets.sheet_paths import sheet_groups
from desktop.files.sheets import demo_sheets
from desktop.storage.shop_store import new_shop
from desktop.usecases.records.signing.correct import Correction, propose_correction, sign_correction
from desktop.usecases.shop.book import add_part, book_time
from desktop.usecases.shop.cards.take_reading import take_reading
from desktop.usecases.shop.lists.sheets import compare_sheet, finish_sheet, import_sheet, see_sheet
from desktop.usecases.shop.orders.discrepancies import add_discrepancy, settle_discrepancy
from desktop.usecases.shop.orders.set_safe_state import set_safe_state
from desktop.windows.frame.shop_window import ShopWindow
from desktop.windows.pieces.look import DARK, LIGHT, Look
from desktop.windows.records.records_place import RecordsPlace
from desktop.windows.shop.enrol_page import EnrolPage
from desktop.windows.shop.people_page import PeoplePage
from desktop.windows.shop.sheets_page import SheetsPage
from tests.storage.file_floor import QUIET, TEXT
from tests.usecases.records.acting_floor import PHRASES, ActingFloor

LOOKS = {"light": Look(LIGHT, 100), "dark": Look(DARK, 100), "large": Look(LIGHT, 200)}
PEOPLE, SHEETS, RECORDS = 2, 4, 5
View = Callable[[ShopWindow, ActingFloor], QWidget]


def take_pictures(folder: Path) -> Iterator[Path]:
    """Write a picture of each page, in each look, along one job."""
    folder.mkdir(parents=True, exist_ok=True)
    application()
    with TemporaryDirectory() as spare:
        os.environ["XDG_STATE_HOME"] = spare
        with new_shop(Path(spare) / "trial.shop", "Quarry Lane Aero Works", TEXT, QUIET) as file:
            floor = ActingFloor(file, None).staffed().filled()
            _around(floor)
            _sheets(floor)
            yield from _each(floor, folder, "MECH", "work", (_hub, _job, _settled, _part, _directive, _sign))
            _put_right(floor)
            floor.act("MECH", RecordKind.CARD_SUBMITTED)
            floor.act("ROLF", RecordKind.CARD_RETURNED, "Read the left magneto once more.")
            take_reading(floor.shop, floor.on("MECH"), 1, 1, ("left.approach[3].back", "336.25"))
            floor.act("MECH", RecordKind.CARD_SUBMITTED)
            yield from _each(floor, folder, "ROLF", "check", (_hub, _inspection, _wrong_secret))
            floor.clock.move(900)
            floor.act("ROLF", RecordKind.CARD_ACCEPTED)
            yield from _each(floor, folder, "ROLF", "approve", (_hub, _approval, _not_approved, _sign_approval))
            floor.act("ROLF", RecordKind.APPROVED)
            _correct(floor)
            views = (_hub, _records, _record, _correction, _sheet_list, _sheet, _compare, _enrolment, _enrol, _people)
            yield from _each(floor, folder, "KEEP", "records", views)


def _each(floor: ActingFloor, folder: Path, person: str, kind: str, views: tuple[View, ...]) -> Iterator[Path]:
    for name, look in LOOKS.items():
        for view in views:
            window = make_shop_window(floor.shop, "Quarry Lane Aero Works")
            window.desk.person_id = person
            window.set_look(look)
            window.show()
            _settle()
            shown = view(window, floor)
            _settle()
            picture = folder / f"{kind}-{name}-{view.__name__.strip('_').replace('_', '-')}.png"
            shown.grab().save(str(picture))
            yield picture
            window._may_close = True  # noqa: SLF001 - the picture is taken
            window.close()


def _around(floor: ActingFloor) -> None:
    add_discrepancy(floor.shop, floor.on("MECH"), 1, "The left clamp is worn.")
    add_discrepancy(floor.shop, floor.on("MECH"), 1, "A baffle is cracked behind cylinder 3.")
    settle_discrepancy(
        floor.shop, floor.on("MECH"), 1, 2, Outcome.DEFERRED, "to the next inspection, as the owner asked", None
    )
    add_part(floor.shop, floor.on("MECH"), 1, Part(Way.ON, "GK-2", "gasket", "B-31", "1", "release 4471"))
    book_time(floor.shop, floor.on("MECH"), 1, "MECH", 95, "timing, both magnetos")
    set_safe_state(floor.shop, floor.on("MECH"), 1, SafeItem.PLUG_LEADS, is_normal=False)


def _put_right(floor: ActingFloor) -> None:
    settle_discrepancy(floor.shop, floor.on("MECH"), 1, 1, Outcome.CLOSED, "A new clamp was fitted.")
    set_safe_state(floor.shop, floor.on("MECH"), 1, SafeItem.PLUG_LEADS, is_normal=True)


def _sheets(floor: ActingFloor) -> None:
    for sheet in demo_sheets():
        import_sheet(floor.shop, floor.by("KEEP"), sheet)
    names = [sheet.id for sheet in demo_sheets()]
    for name in names[1:]:
        finish_sheet(floor.shop, floor.by("KEEP", see_sheet(floor.file, name).version), name)
    for name in names[2:]:
        life = see_sheet(floor.file, name)
        groups = [group for group, _ in sheet_groups(life.sheet)]
        compare_sheet(floor.shop, floor.by("MECH", life.version), name, groups)


def _correct(floor: ActingFloor) -> None:
    correction = Correction(
        1 + 4, "Left magneto, approach 3, back 336.5", "336.25", "It was read once more, with a lamp."
    )
    proposal = propose_correction(floor.desk, floor.file, "MECH", correction)
    sign_correction(floor.desk, floor.file, "correction", proposal, PHRASES["MECH"])


def _hub(window: ShopWindow, floor: ActingFloor) -> QWidget:
    window.show_order(1)
    return window


def _form(window: ShopWindow, name: str) -> QWidget:
    window.show_order(1)
    assert window.order_place is not None
    window.order_place._open_named(name)  # noqa: SLF001 - as its button does
    return window


def _job(window: ShopWindow, floor: ActingFloor) -> QWidget:
    return _form(window, "issue")


def _part(window: ShopWindow, floor: ActingFloor) -> QWidget:
    return _form(window, "part")


def _directive(window: ShopWindow, floor: ActingFloor) -> QWidget:
    return _form(window, "directive")


def _settled(window: ShopWindow, floor: ActingFloor) -> QWidget:
    window.show_order(1)
    assert window.order_place is not None
    window.order_place.hub_page.settle_asked.emit(1)
    return window


def _settle() -> None:
    for _ in range(6):  # a layout takes its heights a round later than its widths
        QApplication.processEvents()


def _dialog(window: ShopWindow) -> QWidget:
    assert window.order_place is not None
    dialog = window.order_place.sign_dialog
    assert dialog is not None, "no signature is asked for"
    return dialog


def _sign(window: ShopWindow, floor: ActingFloor) -> QWidget:
    window.show_card(1, 1)
    assert window.order_page is not None
    window.order_page.session.act()
    _settle()
    return _dialog(window)


def _inspection(window: ShopWindow, floor: ActingFloor) -> QWidget:
    window.show_card(1, 1)
    return window


def _wrong_secret(window: ShopWindow, floor: ActingFloor) -> QWidget:
    floor.clock.move(700)
    window.show_card(1, 1)
    assert window.order_place is not None
    page = window.order_place.page
    page.session.accept()  # type: ignore[union-attr]
    _settle()
    dialog = window.order_place.sign_dialog
    assert dialog is not None
    dialog.session.sign("not the secret at all")
    return dialog


def _approval(window: ShopWindow, floor: ActingFloor) -> QWidget:
    window.show_order(1)
    assert window.order_place is not None
    window.order_place.show_approval(approves=True)
    return window


def _not_approved(window: ShopWindow, floor: ActingFloor) -> QWidget:
    window.show_order(1)
    assert window.order_place is not None
    window.order_place.show_approval(approves=False)
    return window


def _sign_approval(window: ShopWindow, floor: ActingFloor) -> QWidget:
    _approval(window, floor)
    assert window.order_place is not None
    window.order_place.page.session.act()  # type: ignore[union-attr]
    _settle()
    return _dialog(window)


def _page(window: ShopWindow, number: int) -> QWidget:
    window.show_place(number)
    _settle()
    page = window.pages[window.bar.tabs[number].accessibleName()]
    assert isinstance(page, QWidget)
    return page


def _records(window: ShopWindow, floor: ActingFloor) -> QWidget:
    _page(window, RECORDS)
    return window


def _records_place(window: ShopWindow) -> RecordsPlace:
    place = _page(window, RECORDS)
    assert isinstance(place, RecordsPlace)
    return place


def _record(window: ShopWindow, floor: ActingFloor) -> QWidget:
    _records_place(window).open_record(5)
    return window


def _correction(window: ShopWindow, floor: ActingFloor) -> QWidget:
    _record(window, floor)
    page = _records_place(window).record
    page.open_correction()
    page.entry.keep()
    return window


def _sheets_page(window: ShopWindow) -> SheetsPage:
    page = _page(window, SHEETS)
    assert isinstance(page, SheetsPage)
    return page


def _sheet_list(window: ShopWindow, floor: ActingFloor) -> QWidget:
    _sheets_page(window)
    return window


def _sheet(window: ShopWindow, floor: ActingFloor) -> QWidget:
    _sheets_page(window).open_line(0)
    return window


def _compare(window: ShopWindow, floor: ActingFloor) -> QWidget:
    page = _sheets_page(window)
    page.open_comparison(see_sheet(floor.file, demo_sheets()[1].id))
    return window


def _people(window: ShopWindow, floor: ActingFloor) -> QWidget:
    _page(window, PEOPLE)
    return window


def _enrolment(window: ShopWindow, floor: ActingFloor) -> QWidget:
    page = _page(window, PEOPLE)
    assert isinstance(page, PeoplePage)
    page.show_enrolment()
    return window


def _enrol(window: ShopWindow, floor: ActingFloor) -> QWidget:
    _enrolment(window, floor)
    _settle()
    page = _page(window, PEOPLE)
    assert isinstance(page, PeoplePage)
    enrol = page.enrol_page
    assert isinstance(enrol, EnrolPage)
    enrol.ask("replace")
    _settle()
    assert enrol.dialog is not None
    return enrol.dialog


if __name__ == "__main__":
    if len(sys.argv) != 2:
        sys.exit("Name the folder for the pictures: python -m tests.pictures_signing FOLDER")
    for written in take_pictures(Path(sys.argv[1])):
        print(written)
