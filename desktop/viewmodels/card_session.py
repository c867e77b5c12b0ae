"""One card in the window: holds the frozen state, takes typed values, and says what changed."""

from pathlib import Path
from typing import Protocol

from PySide6.QtCore import QObject, Signal

from desktop.core.errors import Refusal
from desktop.core.timing.readings import Side
from desktop.core.timing.typed_card import TypedMagneto
from desktop.core.timing.typed_paths import Value, value_at
from desktop.usecases.fill_card import CardState
from desktop.viewmodels.card_form import places_of
from desktop.viewmodels.fields import Field, Kind, Place


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


class CardSession(QObject):
    """The card that is open. Every change emits ``state_changed`` with the new frozen state."""

    state_changed = Signal(object)
    places_changed = Signal(object)
    saved_changed = Signal(bool)
    refused = Signal(str)
    told = Signal(str)

    def __init__(self, desk: CardDesk, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self.state = desk.empty()
        self.file: Path | None = None
        self.is_saved = True
        self.places = places_of(self.state.typed)
        self._aside: dict[Side, TypedMagneto] = {}

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
        standing = self.value(field)
        if _is_same(field, standing, value):
            return
        is_new = standing is None and self._begins_entry(field)
        state = self._desk.take(self.state, field.path, value)
        if is_new:
            state = self._with_what_the_place_says(state, field)
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

    def value(self, field: Field) -> Value:
        """Return what stands at a field."""
        return value_at(self.state.typed, field.path)

    def is_open(self, field: Field) -> bool:
        """Tell whether a field still asks to be filled: needed and empty, or wrong."""
        value = self.value(field)
        if value is None or (value is False and field.kind is Kind.TICK):
            return not field.optional
        return self.state.fault_at(field.path) is not None

    def next_open(self, after: Field | None) -> Field | None:
        """Return the next open field after one, in the order of the work, round to the beginning."""
        order = [field for place in self.places for field in asked_fields(place)]
        keys = [field.key for field in order]
        start = keys.index(after.key) + 1 if after and after.key in keys else 0
        return next((field for field in order[start:] + order[:start] if self.is_open(field) and field != after), None)

    def _begins_entry(self, field: Field) -> bool:
        return any(group.is_new and field in group.fields for place in self.places for group in place.groups)

    def _with_what_the_place_says(self, state: CardState, field: Field) -> CardState:
        """Add what a new entry is by the place where it begins: as found, or taken after zeroing."""
        entry = field.path.rsplit(".", 1)[0]
        place = next(place for place in self.places if place.id == field.place)
        for key, value in place.entry_says:
            state = self._desk.take(state, f"{entry}.{key}", value)
        return state

    def _become(self, state: CardState, *, saved: bool) -> None:
        self.state = state
        places = places_of(state.typed)
        if places != self.places:
            self.places = places
            self.places_changed.emit(places)
        self.state_changed.emit(state)
        self._set_saved(saved=saved)

    def _set_saved(self, *, saved: bool) -> None:
        self.is_saved = saved
        self.saved_changed.emit(saved)


def _is_same(field: Field, one: Value, other: Value) -> bool:
    """Tell whether two values of a field are the same; a tick never set is one not set, and empty text is nothing."""
    if field.kind is Kind.TICK:
        return bool(one) is bool(other)
    return _text(one) == _text(other)


def _text(value: Value) -> str:
    return str(value).lower() if isinstance(value, bool) else value or ""


def asked_fields(place: Place) -> tuple[Field, ...]:
    """Return the fields that the key to the next open field may stop at.

    A new entry is asked for while its place is still empty; after that it is there to be used, not asked for.
    """
    groups = [group for group in place.groups if not group.is_new or len(place.groups) == 1]
    return tuple(field for group in groups for field in group.fields)
