"""A new work order as it is typed: the text is kept, and read into an order or into a fault at each field."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from datetime import date

from PySide6.QtCore import QObject, Signal

from desktop.core.shop.aircraft import Aircraft, EngineFitted, EnginePosition, MagnetoFitted
from desktop.core.shop.customers import Customer
from desktop.core.shop.intake import Intake, Plate, intake_faults
from desktop.core.shop.text_limits import text_trouble
from desktop.core.timing.faults import Fault
from desktop.core.timing.readings import Hand, Side
from desktop.core.timing.typed_paths import Value
from desktop.usecases.shop.open_order import NewOrder
from desktop.viewmodels.fields import Field
from desktop.viewmodels.new_order_fields import POSITION, PROMISED, REGISTRATION, order_fields
from desktop.viewmodels.typed_dates import day_fault, long_day, typed_day

Known = tuple[Aircraft, Customer]
FindAircraft = Callable[[str], Known | None]

NEEDED = {
    REGISTRATION.path: "The registration is missing. Write it as it stands on the aircraft.",
    "customer.name": "The name is missing. Write who brought the aircraft.",
    POSITION.path: "The position is missing. Choose which engine the work is on.",
}


@dataclass(frozen=True, slots=True)
class TypedOrder:
    """What stands in the form, by path; ``known`` is the aircraft as it came last, ``filled`` what it filled in."""

    values: tuple[tuple[str, Value], ...] = ()
    known: Known | None = None
    filled: tuple[tuple[str, Value], ...] = ()
    is_tried: bool = False

    def value(self, path: str) -> Value:
        """Return what stands at a field; None while nothing does."""
        return dict(self.values).get(path)

    def text(self, path: str) -> str:
        """Return the text at a field without the spaces around it."""
        value = self.value(path)
        return value.strip() if isinstance(value, str) else ""

    def with_value(self, path: str, value: Value) -> "TypedOrder":
        """Return the form with another value at a field."""
        kept = {key: old for key, old in self.values if key != path}
        return replace(
            self, values=tuple(kept.items()) if value in (None, "", False) else (*kept.items(), (path, value))
        )


def faults_of(typed: TypedOrder) -> tuple[Fault, ...]:
    """Return every fault of the form with a sentence that says what to do, in the order of the fields."""
    found = {fault.where: fault for fault in _faults(typed)}
    return tuple(found[field.path] for field in order_fields() if field.path in found)


def order_of(typed: TypedOrder) -> NewOrder | None:
    """Return the order that the form says, with its intake; None while it has a fault."""
    if faults_of(typed):
        return None
    intake = intake_of(typed)
    return NewOrder(
        customer=_customer(typed),
        aircraft=_aircraft(typed),
        position=EnginePosition(typed.text(POSITION.path)),
        asked=_asked(typed),
        promised=_promised(typed),
        intake=None if intake == Intake() else intake,
    )


def intake_of(typed: TypedOrder) -> Intake:
    """Return the intake as typed; a data plate of which nothing was written is left out."""
    plates = (
        Plate(
            side,
            typed.text(f"{side}.part_number"),
            typed.text(f"{side}.serial"),
            Hand(hand) if (hand := typed.text(f"{side}.hand")) else None,
            typed.text(f"{side}.lag"),
            typed.text(f"{side}.since_overhaul"),
        )
        for side in Side
    )
    return Intake(
        logs_seen=typed.value("logs_seen") is True,
        total_time=typed.text("total_time"),
        tachometer=typed.text("tachometer"),
        complaint=typed.text("complaint"),
        plates=tuple(plate for plate in plates if plate != Plate(plate.side)),
    )


def with_known(typed: TypedOrder, known: Known | None) -> TypedOrder:
    """Fill the empty fields with what is known of the aircraft, after taking out what another one had filled in."""
    for path, value in typed.filled:
        if typed.value(path) == value:
            typed = typed.with_value(path, None)
    filled: list[tuple[str, Value]] = []
    typed = replace(typed, known=known)
    for path, value in _known_values(typed) if known else ():
        if value and typed.value(path) is None:
            typed = typed.with_value(path, value)
            filled.append((path, value))
    return replace(typed, filled=tuple(filled))


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
        if field.path == PROMISED.path and (day := _promised(self.typed)):
            return long_day(day)
        if field.path == REGISTRATION.path and self.typed.known:
            return "known: filled in as it came last"
        return ""

    def _known(self, registration: str) -> Known | None:
        if not registration:
            return None
        return self._find(registration) or self._find(registration.upper())

    def _become(self, typed: TypedOrder) -> None:
        self.typed = typed
        self.typed_changed.emit(typed)


def _faults(typed: TypedOrder) -> Iterator[Fault]:
    for path, sentence in NEEDED.items():
        if not typed.text(path):
            yield Fault(path, sentence)
    if (day := typed.text(PROMISED.path)) and (trouble := day_fault(day)):
        yield Fault(PROMISED.path, _sentence(trouble))
    for fault in intake_faults(intake_of(typed)):
        yield Fault(fault.where, _sentence(fault.expected.replace("expected", "write", 1)))
    for path, value in typed.values:
        if trouble := text_trouble(value):
            yield Fault(path, trouble)


def _sentence(words: str) -> str:
    return f"{words[0].upper()}{words[1:]}."


def _promised(typed: TypedOrder) -> date | None:
    return typed_day(typed.text(PROMISED.path))


def _asked(typed: TypedOrder) -> str:
    """Return what is asked, with who authorised it: the two belong to one sentence of the order."""
    by = typed.text("authorised")
    return " ".join(part for part in (_ended(typed.text("asked")), f"Authorised by {by}" if by else "") if part)


def _ended(text: str) -> str:
    return text if not text or text[-1] in ".!?" else f"{text}."


def _customer(typed: TypedOrder) -> Customer:
    """Return the customer; one who is known keeps the address that the form does not ask for."""
    name = typed.text("customer.name")
    known = typed.known[1] if typed.known else None
    address = known.address if known and known.name == name else ""
    return Customer(name, address, typed.text("customer.telephone"), typed.text("customer.email"))


def _aircraft(typed: TypedOrder) -> Aircraft:
    """Return the aircraft with its engine; the other engine of a known twin stays."""
    position = EnginePosition(typed.text(POSITION.path))
    magnetos = tuple(
        MagnetoFitted(side, typed.text(f"{side}.part_number"), typed.text(f"{side}.serial"))
        for side in Side
        if typed.text(f"{side}.part_number") or typed.text(f"{side}.serial")
    )
    engine = EngineFitted(position, typed.text("engine.type"), typed.text("engine.serial"), magnetos)
    known = typed.known[0] if typed.known else None
    single = EnginePosition.SINGLE
    others = tuple(
        other
        for other in (known.engines if known else ())
        if other.position is not position and single not in (other.position, position)
    )
    registration = known.registration if known else typed.text(REGISTRATION.path)
    return Aircraft(registration, typed.text("aircraft.type"), typed.text("aircraft.serial"), (engine, *others))


def _known_values(typed: TypedOrder) -> Iterator[tuple[str, Value]]:
    """Yield what a known aircraft fills in: itself, its customer, and the engine in the position of the job."""
    if typed.known is None:
        return
    aircraft, customer = typed.known
    yield "aircraft.type", aircraft.type
    yield "aircraft.serial", aircraft.serial
    yield "customer.name", customer.name
    yield "customer.telephone", customer.telephone
    yield "customer.email", customer.email
    single = aircraft.engine_at(EnginePosition.SINGLE)
    if single and not typed.text(POSITION.path):
        yield POSITION.path, single.position.value
    position = typed.text(POSITION.path) or (single.position.value if single else "")
    engine = aircraft.engine_at(EnginePosition(position)) if position else None
    if engine is None:
        return
    yield "engine.type", engine.type
    yield "engine.serial", engine.serial
    for magneto in engine.magnetos:
        yield f"{magneto.side}.part_number", magneto.part_number
        yield f"{magneto.side}.serial", magneto.serial
