"""Who did the work on a card, so that somebody else inspects it."""

from desktop.core.shop.orders.order_card import OrderCard


def doers(card: OrderCard) -> frozenset[str]:
    """Return the ids of everybody who confirmed a step or took a reading.

    A step that asks for a second person is a check of the one before it, and no work.
    """
    checks = {step.id for step in card.task.steps if step.second}
    stamps = [done.by for done in (*card.steps, *card.earlier) if done.step not in checks]
    stamps += [taken.by for taken in card.taken]
    return frozenset(stamp.person for stamp in stamps)
