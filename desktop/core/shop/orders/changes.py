"""What is different between two versions of an order, in plain words."""

from collections.abc import Iterator, Sequence
from dataclasses import fields, is_dataclass
from datetime import date, datetime
from itertools import zip_longest

from desktop.core.shop.aircraft.intake import Intake
from desktop.core.shop.cards.task_card import TaskCard
from desktop.core.shop.orders.order import WorkOrder
from desktop.core.shop.orders.order_card import OrderCard, StepDone
from desktop.core.shop.orders.path_words import path_words
from desktop.core.shop.stamp import Stamp
from desktop.core.timing.typed_card import TypedCard

_NAMES = {
    "at": "time",
    "asked": "what is asked",
    "promised": "promised day",
    "position": "engine position",
    "logs_seen": "logs seen",
    "since_overhaul": "time since overhaul",
    "serial": "serial number",
}
_LISTS = (
    ("discrepancies", "discrepancy"),
    ("parts", "part"),
    ("time", "entry of time"),
    ("searches", "directive search"),
    ("directives", "directive"),
    ("left_out", "magneto left out"),
    ("inks", "paper signed with ink"),
)
MOST_SHOWN = 60
"""Most signs of a value in such a sentence."""


def what_changed(old: WorkOrder, new: WorkOrder) -> tuple[str, ...]:
    """Name each field that is different, with what stood there and what stands there now; nothing for equal orders.

    The version is no field of its own: it says that something changed, not what.
    """
    return tuple(_changes(old, new))


def _changes(old: WorkOrder, new: WorkOrder) -> Iterator[str]:
    for name in ("customer", "aircraft", "position", "asked", "promised", "authorised"):
        yield from _differences(getattr(old, name), getattr(new, name), _name(name))
    yield from _differences(_intake(old), _intake(new), "intake")
    for before, after in zip(old.board, new.board, strict=True):
        if before != after:
            yield f"safe-state board: {after.item} is {after.word}"
    for name, word in _LISTS:
        yield from _entries(getattr(old, name), getattr(new, name), word)
    for number, card in enumerate(new.cards, 1):
        before_card = old.card(number)
        if before_card is None:
            yield f"card {number} ({card.task.id}) issued"
        else:
            yield from (f"card {number}: {words}" for words in _card_changes(before_card, card))
    for passage in new.passages[len(old.passages) :]:
        if passage.reason:
            yield f"{passage.move}: {_shown(passage.reason)}"
    if old.ending is not new.ending:
        yield f"the order is {new.state}"


def _intake(order: WorkOrder) -> Intake | None:
    return order.taken_in.intake if order.taken_in else None


def _card_changes(old: OrderCard, new: OrderCard) -> Iterator[str]:
    if old.state is not new.state:
        yield str(new.state)
    yield from _differences(old.mechanic, new.mechanic, "mechanic")
    for path, words in _reading_changes(old.readings, new.readings, ""):
        yield f"{path_words(path)}{words}"
    before, after = {done.step: done for done in old.steps}, {done.step: done for done in new.steps}
    for step_id in dict.fromkeys((*before, *after)):
        if before.get(step_id) != after.get(step_id):
            yield f"{step_words(new, step_id)} {_step_change(before.get(step_id), after.get(step_id))}"
    yield from _entries(old.remarks, new.remarks, "remark")
    if new.taken != old.taken and new.readings == old.readings:
        yield "who took a reading, or with which tool"


def changed_paths(old: TypedCard, new: TypedCard) -> tuple[str, ...]:
    """Return the path of each typed value that is different on two cards of readings, as the readings file has it."""
    return tuple(path for path, _ in _reading_changes(old, new, ""))


def _step_change(before: StepDone | None, after: StepDone | None) -> str:
    if after is None:
        return "is not confirmed any more"
    return "is confirmed" if before is None else "is confirmed anew"


def step_words(card: OrderCard, step_id: str) -> str:
    """Name a step by its number on the card; one that the card does not have by its id."""
    ids = [step.id for step in card.task.steps]
    return f"step {ids.index(step_id) + 1}" if step_id in ids else f"step {step_id}"


def _reading_changes(old: object, new: object, path: str) -> Iterator[tuple[str, str]]:
    """Yield the path of each typed value that is different, and how."""
    if old == new:
        return
    table = new if is_dataclass(new) else old
    if is_dataclass(table):
        begin = f"{path}." if path else ""
        for one in fields(table):
            key = one.metadata.get("key", one.name)
            yield from _reading_changes(_part(old, one.name), _part(new, one.name), f"{begin}{key}")
        if not any((_part(old, one.name), _part(new, one.name)) != (None, None) for one in fields(table)):
            yield path, " taken off" if new is None else " added"
    elif _is_list_of_tables(old) or _is_list_of_tables(new):
        pairs = zip_longest(*(entries if isinstance(entries, tuple) else () for entries in (old, new)))
        for place, (before, after) in enumerate(pairs, 1):
            yield from _reading_changes(before, after, f"{path}[{place}]")
    else:
        yield path, f": {_became(old, new)}"


def _is_list_of_tables(value: object) -> bool:
    return isinstance(value, tuple) and any(is_dataclass(entry) for entry in value)


def _part(table: object, name: str) -> object:
    return getattr(table, name) if is_dataclass(table) else None


def _differences(old: object, new: object, name: str) -> Iterator[str]:
    """Yield each field inside two values that is different; stamps say who, and are no fields of their own."""
    if old == new or isinstance(new, Stamp):
        return
    if is_dataclass(old) and is_dataclass(new) and not isinstance(new, TaskCard):
        for one in fields(new):
            yield from _differences(getattr(old, one.name), getattr(new, one.name), f"{name}, {_name(one.name)}")
    elif isinstance(old, tuple) and isinstance(new, tuple) and len(old) == len(new):
        for place, (before, after) in enumerate(zip(old, new, strict=True), 1):
            yield from _differences(before, after, f"{name} {place}")
    elif _is_short(old) and _is_short(new):
        yield f"{name}: {_became(old, new)}"
    else:
        yield f"{name} written" if old is None else f"{name} changed"


def _entries(old: Sequence[object], new: Sequence[object], word: str) -> Iterator[str]:
    for number, entry in enumerate(new, 1):
        if number > len(old):
            yield f"{word} {number} added"
        elif old[number - 1] != entry:
            yield f"{word} {number} changed"
    if len(new) < len(old):
        yield f"{word}: {len(old) - len(new)} taken off"


def _is_short(value: object) -> bool:
    return value is None or isinstance(value, (str, bool, int, date, datetime))


def _became(old: object, new: object) -> str:
    if _is_nothing(old):
        return f"new: {_shown(new)}"
    return f"{_shown(old)} taken away" if _is_nothing(new) else f"{_shown(old)} became {_shown(new)}"


def _is_nothing(value: object) -> bool:
    return value is None or value == ""


def _shown(value: object) -> str:
    """Write a value in one short line."""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, tuple):
        return "-".join(str(entry) for entry in value)
    text = " ".join(str(value).split())
    return f'"{text}"' if len(text) <= MOST_SHOWN else f'"{text[:MOST_SHOWN]} ..."'


def _name(name: str) -> str:
    return _NAMES.get(name, name.replace("_", " "))
