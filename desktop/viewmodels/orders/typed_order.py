"""A new work order as it is typed, read into an order with its intake or into a fault at each field. Pure; no Qt."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import date

from desktop.core.shop.aircraft.aircraft import Aircraft, EngineFitted, EnginePosition, MagnetoFitted
from desktop.core.shop.aircraft.customers import Customer
from desktop.core.shop.aircraft.intake import Intake, Plate, intake_faults
from desktop.core.shop.cards.text_limits import text_trouble
from desktop.core.timing.faults import Fault
from desktop.core.timing.readings import Hand, Side
from desktop.core.timing.typed_paths import Value
from desktop.usecases.shop.orders.open_order import NewOrder
from desktop.viewmodels.orders.new_order_fields import POSITION, PROMISED, REGISTRATION, order_fields
from desktop.viewmodels.pieces.typed_dates import day_fault, typed_day

Known = tuple[Aircraft, Customer]

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
        promised=promised_of(typed),
        intake=None if intake == Intake() else intake,
    )


def intake_of(typed: TypedOrder) -> Intake:
    """Return the intake as typed."""
    return intake_from(dict(typed.values))


def intake_from(values: Mapping[str, Value]) -> Intake:
    """Return the intake that typed values say; a data plate of which nothing was written is left out."""

    def text(path: str) -> str:
        value = values.get(path)
        return value.strip() if isinstance(value, str) else ""

    plates = (
        Plate(
            side,
            text(f"{side}.part_number"),
            text(f"{side}.serial"),
            Hand(hand) if (hand := text(f"{side}.hand")) else None,
            text(f"{side}.lag"),
            text(f"{side}.since_overhaul"),
        )
        for side in Side
    )
    return Intake(
        logs_seen=values.get("logs_seen") is True,
        total_time=text("total_time"),
        tachometer=text("tachometer"),
        complaint=text("complaint"),
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


def _faults(typed: TypedOrder) -> Iterator[Fault]:
    for path, words in NEEDED.items():
        if not typed.text(path):
            yield Fault(path, words)
    if (day := typed.text(PROMISED.path)) and (trouble := day_fault(day)):
        yield Fault(PROMISED.path, sentence(trouble))
    for fault in intake_faults(intake_of(typed)):
        yield Fault(fault.where, sentence(fault.expected.replace("expected", "write", 1)))
    for path, value in typed.values:
        if trouble := text_trouble(value):
            yield Fault(path, trouble)


def sentence(words: str) -> str:
    """Return words as a sentence."""
    return f"{words[0].upper()}{words[1:]}."


def promised_of(typed: TypedOrder) -> date | None:
    """Return the promised day; None while nothing that can be read stands there."""
    return typed_day(typed.text(PROMISED.path))


def _asked(typed: TypedOrder) -> str:
    """Return what is asked, with who authorised it: the two belong to one sentence of the order."""
    asked, by = typed.text("asked"), typed.text("authorised")
    if not by:
        return asked
    end = "" if not asked else " " if asked[-1] in ".!?" else ". "
    return f"{asked}{end}Authorised by {by}"


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
