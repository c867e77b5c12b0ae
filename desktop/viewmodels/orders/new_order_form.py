"""The form of a new work order: the text is kept as typed, and a fault is said at its field."""

from collections.abc import Callable, Iterator

from PySide6.QtCore import QObject

from desktop.core.shop.aircraft.aircraft import EnginePosition
from desktop.core.shop.aircraft.intake import Plate
from desktop.core.timing.faults import Fault
from desktop.core.timing.typed_paths import Value
from desktop.usecases.shop.orders.open_order import NewOrder
from desktop.viewmodels.orders.new_order_fields import COLUMNS, POSITION, PROMISED, REGISTRATION, name_of
from desktop.viewmodels.orders.typed_order import Known, TypedOrder, faults_of, order_of, promised_of, with_known
from desktop.viewmodels.pieces.entry_form import EntryForm
from desktop.viewmodels.pieces.fields import Field
from desktop.viewmodels.pieces.typed_dates import long_day

FindAircraft = Callable[[str], Known | None]
FindPlates = Callable[[str, EnginePosition], tuple[Plate, ...]]
"""Returns the data plates of an engine as they were written when the aircraft came last."""
KNOWN, LOOK = "known: filled in as it came last", "as it came last: look at the plate"


def _no_plates(_registration: str, _position: EnginePosition) -> tuple[Plate, ...]:
    return ()


class NewOrderForm(EntryForm):
    """The form that is open; an aircraft that was here before brings what is known of it."""

    columns = COLUMNS

    def __init__(
        self, find_aircraft: FindAircraft, parent: QObject | None = None, find_plates: FindPlates = _no_plates
    ) -> None:
        super().__init__(parent)
        self._find, self._find_plates = find_aircraft, find_plates
        self._known: Known | None = None
        self._filled: tuple[tuple[str, Value], ...] = ()

    @property
    def typed(self) -> TypedOrder:
        """What stands in the form, as a frozen value."""
        return TypedOrder(tuple(self.values.items()), self._known, self._filled, self._is_tried)

    def begin_empty(self) -> None:
        """Begin an empty form."""
        self._known, self._filled = None, ()
        self.begin({}, 0)

    def follow(self, field: Field) -> None:
        """Fill in what is known of an aircraft once its registration, or the engine's position, is typed."""
        if field.path == REGISTRATION.path:
            self._take(with_known(self.typed, self._known_as(self.text(field.path))))
        elif field.path == POSITION.path:
            self._take(with_known(self.typed, self._known))

    def finish(self) -> NewOrder | None:
        """Return the order to be opened; None, with every fault shown from now on, while there is one."""
        self.try_it()
        return order_of(self.typed)

    def own_faults(self) -> tuple[Fault, ...]:
        """Return every fault, each at its field."""
        return faults_of(self.typed)

    def note_at(self, field: Field) -> str:
        """Return how a field was read, where that can be misread, and where a value came from."""
        if field.path == PROMISED.path and (day := promised_of(self.typed)):
            return long_day(day)
        if field.path == REGISTRATION.path and self._known:
            return KNOWN
        return LOOK if field.path.endswith((".hand", ".lag")) and self.is_filled_in(field) else ""

    def is_filled_in(self, field: Field) -> bool:
        """Tell whether what stands at a field came with the known aircraft."""
        return (field.path, self.values.get(field.path)) in self._filled

    def name_of(self, field: Field) -> str:
        """Return a field's whole name with its group."""
        return f"{name_of(field.path)} {field.unit}".strip()

    def _known_as(self, registration: str) -> Known | None:
        if not registration:
            return None
        return self._find(registration) or self._find(registration.upper())

    def _take(self, typed: TypedOrder) -> None:
        """Take what is known; of a magneto that is still the same one also what its plate said."""
        self.values, self._known, self._filled = dict(typed.values), typed.known, typed.filled
        for path, value in self._from_plates():
            if value and path not in self.values:
                self.values[path] = value
                self._filled += ((path, value),)

    def _from_plates(self) -> Iterator[tuple[str, Value]]:
        position = self.text(POSITION.path)
        if self._known is None or not position:
            return
        for plate in self._find_plates(self._known[0].registration, EnginePosition(position)):
            standing = (self.text(f"{plate.side}.part_number"), self.text(f"{plate.side}.serial"))
            if plate.serial and standing == (plate.part_number, plate.serial):
                yield f"{plate.side}.hand", plate.hand.value if plate.hand else None
                yield f"{plate.side}.lag", plate.lag
