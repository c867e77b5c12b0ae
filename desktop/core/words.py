"""Results said in the trade's words, the same on screen, on paper and at the terminal."""

import math
import re
from collections.abc import Iterator
from datetime import date
from fractions import Fraction

from desktop.core.timing.approach import Judged, Void
from desktop.core.timing.drive import Housing
from desktop.core.timing.readings import By, Card, Counts, Hand, Marking, On, SeenFrom
from desktop.core.timing.results import MagnetoResult, Timing, Verdict, Worked
from desktop.core.timing.surety import COVERAGE
from desktop.core.typed_text import degrees, deviation_words, plain

SURE = 0.999

_MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")

VOID_WORDS = {
    Void.AGAINST_ROTATION: "it did not come with rotation",
    Void.BACK_OFF_LEAST: "it was not backed off far enough",
    Void.BACK_OFF_MOST: "it was backed off too far",
    Void.WITHIN_BACKLASH: "the play was not taken out",
    Void.CLICK_NOT_PASSED: "the snap was not passed first",
    Void.SNAPPED: "a snap came with the light",
    Void.WITHOUT_TDC: "TDC is not known",
    Void.DISC_MOVED: "the disc moved",
}


def day_words(day: date) -> str:
    """Write a day with its month as a word, so that it is read in one way only."""
    return f"{day.day} {_MONTHS[day.month - 1]} {day.year}"


def movement_words(judged: Judged) -> str:
    """Say how an approach came up."""
    if judged.movement is None:
        return "straight up from compression, as declared"
    if judged.movement == 0:
        return "no movement at all"
    way = "with" if judged.movement > 0 else "against"
    return f"{degrees(abs(judged.movement))}, {way} rotation"


def void_words(judged: Judged) -> str:
    """Say why an approach does not count; empty when it does."""
    return "; ".join(VOID_WORDS[void] for void in judged.voids)


def backlash_words(judged: Judged) -> str:
    """Say an approach's own backlash; a negative one is said as what it is."""
    if judged.backlash is None:
        return ""
    return f"backlash {degrees(judged.backlash)}"


def expanded_words(variance: Fraction) -> str:
    """Say the expanded uncertainty, k = 2, as it stands behind a value."""
    return f"± {degrees(COVERAGE * math.sqrt(variance))}"


def verdict_words(result: MagnetoResult) -> str:
    """Say a verdict with its number: the one large line."""
    if result.timing is None:
        return "Not established"
    return f"{result.verdict.value.capitalize()}: {degrees(result.timing.btdc)} BTDC"


def timing_words(card: Card, timing: Timing, nominal: Fraction) -> str:
    """Say deviation, limits and uncertainty."""
    limits = card.limits
    earliest, latest = nominal + limits.advanced_most, nominal - limits.retarded_most
    marks = " Errors of the marks themselves are not in it." if card.measure.by is By.MARKS else ""
    return (
        f"{deviation_words(timing.deviation).capitalize()}; limits {degrees(latest)} to {degrees(earliest)} BTDC. "
        f"Uncertainty {expanded_words(timing.variance)} (k = 2); "
        f"estimated probability within {_percent(timing.probability_within)}.{marks}"
    )


def _percent(probability: float) -> str:
    """Say a probability in percent; certainty is never claimed."""
    if probability >= SURE:
        return f"over {100 * SURE:.1f} %"
    return f"{100 * probability:.1f} %" if probability > 1 - SURE else f"under {100 * (1 - SURE):.1f} %"


