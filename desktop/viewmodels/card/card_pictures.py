"""Which drawings stand beside the present place."""

from dataclasses import dataclass

from desktop.core.timing.readings import Side
from desktop.usecases.dial import View, dial
from desktop.usecases.fill_card import CardState
from desktop.usecases.magneto_drawing import magneto_drawing
from desktop.usecases.magnified import magnified
from desktop.viewmodels.pieces.fields import Place
from reports.drawing import Drawing

__all__ = ["Pictures", "View", "pictures_of", "turns_housing"]


@dataclass(frozen=True, slots=True)
class Pictures:
    """The drawings of one magneto; each None where there is nothing to draw."""

    side: Side | None
    dial: Drawing | None
    magnified: Drawing | None
    magneto: Drawing | None


def turns_housing(place: Place) -> bool:
    """Tell whether a housing is turned in a place: there its own drawing counts most."""
    return place.id.startswith("step-turn")


def pictures_of(state: CardState, side: Side | None, view: View) -> Pictures:
    """Return the drawings of a magneto, or of the first one on the card."""
    if state.checked is None or not state.checked.worked.magnetos:
        return Pictures(None, None, None, None)
    worked = state.checked.worked
    result = (worked.of(side) if side else None) or worked.magnetos[0]
    return Pictures(
        result.magneto.side, dial(worked, result, view), magnified(worked, result, view), magneto_drawing(result)
    )
