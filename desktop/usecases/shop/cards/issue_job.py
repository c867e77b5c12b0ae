"""Issuing the cards of a job on an order, each with its limits sheets and the data that stand on them."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date

from desktop.core.errors import NotReady, Refusal
from desktop.core.shop.cards.card_scope import RUN_UP, RUN_UP_FOUND, TORQUE
from desktop.core.shop.cards.jobs import Job
from desktop.core.shop.cards.task_card import TaskCard
from desktop.core.shop.orders.card_facts import captures_among
from desktop.core.shop.orders.order import WorkOrder
from desktop.core.shop.orders.order_moves import NewCard, move
from desktop.core.shop.orders.order_states import Move
from desktop.core.shop.people.people import Right
from desktop.core.shop.sheets.sheet_fit import limits_into
from desktop.core.shop.sheets.sheet_pin import SheetPin
from desktop.core.shop.sheets.sheet_set import SheetSet, sheet_set
from desktop.core.shop.sheets.sheets import Sheet, document_words
from desktop.core.shop.stamp import Stamp
from desktop.core.timing.readings import Side
from desktop.core.timing.typed_card import TypedCard, TypedMagneto, TypedTorque
from desktop.core.timing.typed_paths import with_magneto
from desktop.usecases.fill_card import empty_card
from desktop.usecases.shop.change import change_order, moved, person_in, refuse_after_approval
from desktop.usecases.shop.ports import Answer, Request, Shop, ShopWork


@dataclass(frozen=True, slots=True)
class NewJob:
    """What is issued: a job with its cards in the order of the work, or single cards where ``job`` is empty.

    ``sheets`` names the limits sheet of the engine and of each magneto by its id, with what it is for (engine, left or
    right). ``is_current`` says that whoever issues the cards confirmed the revisions of the documents. ``left_out``
    names magnetos that the cards do not read.
    """

    cards: tuple[TaskCard, ...]
    job: str = ""
    sheets: tuple[tuple[str, str], ...] = ()
    is_current: bool = False
    mechanic: str = ""
    left_out: tuple[Side, ...] = ()


def issue_job(shop: Shop, request: Request, number: int, new: NewJob) -> Answer:
    """Issue the cards of a job in one step.

    Raise NotReady when a data plate does not fit the sheets, each with what is wrong; Refusal when a sheet was not
    compared yet, nobody confirmed that its document is current, or the mechanic cannot fill a card.
    """

    def edit(order: WorkOrder, by: Stamp, work: ShopWork) -> WorkOrder:
        refuse_after_approval(order)
        _refuse_mechanic(work, new.mechanic, by.at.date())
        pins = tuple(_pin(work, place, sheet_id) for place, sheet_id in new.sheets)
        sheets = sheet_set((pin.place, work.pinned_sheet(pin)) for pin in pins)
        if pins and not new.is_current:
            raise Refusal("Confirm first that the revisions of the documents behind the limits are current.")
        _refuse_plates(order, sheets)
        documents = tuple(dict.fromkeys(document_words(sheet) for sheet in sheets.sheets))
        others = [card.task.id for card in order.cards]
        for task in new.cards:
            ids = [*(one for one in others if one != task.id), *(one.id for one in new.cards)]
            readings = data_of(order, sheets, captures_among(task, ids), new.left_out)
            card = NewCard(task, readings, new.mechanic, new.job, pins, documents)
            order = moved(move(order, Move.ISSUE, by, new=card))
        return order

    return change_order(shop, request, Move.ISSUE, number, edit)


def cards_of(job: Job, cards: Sequence[TaskCard]) -> tuple[TaskCard, ...]:
    """Return the cards of a job in the order of the work. Raise Refusal when the shop lacks one."""
    by_id = {card.id: card for card in cards}
    if missing := [name for name in job.cards if name not in by_id]:
        raise Refusal(f"The job asks for cards that are not there: {', '.join(missing)}. Put them into the folder.")
    return tuple(by_id[name] for name in job.cards)


def data_of(order: WorkOrder, sheets: SheetSet, held: frozenset[str], left_out: tuple[Side, ...] = ()) -> TypedCard:
    """Return a card's data as far as the order and the sheets have it: what is measured stays empty.

    ``held`` is what the card captures on this order: the limits of a run-up and the torques stand on the card that
    takes them.
    """
    card = empty_card()
    plates = order.taken_in.intake.plates if order.taken_in else ()
    fitted = {magneto.side for magneto in order.engine.magnetos} | {plate.side for plate in plates}
    for side in Side:
        if side in left_out or (fitted and side not in fitted):
            card = with_magneto(card, side, None)
            continue
        plate = next((one for one in plates if one.side is side), None)
        if plate is not None:
            typed = TypedMagneto(
                rotation=plate.hand.value if plate.hand else None,
                impulse_lag=plate.lag.strip() or None,
                impulse_lag_in="magneto" if plate.lag.strip() else None,
            )
            card = with_magneto(card, side, typed)
    if TORQUE in held and sheets.torques_to_the_engine:
        card = replace(card, torque=tuple(TypedTorque(what=what) for what in sheets.torques_to_the_engine))
    runs_up = bool(held & {RUN_UP, RUN_UP_FOUND})
    return limits_into(card, sheets.engine, sheets.left, sheets.right, with_run_up=runs_up)


def _pin(work: ShopWork, place: str, sheet_id: str) -> SheetPin:
    pins = work.sheet_pins(sheet_id)
    if not pins:
        raise Refusal(f"The limits sheet {sheet_id} was not compared yet, or is not there. Have it compared first.")
    return replace(pins[-1], place=place)


def _refuse_plates(order: WorkOrder, sheets: SheetSet) -> None:
    plates = order.taken_in.intake.plates if order.taken_in else ()
    troubles = [
        f"Data plate of the {plate.side} magneto: {what}."
        for plate in plates
        for _, what in sheets.plate_troubles(plate)
    ]
    if troubles:
        raise NotReady([*troubles, "Check the plate, the sheet and the engine's list before a card is issued."])


def _refuse_mechanic(work: ShopWork, mechanic: str, day: date) -> None:
    if mechanic:
        person = person_in(work, mechanic)
        if not person.is_here(day) or not person.holds_one_of((Right.MECHANIC, Right.HELPER)):
            raise Refusal(f"{person.name} cannot fill a card. Give it to a mechanic who is with the shop.")


def sheets_that_fit(sheets: Sequence[Sheet], order: WorkOrder) -> tuple[tuple[str, str], ...]:
    """Return the sheets whose names are those of the order's engine and data plates, each with what it is for."""
    found: list[tuple[str, str]] = []
    plates = order.taken_in.intake.plates if order.taken_in else ()
    wanted = [("engine", order.engine.type)] + [(plate.side.value, plate.part_number) for plate in plates]
    for place, name in wanted:
        for sheet in sheets:
            names = getattr(sheet, "types" if place == "engine" else "part_numbers", None) or ()
            if name.strip() and name.strip().casefold() in {one.strip().casefold() for one in names}:
                found.append((place, sheet.id))
                break
    return tuple(found)