def housing_words(result: MagnetoResult) -> Iterator[str]:
    """Say what to do about a deviation: the mesh first, then the housing."""
    housing, mesh = result.housing, result.mesh
    if mesh:
        teeth = "1 tooth" if abs(mesh.teeth) == 1 else f"{abs(mesh.teeth)} teeth"
        way = "advanced" if mesh.teeth > 0 else "retarded"
        left = (
            "nothing" if mesh.left_to_turn == 0 else deviation_words(mesh.left_to_turn).replace("°", "° of the magneto")
        )
        yield (
            f"The mesh is {teeth} {way}; then {left} is left to turn. Ask where the flange stands in its slots, and "
            "check the distributor finger again."
        )
    if housing is None:
        yield "One housing carries both breakers: it is turned by the other side, whose points open first."
        return
    if housing.turn == 0:
        yield "It stands on nominal: do not turn the housing."
    if housing.turn:
        stay = "It may stay as it is. " if is_good(result.verdict) else ""
        yield f"{stay}To reach {degrees(result.magneto.nominal)}: turn the housing {turn_words(housing)}."


def sync_words(worked: Worked) -> str:
    """Say how the magnetos stand to each other; empty with one magneto."""
    sync, most = worked.sync, worked.card.limits.apart_most
    if sync is None:
        return ""
    if sync.difference is None:
        return "Not known: both magnetos must be established as left."
    allowed = "no limit given" if most is None else f"at most {degrees(most)} allowed"
    if sync.difference == 0:
        return f"Both deviate alike; {allowed}."
    early = "left" if sync.difference > 0 else "right"
    return f"{degrees(abs(sync.difference))} apart, the {early} magneto earlier; {allowed}."


def measure_words(card: Card) -> str:
    """Say the way of measuring in one line."""
    measure = card.measure
    if measure.by is By.MARKS:
        return f"the engine's marks, read to {plain(measure.read_to)}°"
    marked = "0 to 180 each way"
    if measure.marking is Marking.FULL:
        marked = f"0 to 360, {'rising' if measure.counts is Counts.UP else 'falling'} with rotation"
    carrier = "propeller" if measure.on is On.PROPELLER else "crankshaft"
    zero = "set to 0 at TDC" if measure.zeroed else "not zeroed"
    return f"{measure.by} on the {carrier}, {marked}, read to {plain(measure.read_to)}°, {zero}"


def magneto_words(result: MagnetoResult) -> str:
    """Say what the data plate and the data of a magneto state."""
    magneto = result.magneto
    way = "clockwise" if magneto.rotation is Hand.RIGHT else "counter-clockwise"
    parts = [
        f"{magneto.rotation}-hand ({way} at the drive end)",
        f"{magneto.poles} poles",
        f"{plain(result.ratio)} turns a crank turn",
    ]
    if magneto.impulse_lag is not None:
        parts.append(f"impulse coupling, lag {degrees(magneto.impulse_lag)} ({magneto.impulse_lag_in} degrees)")
    if magneto.back_off_least is not None:
        parts.append(f"back off {degrees(magneto.back_off_least)} at least")
    if magneto.back_off_most is not None:
        parts.append(f"back off {degrees(magneto.back_off_most)} at most")
    return ", ".join(parts)


def turn_words(housing: Housing) -> str:
    """Say which way and how far a housing is turned, and from where that is seen."""
    if housing.turn is None or housing.direction is None:
        return ""
    slot = "" if housing.slot_mm is None else f" ({plain(housing.slot_mm, 1)} mm at the slot)"
    end = "drive end" if housing.seen_from is SeenFrom.DRIVE else "back"
    return f"{housing.direction}, seen from the {end}, {degrees(housing.turn)} of the magneto{slot}"


def where_words(path: str) -> str:
    """Say in plain words where on the card a finding belongs."""
    head, _, rest = path.partition(".")
    name, _, place = head.partition("[")
    tables = {
        "stop": f"stop contacts, pair {place.rstrip(']')}" if place else "stop contacts",
        "engine": "engine data",
        "limits": "limits",
        "measure": "way of measuring",
        "magnetos": "both magnetos",
        "run_up": "run-up",
        "torque": "torque",
        "left": "left magneto",
        "right": "right magneto",
    }
    words = tables[name]
    attempt = re.match(r"approach\[([0-9]+)\]", rest)
    return f"{words}, approach {attempt[1]}" if attempt else words


def is_good(verdict: Verdict) -> bool:
    """Tell whether a verdict lets the work go on."""
    return verdict is Verdict.WITHIN
