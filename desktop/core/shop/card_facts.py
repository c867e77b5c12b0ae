"""Which facts of a job decide what steps and cautions its task card carries."""

from desktop.core.timing.measuring import is_measured_with_stop
from desktop.core.timing.readings import Card, Marking


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
