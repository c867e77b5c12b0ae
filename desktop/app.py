"""The windows' assembly: joins what has no window to the windows, opens the main window."""

import sys
from functools import partial
from pathlib import Path
from time import monotonic

from desktop import assembly, copy_assembly, paper_assembly, print_assembly, shop_assembly
from desktop.core.left_off import LeftOff
from desktop.core.shop.people.people import Person
from desktop.core.timing.partial_card import tidied_card
from desktop.core.timing.readings import Side
from desktop.core.timing.typed_card import TypedCard, TypedMagneto
from desktop.core.timing.typed_paths import Value
from desktop.files.cards import builtin_cards
from desktop.files.guide import builtin_guide
from desktop.files.papers_out import write_paper
from desktop.files.readings import write_readings
from desktop.files.sheets import read_whole_sheet, write_sheet
from desktop.files.toml_text import read_file
from desktop.storage.shop_store import ShopFile
from desktop.usecases.fill_card import CardState, empty_card, look_at, take_magneto, take_value
from desktop.usecases.papers import kinds
from desktop.usecases.papers.asked import Asked
from desktop.usecases.papers.heading import CardHeading
from desktop.usecases.ports import PaperSize
from desktop.usecases.records.copies.export import exported_words
from desktop.usecases.records.keys.people_ports import FOR_PEOPLE, Strength
from desktop.usecases.shop.ports import Shop
from desktop.viewmodels.card.card_session import CardSession
from desktop.viewmodels.frame.left_off import Memory
from desktop.viewmodels.frame.shop_desk import ShopDesk
from desktop.viewmodels.frame.shop_needs import ShopNeeds
from desktop.viewmodels.pieces.bench import Bench, Signing
from desktop.viewmodels.pieces.errand import Work
from desktop.viewmodels.shop.copies_desk import CopiesNeeds
from desktop.viewmodels.shop.copies_restore import RestoreNeeds
from desktop.viewmodels.signing.idle_lock import IdleNeeds
from desktop.windows.frame.application import prepare, show_bug, stay_open
from desktop.windows.frame.guide_door import GuideDoor
from desktop.windows.frame.main_window import MainWindow
from desktop.windows.frame.manners import look_of, with_look
from desktop.windows.frame.present_place import SINGLE_CARD
from desktop.windows.frame.real_keys import menu_shortcuts
from desktop.windows.frame.shop_window import ShopWindow
from desktop.windows.pieces.look import Look


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


def make_window(file: Path | None = None, memory: Memory | None = None) -> MainWindow:
    """Return the main window, with a readings file open or an empty card; ``memory`` keeps its look."""
    window = MainWindow(CardSession(Desk()), print_assembly.pages_of)
    _give_guide(window)
    _give_look(window, memory)
    if file is not None:
        window.open_file(file)
    return window


def open_window(file: Path | None) -> int:
    """Open the main window on a readings file or an empty card; return the exit status when it is closed."""
    application()
    return stay_with(make_window(file, shop_assembly.window_memory()))


def make_window_with(card: TypedCard, heading: CardHeading, memory: Memory | None = None) -> MainWindow:
    """Return the main window on a card that has no file; its prints carry this head."""
    desk = Desk()
    window = MainWindow(CardSession(desk), print_assembly.pages_of)
    _give_guide(window)
    _give_look(window, memory)
    window.session.begin_with(look_at(card, assembly.rulebook()))
    desk.heading = heading
    window.page.show_place(0)
    return window


def _give_guide(window: MainWindow) -> None:
    keys = partial(menu_shortcuts, window)
    door = GuideDoor(window, builtin_guide(), lambda: SINGLE_CARD, keys, lambda: window.look)
    door.add_to(window.menuBar().addMenu("&Help"))


def _give_look(window: MainWindow, memory: Memory | None) -> None:
    """Give a window the theme and size of text that this machine remembers, and let it remember others."""
    if memory is not None:
        window.set_look(look_of(memory.read()))
        window.look_changed.connect(lambda look: memory.write(with_look(memory.read(), look)))


