"""How hostile files are read: as the program reads them, refused or not; the controls do what no reader may."""

import shutil
from collections.abc import Callable
from pathlib import Path

from desktop.core.errors import Refusal
from desktop.files.sheets import read_whole_sheet, write_sheet
from desktop.files.toml_text import read_file
from desktop.signing import Ed25519Verifier
from desktop.storage.copies.restore import prepare_copy
from desktop.storage.places import Surroundings
from desktop.storage.records.key_store import KeyStore
from desktop.storage.records.scan_store import ScanStore
from desktop.storage.shop_store import ShopFile, open_shop
from desktop.usecases.records.copies.copy_ports import never_stops
from desktop.usecases.shop.lists.sheets import import_sheet, see_sheet
from desktop.usecases.shop.ports import Request
from tests.storage.file_floor import QUIET, TEXT, FileFloor, opened


def prepare(place: Path) -> None:
    """Look at a copy as a restore does, with and without asking for its seal."""
    for unsealed in (False, True):
        try:
            with prepare_copy(
                place, place.with_name("new.shop"), never_stops, Ed25519Verifier(), QUIET, unsealed=unsealed
            ):
                pass
        except Refusal:
            if unsealed:
                raise


def open_and_ask(place: Path) -> None:
    """Open a shop and ask it what its windows ask; what it does not say does not keep it from being asked the next."""
    with open_shop(place, TEXT, Surroundings(state=place.parent / "state", patience=10)) as file:
        asks: tuple[Callable[[], object], ...] = (
            file.faults,
            lambda: file.order(1),
            file.orders,
            lambda: file.orders(["mill"]),
            lambda: file.changes_since(1, 0),
            file.people,
            file.tools,
            file.settings,
            file.shop_details,
            lambda: [file.pinned_sheet(pin) for life in file.sheet_lives() for pin in file.sheet_pins(life.sheet.id)],
            lambda: list(file.envelopes()),
            lambda: file.envelopes_about(1),
            lambda: _ask_inside(file),
        )
        refused = [refusal for refusal in map(_refusal_of, asks) if refusal is not None]
    if refused:
        raise refused[0]


def _ask_inside(file: ShopFile) -> None:
    with file.changing() as work:
        keys, scans = KeyStore(None, file.shop_id).within(work), ScanStore().within(work)
        for one in (
            lambda: keys.key("MECH"),
            keys.events,
            lambda: scans.scan("0" * 64),
            lambda: scans.printed_with("x"),
        ):
            one()


def _refusal_of(ask: Callable[[], object]) -> Refusal | None:
    try:
        ask()
    except Refusal as refusal:
        return refusal
    return None


def taken_in(pristine: Path) -> Callable[[Path], object]:
    """Take a limits sheet in as ``sheet import`` does, into a shop beside the file."""

    def take_in(place: Path) -> None:
        sheet = read_whole_sheet(read_file(place))
        with opened(Path(shutil.copy(pristine, place.with_name("mill.shop")))) as file:
            shop = FileFloor(file).shop
            import_sheet(shop, Request("x", "KEEP"), sheet)
            write_sheet(see_sheet(file, sheet.id).sheet)

    return take_in


def write_outside(place: Path) -> None:
    Path("/tmp/sparkwright-written-outside").write_bytes(place.read_bytes())  # noqa: S108 - the control
    Path("/tmp/sparkwright-written-outside").unlink()  # noqa: S108 - the same


def spin(_place: Path) -> None:
    while True:
        pass


def grow(_place: Path) -> None:
    held = []
    while True:
        held.append(bytes(1 << 20))
