"""What is shared by every form of a card: its places, its fields, and which of them is open."""

from PySide6.QtCore import QObject, Signal

from desktop.core.timing.typed_paths import Value, value_at
from desktop.usecases.fill_card import CardState
from desktop.viewmodels.pieces.fields import Field, Kind, Place, asked_fields
from desktop.viewmodels.pieces.unit_notes import unit_note


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

    def next_open(self, after: Field | None) -> Field | None:
        """Return the next open field after one, in the order of the work, round to the beginning."""
        order = [field for place in self.places for field in asked_fields(place)]
        keys = [field.key for field in order]
        start = keys.index(after.key) + 1 if after and after.key in keys else 0
        return next((field for field in order[start:] + order[:start] if self.is_open(field) and field != after), None)

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


def _text(value: Value) -> str:
    return str(value).lower() if isinstance(value, bool) else value or ""
