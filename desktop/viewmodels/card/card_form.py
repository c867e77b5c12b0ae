"""The form of a card: its places in the order of the work."""

from desktop.core.timing.readings import By
from desktop.core.timing.typed_card import TypedCard
from desktop.viewmodels.card.data_places import engine_place, limits_place, magneto_places, measure_place
from desktop.viewmodels.card.reading_places import approaches_place, run_up_place, stops_place, torque_place
from desktop.viewmodels.pieces.fields import Place, Shows, is_measured_by, named, sides_of


def places_of(card: TypedCard) -> tuple[Place, ...]:
    """Return the places of a card as it stands: what its way of measuring and its magnetos do not need is not there."""
    marks = is_measured_by(card, By.MARKS)
    places = [engine_place(), limits_place(card), measure_place(card), *magneto_places(card)]
    if not marks or card.stop:
        places.append(stops_place(card, closing=False))
    places += [approaches_place(card, side, found=True) for side in sides_of(card)]
    places.append(torque_place(card))
    places += [approaches_place(card, side, found=False) for side in sides_of(card)]
    if not marks:
        places.append(stops_place(card, closing=True))
    check = Place("check", "Check and print", "Read every finding, then print.", (), shows=Shows.ALL)
    places += [run_up_place(is_needed=card.run_up is not None), check]
    return tuple(named(place) for place in places)
