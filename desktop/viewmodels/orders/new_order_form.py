"""The form of a new work order: the text is kept as typed, and a fault is said at its field."""

from collections.abc import Callable
from dataclasses import replace

from PySide6.QtCore import QObject, Signal

from desktop.core.timing.typed_paths import Value
from desktop.usecases.shop.orders.open_order import NewOrder
from desktop.viewmodels.orders.new_order_fields import POSITION, PROMISED, REGISTRATION, order_fields
from desktop.viewmodels.orders.typed_order import Known, TypedOrder, faults_of, order_of, promised_of, with_known
from desktop.viewmodels.pieces.fields import Field
from desktop.viewmodels.pieces.typed_dates import long_day

FindAircraft = Callable[[str], Known | None]


class NewOrderForm(QObject):
    """The form that is open. Every change emits ``typed_changed`` with the new frozen value."""

    typed_changed = Signal(object)

    def __init__(self, find_aircraft: FindAircraft, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._find = find_aircraft
        self.typed = TypedOrder()

    def begin_empty(self) -> None:
        """Begin an empty form."""
        self._become(TypedOrder())

    def commit(self, field: Field, value: Value) -> None:
        """Take what was typed at a field; the registration and the position bring what is known with them."""
        old = self.typed
        new = old.with_value(field.path, value)
        if set(new.values) == set(old.values):
            return
        if field.path == REGISTRATION.path:
            new = with_known(new, self._known(new.text(field.path)))
        elif field.path == POSITION.path:
            new = with_known(new, new.known)
        self._become(new)

    @property
    def is_begun(self) -> bool:
        """Whether anything stands in the form."""
        return bool(self.typed.values)

    def finish(self) -> NewOrder | None:
        """Return the order to be opened; None, with every fault shown from now on, while there is one."""
        self._become(replace(self.typed, is_tried=True))
        return order_of(self.typed)

    def fault_at(self, field: Field) -> str:
        """Return the sentence at a field. An empty field is no fault until the order is to be opened."""
        if not self.typed.is_tried and self.typed.value(field.path) is None:
            return ""
        return next((fault.expected for fault in faults_of(self.typed) if fault.where == field.path), "")

    def first_fault(self) -> Field | None:
        """Return the first field with a fault."""
        wrong = {fault.where for fault in faults_of(self.typed)}
        return next((field for field in order_fields() if field.path in wrong), None)

    def note_at(self, field: Field) -> str:
        """Return how a field was read, where that can be misread, and where a value came from."""
        if field.path == PROMISED.path and (day := promised_of(self.typed)):
            return long_day(day)
        if field.path == REGISTRATION.path and self.typed.known:
            return "known: filled in as it came last"
        return ""

    def is_filled_in(self, field: Field) -> bool:
        """Tell whether what stands at a field came with the known aircraft."""
        return (field.path, self.typed.value(field.path)) in self.typed.filled

    def _known(self, registration: str) -> Known | None:
        if not registration:
            return None
        return self._find(registration) or self._find(registration.upper())

    def _become(self, typed: TypedOrder) -> None:
        self.typed = typed
        self.typed_changed.emit(typed)
