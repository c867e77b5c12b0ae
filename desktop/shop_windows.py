"""The windows of shop files, of the first start and of a restore: which is open, and what leads to the next."""

import tempfile
from collections.abc import Callable
from contextlib import ExitStack
from pathlib import Path
from typing import Self

from desktop import shop_assembly
from desktop.app import application, make_shop_window, make_window, needs_of, restore_needs, stay
from desktop.core.errors import Refusal
from desktop.core.left_off import LeftOff
from desktop.files.bad_secrets import bad_choices
from desktop.files.guide import builtin_guide
from desktop.usecases.records.keys.people_ports import FOR_PEOPLE, Strength
from desktop.viewmodels.frame.first_start import DEMO_SAID, FIRST_SAID, FirstNeeds, FirstStart
from desktop.viewmodels.frame.left_off import Memory
from desktop.viewmodels.pieces.errand import Pace
from desktop.viewmodels.shop.copies_found import RestoreOrder
from desktop.viewmodels.shop.copies_restore import NOT_KEPT, RestoreDesk
from desktop.windows.frame.first_start_page import FirstStartWindow
from desktop.windows.frame.main_window import MainWindow
from desktop.windows.frame.manners import look_of
from desktop.windows.frame.restore_window import RestoreWindow
from desktop.windows.frame.shop_window import ShopWindow

MakeDemo = Callable[[Path, Pace], object]
"""Makes the demo's shop file in a new place, says how far it is, and stops when it is told to."""


def open_shop_window(place: Path) -> int:
    """Open a shop file in its window; return the exit status when it is closed."""
    application()
    with ShopWindows(shop_assembly.window_memory()) as windows:
        windows.open_shop(place)
        return stay()


def open_where_one_was(make_demo: MakeDemo | None) -> int:
    """Open the shop file that was open last, where one was; without one, the first start."""
    application()
    with ShopWindows(shop_assembly.window_memory(), make_demo) as windows:
        windows.begin()
        return stay()


class ShopWindows:
    """The windows of shop files, and of the first start; each shop file stays open as long as its window.

    ``make_demo`` makes the demo's shop file; None where there is no demo.
    """

    def __init__(
        self,
        memory: Memory,
        make_demo: MakeDemo | None = None,
        strength: Strength = FOR_PEOPLE,
        home: Path | None = None,
    ) -> None:
        self._memory, self._make_demo, self._strength = memory, make_demo, strength
        self._home = home or Path.home()
        self._files: dict[ShopWindow, ExitStack] = {}
        self.shops: list[ShopWindow] = []
        self.first: FirstStartWindow | None = None
        self.restoring: RestoreWindow | None = None
        self.card: MainWindow | None = None

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        for files in self._files.values():
            files.close()

    def begin(self) -> None:
        """Open the shop file that was open last, where one was; the first start when there is none any more."""
        left_off = self._memory.read()
        place = Path(left_off.shop)
        if not left_off.shop or not place.is_file():
            self.show_first()
            return
        try:
            self.open_shop(place)
        except Refusal as refusal:
            self.show_first(refusal.sentence, place)
            return
        window = self.shops[-1]
        window.restore(left_off)
        if window.left_off() != LeftOff() and (said := window.orders.foot.message.text()):
            window.desk.refused.emit(said)  # the foot of the work orders is not in sight there

    def show_first(self, words: str = "", lost: Path | None = None) -> None:
        """Show the first start, and why, if something stood against what was asked for.

        ``lost`` is the shop file that was open last and cannot be opened: a copy would be restored in its place.
        """
        needs = FirstNeeds(
            lambda place, answers: shop_assembly.make_first_shop(place, answers, self._strength),
            self._home,
            bad_choices(),
            self._make_demo,
            _demo_place,
        )
        look = look_of(self._memory.read())
        window = self.first = FirstStartWindow(FirstStart(needs), builtin_guide(), look)
        window.first.shop_made.connect(self._take_made)
        window.page.card_asked.connect(self._show_card)
        window.page.restore_asked.connect(lambda: self._show_restore(lost).ask_which())
        window.page.foot.say(words, refused=bool(words))
        window.show()

    def open_shop(self, place: Path, *, is_remembered: bool = True, words: str = "") -> None:
        """Open a shop file in a window of its own. Raise Refusal when it cannot be opened."""
        with ExitStack() as files:
            shop = files.enter_context(shop_assembly.shop_at(place))
            needs = needs_of(shop, place, self._memory, is_remembered=is_remembered)
            window = make_shop_window(shop, place.stem, look_of(self._memory.read()), needs, self._strength)
            self._files[window] = files.pop_all()
        window.other_shop_asked.connect(self.show_first)
        window.desk.copies.restoring.asked.connect(lambda order: self._restore(window, order))
        self.shops.append(window)
        window.show()
        if said := " ".join(one for one in (words, shop_assembly.last_time(shop)) if one):
            window.say(said)

    def _take_made(self, place: Path, is_demo: bool) -> None:  # noqa: FBT001 - a signal's value
        first = self.first
        is_new = first is not None and first.first.form.text("place") == str(place)
        words = DEMO_SAID if is_demo else FIRST_SAID.format(shop=place.stem) if is_new else ""
        try:
            self.open_shop(place, is_remembered=not is_demo, words=words)
        except Refusal as refusal:
            if first is not None:
                first.page.foot.say(refusal.sentence, refused=True)
            return
        if first is not None:
            first.close()

    def _restore(self, window: ShopWindow, order: RestoreOrder) -> None:
        """Close a shop's window and its file, then begin the restore that was asked for there."""
        if window.is_begun:
            window.desk.copies.restoring.refuse(NOT_KEPT)
            return
        desk = self._show_restore(order.shop).desk
        window.close_for_restore()
        self.shops.remove(window)
        self._files.pop(window).close()
        window.deleteLater()
        desk.show_found(order.found)
        desk.begin(order)

    def _show_restore(self, shop: Path | None) -> RestoreWindow:
        """Show a restore in a window of its own, in the place of a shop file that is not open, or of a new one."""
        desk = RestoreDesk(restore_needs(self._home), shop, is_open=False)
        window = self.restoring = RestoreWindow(desk, builtin_guide(), look_of(self._memory.read()))
        desk.restored.connect(self._take_restored)
        window.left.connect(lambda: self._leave_restore(shop))
        window.show()
        if self.first is not None:
            self.first.close()
        return window

    def _take_restored(self, place: Path, words: str) -> None:
        try:
            self.open_shop(place, words=words)
        except Refusal as refusal:
            self.show_first(f"{words} {refusal.sentence}")
        self._close_restore()

    def _leave_restore(self, shop: Path | None) -> None:
        """Go back to where a restore was asked for: the shop file as it is, or the first start."""
        try:
            if shop is None:
                self.show_first()
            else:
                self.open_shop(shop)
        except Refusal as refusal:
            self.show_first(refusal.sentence, shop)
        self._close_restore()

    def _close_restore(self) -> None:
        window, self.restoring = self.restoring, None
        if window is not None:
            window.close()
            window.deleteLater()

    def _show_card(self) -> None:
        self.card = make_window(None, self._memory)
        self.card.show()
        if self.first is not None:
            self.first.close()


def _demo_place() -> Path:
    return Path(tempfile.mkdtemp(prefix="sparkwright-demo-")) / "demo.shop"
