"""Every kind of job that the card for timing magnetos can meet, and the card itself."""

from itertools import chain, combinations, product

from desktop.core.shop.task_card import Step, TaskCard, steps_for
from desktop.files.cards import builtin_cards

CARD: TaskCard = next(card for card in builtin_cards() if card.id == "T4")
FULL = frozenset(
    {"disc", "zeroed", "left", "right", "both", "left impulse", "right impulse", "impulse", "torque", "run-up"}
)


def _some_of(*facts: str) -> list[frozenset[str]]:
    sizes = (combinations(facts, size) for size in range(len(facts) + 1))
    return [frozenset(chosen) for chosen in chain.from_iterable(sizes)]


def _magnetos() -> list[frozenset[str]]:
    found = []
    for fitted in (("left",), ("right",), ("left", "right"), ("left", "right", "one housing")):
        sides = [side for side in fitted if side != "one housing"]
        for impulse in _some_of(*(f"{side} impulse" for side in sides)):
            facts = {*fitted, *impulse}
            facts |= {"both"} if len(sides) > 1 else set()
            facts |= {"impulse"} if impulse else set()
            found.append(frozenset(facts))
    return found


def _measures() -> list[frozenset[str]]:
    with_stop = [{way} | scale for way, scale in product(("disc", "gauge"), _some_of("split", "zeroed", "geared"))]
    return [frozenset({"marks"}), *map(frozenset, with_stop)]


VARIANTS: tuple[frozenset[str], ...] = tuple(
    measure | magnetos | rest
    for measure, magnetos, rest in product(_measures(), _magnetos(), _some_of("torque", "run-up"))
)


def ids_of(steps: tuple[Step, ...]) -> list[str]:
    """Return the ids of steps in order."""
    return [step.id for step in steps]


def job_steps(facts: frozenset[str], card: TaskCard = CARD) -> tuple[Step, ...]:
    """Return the steps of one kind of job."""
    return steps_for(card, facts)
