"""Restoring a copy: it is verified first, then somebody reads what was found, and a records keeper signs."""

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from PySide6.QtCore import QObject, Signal

from desktop.viewmodels.pieces.errand import Errand, Work
from desktop.viewmodels.shop.copies_found import FoundCopy, RestoreOrder, said_in_window

ENDING = ".shop"
TYPE_IT = "Type the secret of the records keeper, then restore."
NOT_TAKEN = "Read what the copy lacks. Tick that you take it all the same, or choose another copy."
NOT_KEPT = "Something that was typed in this window is not kept yet. Keep it or clear it, then restore."
NO_PLACE = "The shop file has no place. Write a folder and a name."
NOT_WHOLE = "Write the whole place, from the top folder on."
IS_THERE = "Something is there already, and nothing is written over. Choose another name."


@dataclass(frozen=True, slots=True)
class RestoreNeeds:
    """What a restore needs from outside; every work raises Refusal, and then nothing was changed.

    The work of ``examine`` verifies a copy for the place of a shop file and returns what was Found; that of
    ``restore`` returns the sentence about what was done. ``home`` is the folder that is proposed for a new shop file.
    """

    examine: Callable[[Path, Path], Work]
    restore: Callable[[RestoreOrder], Work]
    home: Path


class RestoreDesk(QObject):
    """Verifies a copy, and restores it for a records keeper.

    ``shop`` is the shop file whose place it takes, None for a new one. ``found_changed`` comes when a copy was verified
    and when another is chosen, ``refused`` carries a sentence, ``asked`` the order of a restore that whoever holds the
    shop file open must begin, after closing it. ``restored`` carries the shop file and what was done.
    """

    found_changed = Signal()
    refused = Signal(str)
    place_refused = Signal(str)
    went_on = Signal(int, int)
    busy_changed = Signal()
    asked = Signal(object)
    restored = Signal(object, str)

    def __init__(
        self, needs: RestoreNeeds | None, shop: Path | None, parent: QObject | None = None, *, is_open: bool = True
    ) -> None:
        super().__init__(parent)
        self._needs = needs
        self.shop = shop
        self._is_open = is_open and shop is not None
        self.copy: Path | None = None
        self.found: FoundCopy | None = None
        self._order: RestoreOrder | None = None
        self._errand = Errand(self)
        self._errand.went_on.connect(self.went_on)
        self._errand.finished.connect(self._take)
        self._errand.refused.connect(self._refuse)

    @property
    def is_busy(self) -> bool:
        """Whether a copy is being verified or restored."""
        return self._errand.is_busy

    @property
    def is_restoring(self) -> bool:
        """Whether the copy is being put in place."""
        return self._order is not None

    @property
    def is_new(self) -> bool:
        """Whether the shop file is a new one, for which a place is asked."""
        return self.shop is None

    def examine(self, copy: Path) -> None:
        """Begin to verify a copy; nothing while something else is under way."""
        if self._needs is None or self.is_busy:
            return
        self.copy, self.found = copy, None
        shop = self.shop or self._free_place(copy.stem)
        self._errand.begin(said_in_window(self._needs.examine(copy, shop), copy))
        self.found_changed.emit()
        self.busy_changed.emit()

    def show_found(self, found: FoundCopy) -> None:
        """Go on with a copy that was verified elsewhere."""
        self.copy, self.found = found.copy, found
        self.found_changed.emit()

    def proposed_place(self) -> str:
        """Return a free place for a new shop file, from the name of the shop in the copy."""
        return str(self._free_place(self.found.shop_name)) if self.found else ""

    def restore(self, keeper: str, secret: str, *, takes_older: bool, place: str = "") -> bool:
        """Begin to restore, or ask for it; tell whether. What is missing is refused in a sentence."""
        if self.found is None or self.is_busy:
            return False
        shop = self.shop or self._typed_place(place)
        if shop is None:
            return False
        if self.found.is_older and not takes_older:
            self.refused.emit(NOT_TAKEN)
            return False
        if not secret:
            self.refused.emit(TYPE_IT)
            return False
        order = RestoreOrder(self.found, shop, keeper, takes_older, secret)
        if self._is_open:
            self.asked.emit(order)
        else:
            self.begin(order)
        return True

    def begin(self, order: RestoreOrder) -> None:
        """Begin to restore; no window has the shop file open any more."""
        if self._needs is None or self.is_busy:
            return
        self._order = order
        self._errand.begin(said_in_window(self._needs.restore(order), order.found.copy))
        self.busy_changed.emit()

    def refuse(self, words: str) -> None:
        """Say what stands against the restore."""
        self.refused.emit(words)

    def stop(self) -> None:
        """Ask the work to stop; then nothing was changed."""
        self._errand.stop()

    def end(self) -> None:
        """Stop, and wait until nothing runs any more."""
        self._errand.end()
        self._order = None

    def leave(self) -> None:
        """Forget the copy."""
        if not self.is_busy:
            self.copy = self.found = None
            self.found_changed.emit()

    def _take(self, result: object) -> None:
        order, self._order = self._order, None
        self.busy_changed.emit()
        if order is not None:
            self.restored.emit(order.shop, str(result))
            return
        assert isinstance(result, FoundCopy)  # noqa: S101 - what examine returns
        self.show_found(result)

    def _refuse(self, words: str) -> None:
        self._order = None
        self.busy_changed.emit()
        self.refused.emit(words)

    def _typed_place(self, typed: str) -> Path | None:
        """Return the place that was typed for a new shop file; None after it was refused."""
        place = Path(typed.strip()).expanduser()
        trouble = ""
        if not typed.strip():
            trouble = NO_PLACE
        elif not place.is_absolute():
            trouble = NOT_WHOLE
        elif place.exists():
            trouble = IS_THERE
        if trouble:
            self.place_refused.emit(trouble)
            return None
        return place

    def _free_place(self, name: str) -> Path:
        signs = "".join(sign if sign.isalnum() else " " for sign in name.casefold())
        plain = "-".join(signs.split()) or "shop"
        home = self._needs.home if self._needs else Path()
        names = (plain, *(f"{plain}-restored{f'-{number}' if number > 1 else ''}" for number in range(1, 100)))
        return next((home / f"{one}{ENDING}" for one in names if not (home / f"{one}{ENDING}").exists()), home)
