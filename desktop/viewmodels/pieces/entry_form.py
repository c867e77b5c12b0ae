"""A form for one entry of a list: the text is kept as typed, and a fault is said at its field."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from PySide6.QtCore import QObject, Signal

from desktop.core.shop.cards.text_limits import text_trouble
from desktop.core.timing.faults import Fault
from desktop.core.timing.typed_paths import Value
from desktop.viewmodels.pieces.fields import Field, Group
from desktop.viewmodels.pieces.typed_dates import day_fault, long_day, typed_day


@dataclass(frozen=True, slots=True)
class Snapshot:
    """What stood in a form that was left without being kept, what it began with, and which version was seen."""

    values: Mapping[str, Value]
    began_with: Mapping[str, Value]
    seen_version: int


class EntryForm(QObject):
    """The form that is open. Every change of what stands in it emits ``typed_changed``.

    ``columns`` are its groups of fields, down the first column and then down the second.
    """

    typed_changed = Signal()
    columns: tuple[tuple[Group, ...], ...] = ()
    days: tuple[str, ...] = ()
    """The paths of the fields that hold a day."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.values: dict[str, Value] = {}
        self.seen_version = 0
        self._began_with: dict[str, Value] = {}
        self._is_tried = False

    def begin(self, values: Mapping[str, Value], seen_version: int) -> None:
        """Begin with what is known of an entry; version 0 for a new one."""
        self.values = {path: value for path, value in values.items() if value not in (None, "", False)}
        self._began_with = dict(self.values)
        self.seen_version = seen_version
        self._is_tried = False
        self.typed_changed.emit()

    def snapshot(self) -> Snapshot:
        """Return what stands in the form, to go on with it later."""
        return Snapshot(dict(self.values), dict(self._began_with), self.seen_version)

    def go_on(self, snapshot: Snapshot) -> None:
        """Go on with what stood in the form before."""
        self.values, self._began_with = dict(snapshot.values), dict(snapshot.began_with)
        self.seen_version = snapshot.seen_version
        self.typed_changed.emit()

    @property
    def is_new(self) -> bool:
        """Whether the entry is not on the list yet."""
        return self.seen_version == 0

    @property
    def is_begun(self) -> bool:
        """Whether something stands in the form that is not kept yet."""
        return self.values != self._began_with

    def commit(self, field: Field, value: Value) -> None:
        """Take what was typed at a field."""
        before = dict(self.values)
        if value in (None, "", False):
            self.values.pop(field.path, None)
        else:
            self.values[field.path] = value
        if self.values != before:
            self.follow(field)
            self.typed_changed.emit()

    def follow(self, field: Field) -> None:
        """Fill in what follows from a field that was just typed; by itself nothing does."""

    def text(self, path: str) -> str:
        """Return the text at a field without the spaces around it."""
        value = self.values.get(path)
        return value.strip() if isinstance(value, str) else ""

    def fields(self) -> Iterator[Field]:
        """Yield the fields in the order of the keyboard."""
        for column in self.columns:
            for group in column:
                yield from group.fields

    def try_it(self) -> bool:
        """Show every fault from now on; tell whether there is none."""
        self._is_tried = True
        self.typed_changed.emit()
        return not self.faults()

    def faults(self) -> tuple[Fault, ...]:
        """Return every fault with a sentence that says what to do, at most one a field, in the order of the fields."""
        found: dict[str, Fault] = {}
        for fault in (*self._faults_of_text(), *self.own_faults()):
            found.setdefault(fault.where, fault)
        return tuple(found[field.path] for field in self.fields() if field.path in found)

    def own_faults(self) -> tuple[Fault, ...]:
        """Return what the core says of the entry, each fault at a field of the form."""
        raise NotImplementedError

    def fault_at(self, field: Field) -> str:
        """Return the sentence at a field. An empty field is no fault until the entry is to be kept."""
        if not self._is_tried and field.path not in self.values:
            return ""
        return next((fault.expected for fault in self.faults() if fault.where == field.path), "")

    def first_fault(self) -> Field | None:
        """Return the first field with a fault."""
        wrong = {fault.where for fault in self.faults()}
        return next((field for field in self.fields() if field.path in wrong), None)

    def note_at(self, field: Field) -> str:
        """Return how a day was read, with its weekday, and why a field takes no typing."""
        if not self.is_open(field):
            return "stays: it stands on records"
        day = typed_day(self.text(field.path)) if field.path in self.days else None
        return long_day(day) if day else ""

    def is_filled_in(self, field: Field) -> bool:
        """Tell whether a field need not be stopped at."""
        return not self.is_open(field)

    def is_open(self, field: Field) -> bool:  # noqa: ARG002 - other forms look at the field
        """Tell whether a field takes typing."""
        return True

    def name_of(self, field: Field) -> str:
        """Return a field's whole name with its group, so that no two of the form are called the same."""
        group = next(group for column in self.columns for group in column if field in group.fields)
        return f"{group.title}: {field.label}"

    def _faults_of_text(self) -> Iterator[Fault]:
        for path in self.days:
            if (typed := self.text(path)) and (trouble := day_fault(typed)):
                yield Fault(path, f"{trouble[0].upper()}{trouble[1:]}.")
        for path, value in self.values.items():
            if trouble := text_trouble(value):
                yield Fault(path, trouble)
