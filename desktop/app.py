"""The windows' assembly: joins what has no window to the windows, opens the main window."""

import sys
from pathlib import Path

from desktop import assembly, shop_assembly
from desktop.core.timing.partial_card import tidied_card
from desktop.core.timing.readings import Side
from desktop.core.timing.typed_card import TypedCard, TypedMagneto
from desktop.core.timing.typed_paths import Value
from desktop.files.cards import builtin_cards
from desktop.files.papers_out import write_paper
from desktop.files.readings import write_readings
from desktop.files.sheets import read_whole_sheet, write_sheet
from desktop.files.toml_text import read_file
from desktop.storage.shop_store import ShopFile
from desktop.usecases.fill_card import CardState, empty_card, look_at, take_magneto, take_value
from desktop.usecases.papers.heading import CardHeading
from desktop.usecases.records.people_ports import FOR_PEOPLE, Strength
from desktop.usecases.shop.ports import Shop
from desktop.viewmodels.bench import Bench, Signing
from desktop.viewmodels.card_session import CardSession
from desktop.viewmodels.shop_desk import ShopDesk
from desktop.windows.application import prepare, show_bug, stay_open
from desktop.windows.main_window import MainWindow
from desktop.windows.shop_window import ShopWindow


class Desk:
    """What a card session needs, joined from use cases and files."""

    def __init__(self) -> None:
        self._rulebook = assembly.rulebook()
        self.heading = CardHeading()

    def empty(self) -> CardState:
        """Return an empty card, of which nothing is known that a readings file does not hold."""
        self.heading = CardHeading()
        return look_at(empty_card(), self._rulebook)

    def read(self, place: Path) -> CardState:
        """Read a readings file."""
        state = look_at(assembly.typed_at(place), self._rulebook)
        self.heading = CardHeading()
        return state

    def write(self, place: Path, state: CardState) -> None:
        """Write a readings file: numbers in their written form, refused text as it was typed."""
        write_paper(place, write_readings(tidied_card(state.typed)))

    def take(self, state: CardState, path: str, value: Value) -> CardState:
        """Take one typed value."""
        return take_value(state, path, value, self._rulebook)

    def take_magneto(self, state: CardState, side: Side, magneto: TypedMagneto | None) -> CardState:
        """Take a magneto onto the card or off it."""
        return take_magneto(state, side, magneto, self._rulebook)

    def paper(self, state: CardState, *, size: str, blank: bool) -> bytes:
        """Return the printed card as PDF."""
        return assembly.paper_of_state(state, self.heading, "a4" if size == "a4" else "letter", blank=blank)

    def write_paper(self, place: Path, pdf: bytes) -> None:
        """Write a paper."""
        write_paper(place, pdf)


def application() -> None:
    """Prepare the one application, with the shipped fonts loaded."""
    prepare(assembly.font_faces())


def make_window(file: Path | None = None) -> MainWindow:
    """Return the main window, with a readings file open or an empty card."""
    window = MainWindow(CardSession(Desk()), assembly.pages_of)
    if file is not None:
        window.open_file(file)
    return window


def open_window(file: Path | None) -> int:
    """Open the main window on a readings file or an empty card; return the exit status when it is closed."""
    application()
    return stay_with(make_window(file))


def make_window_with(card: TypedCard, heading: CardHeading) -> MainWindow:
    """Return the main window on a card that has no file; its prints carry this head."""
    desk = Desk()
    window = MainWindow(CardSession(desk), assembly.pages_of)
    window.session.begin_with(look_at(card, assembly.rulebook()))
    desk.heading = heading
    window.page.show_place(0)
    return window


def open_with(card: TypedCard, heading: CardHeading) -> int:
    """Open the main window on a card that has no file; return the exit status when it is closed."""
    application()
    return stay_with(make_window_with(card, heading))


def make_shop_window(shop: Shop, name: str) -> ShopWindow:
    """Return the window of a shop that is open."""
    desk = ShopDesk(
        shop,
        assembly.timing_card(),
        shop_assembly.order_paper,
        shop_assembly.new_id,
        write_paper,
        bench=bench_of(shop),
    )
    return ShopWindow(desk, name, assembly.pages_of)


def bench_of(shop: Shop, strength: Strength = FOR_PEOPLE) -> Bench:
    """Return what the windows of an open shop file work with besides the file."""
    store = shop.store
    if not isinstance(store, ShopFile):
        raise TypeError("signing needs a shop file")
    signing = Signing(shop_assembly.signing_desk(shop, strength), store)
    return Bench(
        builtin_cards(),
        signing,
        lambda place: read_whole_sheet(read_file(place)),
        lambda place, sheet: write_paper(place, write_sheet(sheet)),
    )


def open_shop_window(place: Path) -> int:
    """Open a shop file in its window; return the exit status when it is closed."""
    application()
    with shop_assembly.shop_at(place) as shop:
        return stay_with(make_shop_window(shop, place.stem))


def stay_with(window: MainWindow | ShopWindow) -> int:
    """Show a window until it is closed; bugs are shown, not swallowed."""
    sys.excepthook = show_bug
    window.show()
    return stay_open()
