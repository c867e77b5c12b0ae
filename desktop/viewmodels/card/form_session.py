"""What is shared by every form of a card: its places, its fields, and which of them is open."""

from PySide6.QtCore import QObject, Signal

from desktop.core.timing.typed_paths import Value, value_at
from desktop.usecases.fill_card import CardState
from desktop.viewmodels.card.going_on import Stop, held_at, is_read_only, next_stop, partner_of
from desktop.viewmodels.pieces.card_words import Progress, progress_of
from desktop.viewmodels.pieces.fields import ON_THE_ORDER, Field, Kind, Place, fields_of
from desktop.viewmodels.pieces.unit_notes import unit_note

TICK_LATER = "Type the reading first. This tick belongs to it."


class FormSession(QObject):
    """A card that is being filled. Every change emits ``state_changed`` with the new frozen state."""

    state_changed = Signal(object)
    places_changed = Signal(object)
    refused = Signal(str)
    told = Signal(str)

    def __init__(self, state: CardState, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.state = state
        self.units = ""
        self._read: set[str] = set()
        self._corrected = ""
        self.places = self.places_now(state)

    def places_now(self, state: CardState) -> tuple[Place, ...]:
        """Return the places of a card as it stands."""
        raise NotImplementedError

    def commit(self, field: Field, value: Value) -> None:
        """Take a typed value; the same value again, and a tick never set, change nothing."""
        raise NotImplementedError

    def last_act(self) -> str:
        """Return the words of the action at the last place."""
        raise NotImplementedError

    def began(self, field: Field) -> None:
        """Remember what stood at a field when somebody came to it; a readings file has one window only."""

    def picks_for(self, field: Field) -> tuple[tuple[str, str], ...]:  # noqa: ARG002 - other cards look at the field
        """Return what a field is picked from, each with its number and its name; nothing where it is typed."""
        return ()

    def is_writable(self, field: Field) -> bool:  # noqa: ARG002 - other cards look at the field
        """Tell whether a field takes typing now."""
        return True

    def not_normal(self) -> tuple[str, ...] | None:
        """Return what on the aircraft is not as it flies, in words; None for a card without a safe-state board."""
        return None

    def trouble_at(self, field: Field) -> str:
        """Return what is wrong with what stands at a field; an empty field is open, not wrong."""
        fault = self.state.fault_at(field.path)
        if fault is None or self.value(field) is None:
            return ""
        return f"{fault.expected[0].upper()}{fault.expected[1:]}."

    def keys_said(self) -> str:
        """Return the keys that are worth knowing."""
        return "Enter: next open field   Ctrl+PgDn: next place   Ctrl+S: save   Ctrl+P: print"

    def last_lines(self) -> tuple[str, ...]:
        """Return what stands at the last place under the findings: what is still open, or how the card stands."""
        state = self.state
        if not state.faults and state.checked:
            stops = any(finding.severity == "stops" for finding in state.checked.findings)
            return ("Not to be approved while something stops.",) if stops else ("Nothing stops. It can be printed.",)
        labels = {
            field.path: f"{place.title}: {field.label}"
            for place in self.places
            for group in place.groups
            for field in group.fields
        }
        return ("Still open:", *(labels.get(fault.where, fault.where) for fault in state.faults))

    def value(self, field: Field) -> Value:
        """Return what stands at a field."""
        return value_at(self.state.typed, field.path)

    def other_units(self, field: Field) -> str:
        """Return a length or torque in ``units``, the system that the shop chose; empty without one."""
        return unit_note(field, lambda path: value_at(self.state.typed, path), self.value(field), self.units)

    def is_open(self, field: Field) -> bool:
        """Tell whether a field still asks to be filled: needed and empty, or wrong."""
        value = self.value(field)
        if value is None or (value is False and field.kind is Kind.TICK):
            return not field.optional
        return self.state.fault_at(field.path) is not None

    def is_read(self, place: Place) -> bool:
        """Tell whether a step that asks for nothing was read."""
        return place.id in self._read

    def read(self, place: Place) -> None:
        """Remember that a step was read with its cautions; nothing of it is kept on the card."""
        if is_read_only(place):
            self._read.add(place.id)
            self.state_changed.emit(self.state)

    def progress_at(self, place: Place) -> Progress:
        """Tell how far a place is; a step that asks for nothing is done when it was read."""
        if is_read_only(place):
            return Progress.DONE if self.is_read(place) else Progress.EMPTY
        values: dict[str, object] = {field.key: self.value(field) for field in fields_of(place)}
        return progress_of(place, self.places, self.state, values)

    def next_open(self, after: Field | None) -> Stop | None:
        """Return the next place to go to after a field, in the order of the work, round to the beginning."""
        return next_stop(self.places, (after.place, after.key) if after else ("", ""), self._is_open_at)

    def next_after(self, place: Place) -> Stop | None:
        """Return where the work goes on after a place that was read."""
        return next_stop(self.places, (place.id, ""), self._is_open_at)

    def go_on(self, field: Field) -> Stop | None:
        """Return where Enter leads from a field; None when nothing is open any more.

        Whoever corrected a reading comes to the next one of its entry. A place whose readings stop holds, with the
        reason. What is needed and empty is not passed by.
        """
        place = next((one for one in self.places if one.id == field.place), None)
        corrected, self._corrected = self._corrected == field.key, ""
        if place is None:
            return self.next_open(field)
        if corrected and (partner := partner_of(place, field)) is not None:
            return Stop(place.id, partner)
        if words := self.waits_for(field):
            return Stop(place.id, field, words)
        after = self.next_open(field)
        held = (
            None
            if after and after.place == place.id and _is_reading(after)
            else held_at(place, self.places, self.state)
        )
        return held or after

    def waits_for(self, field: Field) -> str:  # noqa: ARG002 - other cards look at the field
        """Say why Enter stays at a field that is empty; empty where it goes on."""
        return ""

    def _is_open_at(self, stop: Stop) -> bool:
        if stop.field is not None:
            return self.is_open(stop.field)
        return not any(place.id == stop.place and self.is_read(place) for place in self.places)

    def note_change(self, field: Field, before: Value, value: Value) -> None:
        """Remember that a reading was corrected: the next key leads to the one beside it."""
        is_corrected = field.kind is Kind.TEXT and before not in (None, "") and not is_same(field, before, value)
        self._corrected = field.key if is_corrected else ""

    def begins_with_tick(self, field: Field, value: Value) -> bool:
        """Tell whether a tick would begin an entry without a reading; then it is said, and the tick is not taken."""
        if field.kind is not Kind.TICK or not value:
            return False
        if not any(group.is_new and field in group.fields for place in self.places for group in place.groups):
            return False
        self.refused.emit(TICK_LATER)
        self.state_changed.emit(self.state)
        return True

    def new_entry_says(self, field: Field) -> tuple[tuple[str, Value], ...]:
        """Return what a value adds when it begins an entry: each path with what the entry is by its place."""
        for place in self.places:
            begins = any(group.is_new and field in group.fields for group in place.groups)
            if begins and self.value(field) is None:
                entry = field.path.rsplit(".", 1)[0]
                return tuple((f"{entry}.{key}", value) for key, value in place.entry_says)
        return ()

    def become(self, state: CardState) -> None:
        """Show another state of the card."""
        self.state = state
        places = self.places_now(state)
        if places != self.places:
            self.places = places
            self.places_changed.emit(places)
        self.state_changed.emit(state)


def is_same(field: Field, one: Value, other: Value) -> bool:
    """Tell whether two values of a field are the same; a tick never set is one not set, and empty text is nothing."""
    if field.kind is Kind.TICK:
        return bool(one) is bool(other)
    return _text(one) == _text(other)


def _is_reading(stop: Stop) -> bool:
    return stop.field is not None and not stop.field.path.startswith(ON_THE_ORDER)


def _text(value: Value) -> str:
    return str(value).lower() if isinstance(value, bool) else value or ""
