"""A work order as sections of a record: everything around its cards."""

from collections.abc import Iterator

from desktop.core.records.entry.entry_wordings import directive_words, part_words
from desktop.core.records.record import Row, Section
from desktop.core.shop.aircraft.customers import Customer
from desktop.core.shop.aircraft.intake import Plate, TakenIn
from desktop.core.shop.orders.discrepancies import Discrepancy
from desktop.core.shop.orders.order import WorkOrder
from desktop.core.shop.orders.order_line import order_name
from desktop.core.shop.orders.time_booked import total_words
from desktop.core.words import day_words
from desktop.usecases.records.sections.card_sections import board_section
from desktop.usecases.records.sections.names import Names, moment_words, told, yes_no


def order_sections(order: WorkOrder, names: Names) -> tuple[Section, ...]:
    """Return everything that stands on an order around its cards; each card by its number, title and state only."""
    sections = (
        Section("Order", (*_head(order, names), *_customer(order.customer))),
        Section("Aircraft and engines", tuple(_aircraft(order))),
        Section("Intake", tuple(_intake(order.taken_in, names)) if order.taken_in else ()),
        Section("Cards", tuple(_cards(order))),
        Section("Discrepancies", tuple(_discrepancies(order.discrepancies, names))),
        Section("Parts", tuple(_parts(order, names))),
        Section("Directives", tuple(_directives(order, names))),
        Section("Time booked", tuple(_time(order, names))),
        Section("Moves", tuple(_moves(order, names))),
        board_section(order.board, names),
    )
    return tuple(section for section in sections if section.rows)


def _head(order: WorkOrder, names: Names) -> Iterator[Row]:
    yield from told("Order", order_name(order.number))
    yield from told("Version", str(order.version))
    yield from told("State", order.state)
    yield from told("Opened by", names.stamp(order.opened))
    yield from told("What is asked", order.asked)
    yield from told("The customer's word for it", order.authorised)
    yield from told("Promised day", day_words(order.promised) if order.promised else "")
    for left_out in order.left_out:
        yield from told("Magneto left out of the job", left_out.side)
        yield from told("Reason for leaving it out", left_out.reason)
        yield from told("Left out by", names.stamp(left_out.by))


def _customer(customer: Customer) -> Iterator[Row]:
    yield from told("Customer", customer.name)
    yield from told("Customer, address", customer.address)
    yield from told("Customer, telephone", customer.telephone)
    yield from told("Customer, e-mail", customer.email)


def _aircraft(order: WorkOrder) -> Iterator[Row]:
    aircraft = order.aircraft
    yield from told("Aircraft, registration", aircraft.registration)
    yield from told("Aircraft, type", aircraft.type)
    yield from told("Aircraft, serial number", aircraft.serial)
    yield from told("The order is on the engine in position", order.position)
    for engine in aircraft.engines:
        name = f"Engine, {engine.position}"
        yield from told(name, engine.type or "type not written")
        yield from told(f"{name}, serial number", engine.serial)
        for magneto in engine.magnetos:
            yield from told(f"{name}, {magneto.side} magneto, part number", magneto.part_number)
            yield from told(f"{name}, {magneto.side} magneto, serial number", magneto.serial)


def _intake(taken_in: TakenIn, names: Names) -> Iterator[Row]:
    intake = taken_in.intake
    yield from told("Logs seen", yes_no(intake.logs_seen))
    yield from told("Total time, hours", intake.total_time)
    yield from told("Tachometer, hours", intake.tachometer)
    yield from told("Complaint", intake.complaint)
    for plate in intake.plates:
        yield from _plate(plate)
    yield from told("Taken in by", names.stamp(taken_in.by))


def _plate(plate: Plate) -> Iterator[Row]:
    name = f"{plate.side.capitalize()} data plate"
    yield from told(f"{name}, part number", plate.part_number)
    yield from told(f"{name}, serial number", plate.serial)
    yield from told(f"{name}, hand of rotation", plate.hand or "")
    yield from told(f"{name}, impulse lag, magneto degrees", plate.lag)
    yield from told(f"{name}, hours since overhaul", plate.since_overhaul)


def _cards(order: WorkOrder) -> Iterator[Row]:
    for card in order.cards:
        task = card.task
        yield from told(f"Card {card.number}", f"{task.title} ({task.id}, revision {task.revision})")
        yield from told(f"Card {card.number}, state", order.state_of(card))


def _discrepancies(found: tuple[Discrepancy, ...], names: Names) -> Iterator[Row]:
    for one in found:
        name = f"Discrepancy {one.number}"
        yield from told(name, one.found)
        yield from told(f"{name}, found by", names.stamp(one.by))
        yield from told(f"{name}, it is", one.word)
        if one.settled:
            yield from told(f"{name}, what was done", one.settled.words)
            yield from told(f"{name}, settled by", names.stamp(one.settled.by))
        customer = one.settled.customer if one.settled else None
        if customer:
            yield from told(f"{name}, for the customer", customer.who)
            yield from told(f"{name}, said at", moment_words(customer.at))
            yield from told(f"{name}, how much", customer.how_much)


def _parts(order: WorkOrder, names: Names) -> Iterator[Row]:
    for moved in order.parts:
        yield from told(f"Part {moved.part.way}", part_words(moved.part))
        yield from told("Written down by", names.stamp(moved.by))


def _directives(order: WorkOrder, names: Names) -> Iterator[Row]:
    for search in order.searches:
        yield from told("Directive search for", ", ".join(search.subjects))
        yield from told("Looked in", search.looked_in)
        yield from told("Looked by", names.stamp(search.by))
    for done in order.directives:
        yield from told("Directive complied with", directive_words(done))
        yield from told("Written down by", names.stamp(done.by))


def _time(order: WorkOrder, names: Names) -> Iterator[Row]:
    for entry in order.time:
        yield from told("Person", names.person(entry.person))
        yield from told("Minutes", str(entry.minutes))
        yield from told("For", entry.what)
        yield from told("Written down by", names.stamp(entry.by))
    if order.time:
        yield Row("Total", total_words(order.time))


def _moves(order: WorkOrder, names: Names) -> Iterator[Row]:
    for passage in order.passages:
        card = f", card {passage.card}" if passage.card else ""
        yield from told("Move", f"{passage.move}{card}")
        yield from told("Reason", passage.reason)
        yield from told("By", names.stamp(passage.by))
