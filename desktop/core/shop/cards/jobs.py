"""Jobs as values: which cards a job takes, in the order of the work, and what that says to each of them."""

from collections.abc import Sequence
from dataclasses import dataclass

ON_THE_AIRCRAFT = "on the aircraft"
OFF_THE_ENGINE = "off the engine"
WHERE: tuple[str, ...] = (ON_THE_AIRCRAFT, OFF_THE_ENGINE)
"""Where a job may be done."""

SAFE_CARD, FOUND_CARD, REMOVAL_CARD = "S1", "T3", "B1"
PLUG_CARD, LEAD_CARD, CLOSING_CARD, RUN_UP_CARD = "P1", "H1", "C1", "R2"


@dataclass(frozen=True, slots=True)
class Job:
    """A kind of job. `cards` are the ids of its task cards in the order of the work, each once.

    `run_up_due`: a run-up as left belongs to it. `tag`: the magneto leaves with a release tag of its own.
    """

    id: str
    title: str
    applies: str
    where: str
    cards: tuple[str, ...]
    run_up_due: bool
    tag: bool


def facts_among(card: str, cards: Sequence[str], where: str = ON_THE_AIRCRAFT) -> frozenset[str]:
    """Return what the other cards of an order say to one of them, in the words of the conditions of its steps.

    `cards` are the ids of the order's cards in the order of the work; ValueError when `card` is not among them.
    The facts are those of ELSEWHERE, and "removed".
    """
    place = list(cards).index(card)
    earlier, others = cards[:place], {*cards[:place], *cards[place + 1 :]} - {card}
    held = {
        "safe elsewhere": SAFE_CARD in earlier,
        "found elsewhere": FOUND_CARD in earlier,
        "plugs elsewhere": PLUG_CARD in others,
        "leads elsewhere": LEAD_CARD in others,
        "closed elsewhere": CLOSING_CARD in others,
        "run-up elsewhere": RUN_UP_CARD in others,
        "removed": where == OFF_THE_ENGINE or REMOVAL_CARD in earlier,
    }
    return frozenset(fact for fact, holds in held.items() if holds)
