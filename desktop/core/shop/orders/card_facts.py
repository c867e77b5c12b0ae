"""Which facts of a job decide what steps and cautions its task card carries."""

from collections.abc import Iterator, Sequence

from desktop.core.shop.aircraft.aircraft import EnginePosition
from desktop.core.shop.cards.jobs import ON_THE_AIRCRAFT, facts_among
from desktop.core.shop.cards.task_card import ELSEWHERE, TaskCard, fact_of, holds
from desktop.core.shop.orders.order import WorkOrder
from desktop.core.shop.orders.order_card import OrderCard
from desktop.core.shop.sheets.sheet_set import SheetSet
from desktop.core.timing.measuring import is_measured_with_stop
from desktop.core.timing.readings import Card, Marking
from desktop.core.timing.typed_card import TypedCard

_BACK = {"allowed": "back allowed", "limited": "back limited", "no": "back forbidden"}
_BUILDS = ("radial", "opposed")


def facts_of(card: Card) -> frozenset[str]:
    """Return the facts of a card of readings, in the words that the task cards use for their conditions."""
    stop = is_measured_with_stop(card)
    held = {
        card.measure.by.value: True,
        "split": stop and card.measure.marking is Marking.SPLIT,
        "zeroed": stop and card.measure.zeroed,
        "geared": stop and card.carrier_ratio != 1,
        "left": card.left is not None,
        "right": card.right is not None,
        "both": len(card.magnetos) > 1,
        "one housing": card.one_housing,
        "impulse": any(magneto.impulse_lag is not None for magneto in card.magnetos),
        "torque": bool(card.torque),
        "run-up": card.run_up is not None,
    }
    for magneto in card.magnetos:
        held[f"{magneto.side} impulse"] = magneto.impulse_lag is not None
    return frozenset(fact for fact, holds in held.items() if holds)


def facts_of_typed(typed: TypedCard) -> frozenset[str]:
    """Return the facts of a card that takes no readings: which magnetos it is about, and their couplings."""
    sides = {"left": typed.left, "right": typed.right}
    here = {side: magneto for side, magneto in sides.items() if magneto is not None}
    facts = set(here)
    facts |= {f"{side} impulse" for side, magneto in here.items() if (magneto.impulse_lag or "").strip()}
    if len(here) == len(sides):
        facts.add("both")
    if any(fact.endswith(" impulse") for fact in facts):
        facts.add("impulse")
    if typed.magnetos and typed.magnetos.one_housing:
        facts.add("one housing")
    if typed.torque:
        facts.add("torque")
    if typed.run_up is not None:
        facts.add("run-up")
    return frozenset(facts)


def facts_around(order: WorkOrder, card: OrderCard, sheets: SheetSet, where: str = ON_THE_AIRCRAFT) -> frozenset[str]:
    """Return the facts that the order and its limits sheets give a card: what its other cards cover, and the engine.

    ``where`` is where the job is done, as ``jobs`` says it. A second card of one kind covers nothing for the first.
    """
    return frozenset((*facts_among(card.task.id, _ids_around(order, card), where), *_of_the_engine(order, sheets)))


def captures_on(order: WorkOrder, card: OrderCard) -> frozenset[str]:
    """Return what a card captures on its order: what another card of the order captures for it is left out."""
    return captures_among(card.task, _ids_around(order, card))


def captures_among(task: TaskCard, ids: Sequence[str]) -> frozenset[str]:
    """Return what a card captures beside other cards; `ids` are those of all of them in the order of the work."""
    around = facts_among(task.id, ids)
    steps = (step for step in task.steps if holds(_about_others(step.only), around))
    return frozenset(step.capture for step in steps)


def _about_others(only: tuple[str, ...]) -> tuple[str, ...]:
    return tuple(one for one in only if fact_of(one) in ELSEWHERE)


def _ids_around(order: WorkOrder, card: OrderCard) -> list[str]:
    return [one.task.id for one in order.cards if one.number == card.number or one.task.id != card.task.id]


def _of_the_engine(order: WorkOrder, sheets: SheetSet) -> Iterator[str]:
    if order.position is not EnginePosition.SINGLE:
        yield "twin"
    engine = sheets.engine
    if engine is not None:
        if engine.configuration in _BUILDS:
            yield engine.configuration
        if engine.turning is not None and engine.turning.against in _BACK:
            yield _BACK[engine.turning.against]
    if any(magneto is not None and magneto.retard is not None for magneto in (sheets.left, sheets.right)):
        yield "retard breaker"
