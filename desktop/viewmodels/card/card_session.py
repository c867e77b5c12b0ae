"""One card in the window: holds the frozen state, takes typed values, and says what changed."""

from pathlib import Path
from typing import Protocol

from PySide6.QtCore import QObject, Signal

from desktop.core.errors import Refusal
from desktop.core.timing.readings import Side
from desktop.core.timing.typed_card import TypedMagneto
from desktop.core.timing.typed_paths import Value
from desktop.usecases.fill_card import CardState
from desktop.viewmodels.card.card_form import places_of
from desktop.viewmodels.card.form_session import FormSession, is_same
from desktop.viewmodels.pieces.fields import Field, Place


class CardDesk(Protocol):
    """What a card session needs from outside the window."""

    def empty(self) -> CardState:
        """Return an empty card."""
        ...

    def read(self, place: Path) -> CardState:
        """Read a readings file; raise Refusal when it cannot be used."""
        ...

    def write(self, place: Path, state: CardState) -> None:
        """Write a readings file; raise Refusal when the place cannot be used."""
        ...

    def take(self, state: CardState, path: str, value: Value) -> CardState:
        """Take one typed value."""
        ...

    def take_magneto(self, state: CardState, side: Side, magneto: TypedMagneto | None) -> CardState:
        """Take a magneto onto the card or off it."""
        ...

    def paper(self, state: CardState, *, size: str, blank: bool) -> bytes:
        """Return the printed card as PDF; raise Refusal when it cannot be printed."""
        ...

    def write_paper(self, place: Path, pdf: bytes) -> None:
        """Write a paper; raise Refusal when the place cannot be used."""
        ...


class CardSession(FormSession):
    """The card of a readings file."""

    saved_changed = Signal(bool)

    def __init__(self, desk: CardDesk, parent: QObject | None = None) -> None:
        super().__init__(desk.empty(), parent)
        self._desk = desk
        self.file: Path | None = None
        self.is_saved = True
        self._aside: dict[Side, TypedMagneto] = {}

    def places_now(self, state: CardState) -> tuple[Place, ...]:
        """Return the places of a readings file."""
        return places_of(state.typed)

    def last_act(self) -> str:
        """Return the words of the action at the last place."""
        return "Print the card"

    def open_file(self, place: Path) -> bool:
        """Open a readings file; a file that cannot be used leaves the card as it was."""
        try:
            state = self._desk.read(place)
        except Refusal as refusal:
            named = refusal.sentence.startswith(str(place))
            self.refused.emit(refusal.sentence if named else f"{place.name}: {refusal.sentence}")
            return False
        self.file = place
        self._aside = {}
        self._become(state, saved=True)
        return True

    def begin_empty(self) -> None:
        """Begin an empty card."""
        self.begin_with(self._desk.empty())

    def begin_with(self, state: CardState) -> None:
        """Begin with a card that has no file of its own."""
        self.file = None
        self._aside = {}
        self._become(state, saved=True)

    def save_to(self, place: Path) -> bool:
        """Save the card, also one with text that cannot be read yet."""
        try:
            self._desk.write(place, self.state)
        except Refusal as refusal:
            self.refused.emit(refusal.sentence)
            return False
        self.file = place
        self._set_saved(saved=True)
        left = "" if self.state.is_whole else " Some fields are still open; what was typed is kept."
        self.told.emit(f"Saved as {place.name}.{left}")
        return True

    def commit(self, field: Field, value: Value) -> None:
        """Take a typed value into the card; the same value again, and a tick never set, change nothing."""
        if is_same(field, self.value(field), value) or self.begins_with_tick(field, value):
            return
        self.note_change(field, self.value(field), value)
        says = self.new_entry_says(field)
        state = self._desk.take(self.state, field.path, value)
        for path, said in says:
            state = self._desk.take(state, path, said)
        self._become(state, saved=False)

    def show_magneto(self, side: Side, *, present: bool) -> None:
        """Take a magneto off the card, or put it on again with what stood there before."""
        if present:
            magneto = self._aside.pop(side, TypedMagneto())
        else:
            standing = getattr(self.state.typed, side)
            self._aside[side] = standing or TypedMagneto()
            magneto = None
        self._become(self._desk.take_magneto(self.state, side, magneto), saved=False)

    def paper(self, *, size: str, blank: bool = False) -> bytes | None:
        """Return the printed card, or None after a refusal."""
        try:
            return self._desk.paper(self.state, size=size, blank=blank)
        except Refusal as refusal:
            self.refused.emit(refusal.sentence)
            return None

    def save_paper(self, place: Path, pdf: bytes) -> bool:
        """Write a paper into a file."""
        try:
            self._desk.write_paper(place, pdf)
        except Refusal as refusal:
            self.refused.emit(refusal.sentence)
            return False
        self.told.emit(f"The card is in {place}.")
        return True

    def _become(self, state: CardState, *, saved: bool) -> None:
        self.become(state)
        self._set_saved(saved=saved)

    def _set_saved(self, *, saved: bool) -> None:
        self.is_saved = saved
        self.saved_changed.emit(saved)