def open_with(card: TypedCard, heading: CardHeading) -> int:
    """Open the main window on a card that has no file; return the exit status when it is closed."""
    application()
    return stay_with(make_window_with(card, heading, shop_assembly.window_memory()))


def make_shop_window(
    shop: Shop, name: str, look: Look | None = None, needs: ShopNeeds | None = None, strength: Strength = FOR_PEOPLE
) -> ShopWindow:
    """Return the window of a shop that is open; with ``needs`` it has its manners."""
    desk = ShopDesk(
        shop,
        assembly.timing_card(),
        shop_assembly.new_id,
        bench=bench_of(shop, strength),
        copies=copies_of(shop),
        papers=print_assembly.paper_needs(shop),
    )
    return ShopWindow(desk, name, look, needs)


def needs_of(shop: Shop, place: Path, memory: Memory, *, is_remembered: bool = True) -> ShopNeeds:
    """Return what the window of an open shop file needs for its manners."""
    desk = bench_of(shop)
    store = shop.store

    def people() -> tuple[Person, ...]:
        today = shop.clock.now().date()
        return tuple(one for one in store.people() if one.is_here(today))

    left_off = memory.read()
    idle = IdleNeeds(
        shop.clock,
        monotonic,
        lambda: store.settings().idle_lock,
        people,
        desk.signing,
    )
    return ShopNeeds(
        builtin_guide(),
        idle,
        memory.write if is_remembered else _forget,
        lambda: store.settings().backup_place,
        lambda folder, pace: copy_assembly.copy_on_closing(place, folder, pace),
        str(place.absolute()),
        left_off.person if left_off.shop == str(place.absolute()) else "",
    )


def _forget(_left_off: LeftOff) -> None:
    """Keep nothing."""


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
        lambda pace: shop_assembly.check_at_pace(store.place, pace),
        lambda folder: export_work(store.place, folder, paper_assembly.paper_size(shop)),
        lambda number, size: printed_record(shop, number, size),
    )


def copies_of(shop: Shop) -> CopiesNeeds | None:
    """Return what the copies of an open shop file need."""
    store = shop.store
    if not isinstance(store, ShopFile):
        return None
    place = store.place
    return CopiesNeeds(
        place,
        lambda: store.settings().backup_place,
        lambda folder: lambda pace: copy_assembly.look_over_copies(place, folder, pace),
        lambda folder: lambda pace: copy_assembly.back_up_at_pace(place, folder, pace),
        restore_needs(place.absolute().parent),
    )


def restore_needs(home: Path) -> RestoreNeeds:
    """Return what a restore needs; ``home`` is the folder that is proposed for a new shop file."""
    return RestoreNeeds(
        lambda copy, place: lambda pace: copy_assembly.examine_copy(copy, place, pace),
        lambda order: lambda pace: copy_assembly.restore_at_pace(order, pace),
        home,
    )


def export_work(place: Path, folder: Path, size: PaperSize) -> Work:
    """Return the work that writes all records of a shop file into a new folder, and says what is there."""
    return lambda pace: exported_words(folder, shop_assembly.export_place(place, folder, 0, size, pace))


def printed_record(shop: Shop, number: int, size: str) -> bytes:
    """Return a signed record on paper once more, exactly as it was signed. Raise Refusal when it cannot be printed."""
    asked = Asked(kinds.RECORD, of=str(number), reprint=True)
    now = assembly.time_in_words(shop.clock.now())
    return paper_assembly.printed_paper(shop, asked, "a4" if size == "a4" else "letter", now)


def stay() -> int:
    """Stay until the last window is closed; bugs are shown, not swallowed."""
    sys.excepthook = show_bug
    return stay_open()


def stay_with(window: MainWindow | ShopWindow) -> int:
    """Show a window until it is closed; bugs are shown, not swallowed."""
    window.show()
    return stay()
