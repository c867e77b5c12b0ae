"""What an entry says of the timing: each magneto as found and as left, over all cards of an order."""

from collections.abc import Sequence

from desktop.core.records.entry.entry_parts import TimingFact
from desktop.core.records.entry.entry_wordings import limits_words, run_up_words, timing_fact_words
from desktop.core.shop.aircraft.parts import Way
from desktop.core.shop.cards.card_scope import RUN_UP, TIMED, captures_of
from desktop.core.shop.orders.card_facts import captures_on
from desktop.core.shop.orders.order import WorkOrder
from desktop.core.shop.orders.order_card import OrderCard
from desktop.core.shop.orders.visits import serial_key, serials_at_intake
from desktop.core.timing.partial_card import read_beside_timing, tidied_card
from desktop.core.timing.read_card import read_card
from desktop.core.timing.readings import Card, Side, When
from desktop.core.timing.results import MagnetoResult, Worked
from desktop.core.timing.work_out import work_out
from desktop.core.words import sync_words

NOT_TAKEN, NOT_ESTABLISHED = "not taken", "not established"
SEE_PARTS = "the one that went on: see the parts"
Cards = Sequence[tuple[OrderCard, Worked]]


def worked_cards(order: WorkOrder) -> Cards:
    """Return the cards whose readings can all be read, worked out, in their order; of one without timing its run-up."""
    read = [(card, _read(order, card)) for card in order.cards]
    return [(card, work_out(readings)) for card, readings in read if readings is not None]


def _read(order: WorkOrder, card: OrderCard) -> Card | None:
    held = captures_on(order, card)
    if held & TIMED:
        return read_card(tidied_card(card.readings)).card
    return read_beside_timing(card.readings, run_up=True, torque=False).card if RUN_UP in held else None


def timing_facts(order: WorkOrder, cards: Cards) -> tuple[TimingFact, ...]:
    """Return what was found and what was left on each side where the light was used.

    As found is what the first card read that took one. As left is what the last card read that set the magneto or read
    it as left: one that established nothing is not replaced by an earlier good one. The limits are of that card.
    """
    return tuple(fact for fact in (_fact(order, cards, side) for side in Side) if fact is not None)


def synchronisation_words(cards: Cards) -> str:
    """Say how the magnetos stand to each other, by the last card that set or read one as left; empty when none did."""
    left = [worked for _, worked in cards if worked.sync and any(_decides(result) for result in worked.magnetos)]
    return sync_words(left[-1]) if left else ""


def run_up_said(cards: Cards) -> str:
    """Say the run-up as left, of the newest card that takes one; empty when none does."""
    taken = [
        run_up_words(worked.card.run_up, worked.run_up)
        for card, worked in cards
        if RUN_UP in captures_of(card.task) and worked.card.run_up and worked.run_up
    ]
    return taken[-1] if taken else ""


def magneto_name(order: WorkOrder, side: Side) -> str:
    """Name the magneto that came in on a side and, when it was changed, the one that was left there."""
    plate = order.taken_in.intake.plate(side) if order.taken_in else None
    known = next((one for one in order.engine.magnetos if one.side is side), None)
    number = (plate.part_number if plate else "") or (known.part_number if known else "")
    serial = serials_at_intake(order).get(side, "")
    said = [f"{side} magneto", f"part no. {number}" if number else "", f"serial {serial}" if serial else ""]
    name = ", ".join(part for part in said if part)
    changed = _changed_for(order, serial)
    return f"{name}; as left {changed}" if changed else name


def _changed_for(order: WorkOrder, serial: str) -> str:
    """Name what went on for a magneto that came off for good; empty when it stayed."""
    moved = [one.part for one in order.parts if one.part.serial.strip()]
    off = {serial_key(part.serial) for part in moved if part.way is Way.OFF}
    on = [part for part in moved if part.way is Way.ON]
    if not serial or serial_key(serial) not in off - {serial_key(part.serial) for part in on}:
        return ""
    return f"part no. {on[0].number}, serial {on[0].serial}" if len(on) == 1 else SEE_PARTS


def _fact(order: WorkOrder, cards: Cards, side: Side) -> TimingFact | None:
    here = [(worked, result) for _, worked in cards if (result := worked.of(side)) is not None and result.judged]
    if not here:
        return None
    found = [(worked, result) for worked, result in here if result.found is not None]
    left = [(worked, result) for worked, result in here if _decides(result)]
    worked, result = (left or found)[-1]
    return TimingFact(
        magneto=magneto_name(order, side),
        found=timing_fact_words(found[0][1].found_timing, NOT_ESTABLISHED) if found else NOT_TAKEN,
        left=timing_fact_words(left[-1][1].timing, NOT_ESTABLISHED) if left else NOT_TAKEN,
        limits=limits_words(worked, result),
    )


def _decides(result: MagnetoResult) -> bool:
    """Tell whether a card set a magneto or read it as left: what an earlier card read does not stand any more."""
    return any(judged.approach.when is not When.AS_FOUND for judged in result.judged)
