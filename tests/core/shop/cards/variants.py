"""Every kind of job that the card for timing magnetos can meet, every card, and the jobs that they stand in."""

from collections.abc import Iterator
from functools import cache
from itertools import chain, combinations, product

from desktop.core.shop.cards.jobs import Job, facts_among
from desktop.core.shop.cards.task_card import ELSEWHERE, Step, TaskCard, steps_for
from desktop.files.cards import builtin_cards
from desktop.files.jobs import builtin_jobs

CARDS: dict[str, TaskCard] = {card.id: card for card in builtin_cards()}
CARD: TaskCard = CARDS["T4"]
JOBS: tuple[Job, ...] = builtin_jobs()
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


def _sets(*kinds: str) -> list[frozenset[str]]:
    return [frozenset(kind.split(",")) if kind else frozenset() for kind in kinds]


READINGS: tuple[frozenset[str], ...] = tuple(
    measure | magnetos | rest
    for measure, magnetos, rest in product(_measures(), _magnetos(), _some_of("torque", "run-up"))
)
"""What a readings file alone says: nothing of the engine's build, of turning back, or of other cards."""

ENGINES = _sets("", "opposed", "radial,twin,retard breaker")
BACKS = _sets("", "back allowed", "back limited", "back forbidden")
ORDERS = [frozenset(), frozenset(ELSEWHERE), frozenset({*ELSEWHERE, "removed"}), frozenset({"removed"})]
ORDERS += [frozenset({one}) for one in ELSEWHERE]
SOME_MEASURES = _sets("marks", "disc,zeroed", "gauge,split,geared")
SOME_MAGNETOS = _sets(
    "left",
    "right,impulse,right impulse",
    "left,right,both",
    "left,right,both,impulse,left impulse",
    "left,right,both,one housing,impulse,left impulse,right impulse",
)
AROUND: tuple[frozenset[str], ...] = tuple(
    frozenset().union(*sets) for sets in product(SOME_MEASURES, SOME_MAGNETOS, ENGINES, BACKS, ORDERS)
)
"""Jobs inside orders: the engine's build, turning back, and what other cards do."""
VARIANTS: tuple[frozenset[str], ...] = (*READINGS, *AROUND)
ENGINE_JOBS: tuple[frozenset[str], ...] = tuple(
    frozenset().union(*sets, {"torque", "run-up"}) for sets in product(SOME_MEASURES, SOME_MAGNETOS, ENGINES, BACKS)
)
"""What an engine and its magnetos say to every card of a job."""


def ids_of(steps: tuple[Step, ...]) -> list[str]:
    """Return the ids of steps in order."""
    return [step.id for step in steps]


@cache
def _steps(facts: frozenset[str], card_id: str) -> tuple[Step, ...]:
    return steps_for(CARDS[card_id], facts)


def job_steps(facts: frozenset[str], card_id: str = "T4") -> tuple[Step, ...]:
    """Return the steps of one shipped card in one kind of job."""
    return _steps(facts, card_id)


def cards_of(job: Job, facts: frozenset[str]) -> Iterator[tuple[str, tuple[Step, ...]]]:
    """Yield each card of a job with its steps, as the other cards leave them."""
    for card_id in job.cards:
        yield card_id, job_steps(facts | facts_among(card_id, job.cards, job.where), card_id)


def said(step: Step) -> str:
    """Return everything that a step may say in its description, whatever the job."""
    return " ".join(text for text in (step.description, *(say.text for say in step.says)) if text)
