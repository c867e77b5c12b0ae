"""Who did the work on a card, so that somebody else inspects it, and nobody else says that they did it."""

from collections.abc import Callable

from desktop.core.shop.orders.order_card import OrderCard


def doers(card: OrderCard) -> frozenset[str]:
    """Return the ids of everybody who confirmed a step or took a reading.

    A step that asks for a second person is a check of the one before it, and no work.
    """
    checks = {step.id for step in card.task.steps if step.second}
    stamps = [done.by for done in (*card.steps, *card.earlier) if done.step not in checks]
    stamps += [taken.by for taken in card.taken]
    return frozenset(stamp.person for stamp in stamps)


def whose_instead(card: OrderCard, person: str, name_of: Callable[[str], str]) -> str:
    """Say whose card it is when somebody may not say that they did its work; empty when they may.

    Whoever was given the card may, and whoever did work on it.
    """
    done_by = doers(card)
    if person == card.mechanic or person in done_by:
        return ""
    others = [name_of(one) for one in ((card.mechanic,) if card.mechanic else sorted(done_by))]
    if not others:
        return "No step of this card carries your initials. Do its steps and initial them, then submit it."
    whose = f"This card was given to {others[0]}" if card.mechanic else f"This card was filled by {', '.join(others)}"
    return (
        f"{whose}, and none of its work is yours. Leave it to {' or '.join(others)} to submit; "
        "where you took the work over, initial the steps that you did."
    )
