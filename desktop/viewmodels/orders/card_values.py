"""What stands at a field of an order's card, and the verb that puts something there."""

from collections.abc import Callable
from dataclasses import dataclass

from desktop.core.shop.orders.order import WorkOrder
from desktop.core.shop.orders.order_card import OrderCard, StepDone
from desktop.core.shop.orders.safe_state import STATE_WORDS, SafeItem
from desktop.core.timing.typed_paths import Value, value_at
from desktop.usecases.shop.cards.confirm_step import confirm_step, take_back_step
from desktop.usecases.shop.cards.take_reading import take_reading
from desktop.usecases.shop.cards.write_remark import write_remark
from desktop.usecases.shop.orders.set_safe_state import set_safe_state
from desktop.usecases.shop.ports import Answer
from desktop.viewmodels.card.order_places import REASON, SAFE
from desktop.viewmodels.card.same_way import SAME, SameWay
from desktop.viewmodels.card.step_fields import LEFT_OUT, STEP, TOOL, shown_of, tools_in
from desktop.viewmodels.pieces.fields import Field


@dataclass(frozen=True, slots=True)
class Call:
    """A verb of the shop with what it takes besides shop and request."""

    verb: Callable[..., Answer]
    words: tuple[object, ...]
    named: tuple[tuple[str, object], ...] = ()


def step_of(field: Field) -> str:
    """Return the id of the step that a field confirms or leaves out; empty for another field."""
    is_of_step = field.path.startswith((STEP, LEFT_OUT))
    return field.path.removeprefix(STEP).removeprefix(LEFT_OUT) if is_of_step else ""


def done_at(card: OrderCard, field: Field) -> StepDone | None:
    """Return the confirmation that a field shows."""
    return card.done(step_of(field)) if step_of(field) else None


def stored_at(order: WorkOrder, card: OrderCard, field: Field, same: SameWay | None) -> Value:
    """Return what the shop file has at a field."""
    path = field.path
    if step_of(field):
        return shown_of(done_at(card, field), field)
    if path.startswith(SAFE):
        item = SafeItem[path.removeprefix(SAFE)]
        return next(standing.word for standing in order.board if standing.item is item)
    if path.startswith(REASON):
        key = path.removeprefix(REASON)
        return next((remark.text for remark in reversed(card.remarks) if remark.about == key), None)
    if path.startswith(SAME):
        return same is not None and same.stands_on(card.readings.measure)
    return value_at(card.readings, path)


def call_for(
    order: WorkOrder,
    card: OrderCard,
    field: Field,
    value: Value,
    says: tuple[tuple[str, Value], ...],
    same: SameWay | None,
) -> Call:
    """Return the verb that puts a value at a field; ``says`` is what a new entry is by its place."""
    path, text = field.path, value if isinstance(value, str) else ""
    place = (order.number, card.number)
    if step_of(field):
        return _call_for_step(card, field, text, place, is_done=bool(value))
    if path.startswith(SAFE):
        item = SafeItem[path.removeprefix(SAFE)]
        return Call(set_safe_state, (order.number, item), (("is_normal", value == STATE_WORDS[item][0]),))
    if path.startswith(REASON):
        return Call(write_remark, (*place, text), (("about", path.removeprefix(REASON)),))
    if path.startswith(SAME) and same is not None:
        return Call(take_reading, (*place, *same.values(taken=bool(value))))
    return Call(take_reading, (*place, (path, value), *says))


def _call_for_step(card: OrderCard, field: Field, text: str, place: tuple[int, int], *, is_done: bool) -> Call:
    """Return the verb that confirms a step, leaves it out with the reason, or takes that back."""
    name, skipped = step_of(field), field.path.startswith(LEFT_OUT)
    if not is_done:
        return Call(take_back_step, (*place, name))
    step = card.step(name)
    tools = tools_in(text) if step is not None and step.capture == TOOL and not skipped else ()
    said = (("text", "" if tools else text), ("tools", tools), ("skipped", skipped))
    return Call(confirm_step, (*place, name), said)
