"""The steps that a card shows while it is being filled: a reading that is still open takes none of them away."""

from desktop.core.shop.cards.card_scope import TIMED
from desktop.core.shop.cards.jobs import ON_THE_AIRCRAFT, Job
from desktop.core.shop.cards.task_card import Step, steps_for
from desktop.core.shop.orders.card_facts import captures_on, facts_around, facts_of, facts_of_typed
from desktop.usecases.shop.cards.card_look import CardLook


def steps_shown(look: CardLook, jobs: tuple[Job, ...], before: tuple[Step, ...]) -> tuple[Step, ...]:
    """Return the steps of a card as it stands.

    What is on the card counts from the moment it stands there, whether all of it can be read or not: a magneto whose
    plate or last reading is open, a run-up that waits for its readings. While the way of measuring cannot be read, the
    steps stay as they were before.
    """
    order, card = look.seen.order, look.card
    if not captures_on(order, card) & TIMED:
        return look.steps
    if look.state.checked is None:
        return before
    where = next((job.where for job in jobs if job.id == card.job), ON_THE_AIRCRAFT)
    read = facts_of(look.state.checked.worked.card) | facts_of_typed(card.readings)
    return steps_for(card.task, read | facts_around(order, card, look.seen.sheets, where))
