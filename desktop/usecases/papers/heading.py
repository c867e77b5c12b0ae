"""What stands at the head of a card: whose aircraft, which engine, which data. Unknown things are left for the pen."""

from dataclasses import dataclass

from desktop.core.timing.readings import Decision
from desktop.core.timing.results import Worked
from desktop.core.typed_text import degrees
from desktop.core.words import magneto_words, measure_words
from reports.document import Block, Fact, Facts

GOVERNING = (
    "The data approved for the engine and the aircraft, the law of the place and the judgement of the licensed person "
    "govern; this sheet does not replace them."
)
INVENTED = "INVENTED DATA: DEMONSTRATION ONLY"


@dataclass(frozen=True, slots=True)
class CardHeading:
    """Identities that a readings file does not hold; each None leaves a line for the pen."""

    shop: str | None = None
    order: str | None = None
    aircraft: str | None = None
    engine: str | None = None
    left_magneto: str | None = None
    right_magneto: str | None = None
    document: str | None = None
    revision_current: str | None = None
    invented: bool = False


def identity_facts(worked: Worked, heading: CardHeading) -> Facts:
    """Return who and what the card is about."""
    magnetos = [
        Fact(f"{side} magneto: part and serial number", text, span=2)
        for side, text, result in (
            ("left", heading.left_magneto, worked.left),
            ("right", heading.right_magneto, worked.right),
        )
        if result
    ]
    return Facts(
        (
            Fact("aircraft: registration, type, serial number", heading.aircraft, span=2),
            Fact("engine: type, serial number, position", heading.engine, span=2),
            *magnetos,
            Fact("limits taken from: document, number, revision, date", heading.document, span=2),
            Fact("revision current on, confirmed by", heading.revision_current, span=2),
        )
    )


def data_facts(worked: Worked) -> tuple[Block, ...]:
    """Return the data that the readings are judged by."""
    card = worked.card
    engine, limits = card.engine, card.limits
    nominal = ", ".join(f"{magneto.side} {degrees(magneto.nominal)} BTDC" for magneto in card.magnetos)
    apart = "no limit given" if limits.apart_most is None else degrees(limits.apart_most)
    rule = "as read" if limits.decision is Decision.SIMPLE else "guarded: inside by the uncertainty"
    facts = [
        Fact("firing position", nominal),
        Fact("limits", f"{degrees(limits.advanced_most)} advanced, {degrees(limits.retarded_most)} retarded"),
        Fact("magnetos apart at most", apart),
        Fact("near a limit", rule),
        Fact("engine", f"{engine.cylinders} cylinders, turns {engine.rotation} seen from the rear"),
        Fact("firing order", "-".join(str(cylinder) for cylinder in engine.firing_order)),
        Fact("reference cylinder", f"No. {engine.reference}"),
        Fact("propeller", _propeller(worked)),
        Fact("with rotation", _with_rotation(worked), span=4),
        Fact("measured by", measure_words(card), span=4),
    ]
    facts += [Fact(f"{result.magneto.side} magneto", magneto_words(result), span=4) for result in worked.magnetos]
    return (Facts(tuple(facts)),)


def _propeller(worked: Worked) -> str:
    ratio = worked.card.engine.propeller_ratio
    return "direct drive" if ratio == 1 else f"geared, {_ratio(ratio.numerator, ratio.denominator)} turns a crank turn"


def _with_rotation(worked: Worked) -> str:
    """Say which way the propeller goes with rotation, for whoever stands at it."""
    rear = worked.card.engine.propeller_rotation
    return f"the propeller turns {rear.reversed()} as you face it, {rear} seen from the rear"


def _ratio(above: int, below: int) -> str:
    return f"{above}/{below}" if below != 1 else str(above)
