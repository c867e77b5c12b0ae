"""What the hangar view says beside the dial: the way to turn now, three numbers, the verdict and its reason."""

from dataclasses import dataclass
from fractions import Fraction

from desktop.core.rules.rule import Severity
from desktop.core.timing.approach import Judged
from desktop.core.timing.readings import By, Marking, Side
from desktop.core.timing.results import MagnetoResult, Timing, Worked
from desktop.core.typed_text import degrees, deviation_words
from desktop.core.words import housing_words, is_good, verdict_words, void_words
from desktop.usecases.fill_card import CardState
from desktop.viewmodels.pieces.card_words import Progress, Verdict, findings_at
from desktop.viewmodels.pieces.fields import Field, Place, Shows

UNKNOWN = "not known"
NOTHING = "none yet"
HOUSING_STAYS = "Leave the housing as it is."
NO_VERDICT = Verdict("No reading yet", (), Progress.EMPTY)


@dataclass(frozen=True, slots=True)
class Tile:
    """A number with what it is."""

    label: str
    words: str


@dataclass(frozen=True, slots=True)
class Turning:
    """The way to turn the propeller now, for somebody who faces it; ``how`` is the same in the engine's words."""

    way: str
    how: str
    is_clockwise: bool


def turning_of(state: CardState, field: Field | None) -> Turning | None:
    """Return the way to turn for the reading that is asked for, else which way is with rotation; None while unknown.

    A reading is approached with rotation only; the play is read, and the second contact taken, against it.
    """
    if state.checked is None:
        return None
    how = _how(field) or "is with rotation"
    facing = state.checked.worked.card.engine.propeller_rotation.reversed()
    way = facing.reversed() if how.startswith("against") else facing
    return Turning(way.value, how, way.value == "clockwise")


def rotation_of(place: Place, state: CardState) -> Turning | None:
    """Return which way is with rotation, where the words of a step speak of it; None elsewhere and while unknown."""
    if state.checked is None or "rotation" not in f"{place.task} {place.more}":
        return None
    way = state.checked.worked.card.engine.propeller_rotation.reversed()
    return Turning(way.value, "is with rotation", way.value == "clockwise")


def _how(field: Field | None) -> str:
    if field is None or not field.path.startswith(("stop[", "left.approach[", "right.approach[")):
        return ""
    last = field.path.rpartition(".")[2]
    return {
        "from": "with rotation, from where you are now",
        "light": "with rotation, until the light shows the points opening",
        "back": "against rotation, where the data allow it, until the light goes",
        "with": "with rotation, gently, to the stop",
        "against": "against rotation, gently, to the stop",
    }.get(last, "")


def tiles_of(place: Place, state: CardState, side: Side | None, last: Tile) -> tuple[Tile, Tile, Tile]:
    """Return the three numbers of a place: target, window and last light, or what the stop contacts give.

    ``last`` stands where the place has no light to show.
    """
    worked = state.checked.worked if state.checked else None
    if place.side is None:
        tdc = worked.tdc.tdc if worked else None
        arc = degrees(tdc.arc) if tdc else UNKNOWN
        return (
            Tile("TDC on the disc", worked.scale.written(tdc.reading) if worked and tdc else UNKNOWN),
            Tile("Arc between the contacts", arc),
            last,
        )
    result = worked.of(side) if worked and side else None
    if worked is None or result is None:
        return Tile("Target", UNKNOWN), Tile("Window", UNKNOWN), last
    target = UNKNOWN if result.target is None else worked.scale.written(result.target)
    nominal = degrees(result.magneto.nominal)
    return Tile(f"Target, {nominal} BTDC", target), _window(worked, result), _last_light(place, result)


def _window(worked: Worked, result: MagnetoResult) -> Tile:
    """Say from where to where, in the order in which the disc passes there with rotation."""
    limits, nominal = worked.card.limits, result.magneto.nominal
    ends = [
        worked.scale.reading_at(nominal + limits.advanced_most),
        worked.scale.reading_at(nominal - limits.retarded_most),
    ]
    written = [worked.scale.written(end) for end in ends if end is not None]
    if len(written) != len(ends):
        return Tile("Window", UNKNOWN)
    if all(one.endswith(" before") for one in written):
        return Tile("Window, before TDC", " to ".join(one.removesuffix(" before") for one in written))
    return Tile("Window", " to ".join(written))


def _last_light(place: Place, result: MagnetoResult) -> Tile:
    judged = _last(place, result)
    if judged is None:
        return Tile("Last light", NOTHING)
    counts = "" if judged.establishes else ", does not count"
    return Tile(f"Last light, {judged.approach.when}{counts}", " ".join(judged.approach.light.typed.split()))


def _last(place: Place, result: MagnetoResult) -> Judged | None:
    """Return the approach that a place speaks of: the one as found there, elsewhere the last one taken."""
    if place.shows is Shows.FOUND:
        return result.found
    return result.judged[-1] if result.judged else None


def verdict_of(place: Place, state: CardState, side: Side | None) -> Verdict:
    """Return the large line of a place: how the magneto stands, or TDC; it never speaks of an earlier reading."""
    worked = state.checked.worked if state.checked else None
    if worked is None or place.side is None:
        return _tdc_verdict(worked) if worked and place.shows is Shows.TDC else NO_VERDICT
    if side and state.has_open_approach(side):
        return Verdict("Reading still open", (), Progress.OPEN)
    result = worked.of(side) if side else None
    if result is None or _last(place, result) is None:
        return NO_VERDICT
    if place.shows is Shows.FOUND:
        timing = result.found_timing
        words = f"Found {timing.verdict}: {degrees(timing.btdc)} BTDC" if timing else "Found: not established"
        good = timing is not None and is_good(timing.verdict)
        return Verdict(words, (), Progress.DONE if good else Progress.STOPS)
    return Verdict(verdict_words(result), (), Progress.DONE if is_good(result.verdict) else Progress.STOPS)


def _tdc_verdict(worked: Worked) -> Verdict:
    tdc = worked.tdc.tdc
    if not worked.tdc.pairs:
        return NO_VERDICT
    if tdc is None:
        return Verdict("No TDC from these contacts", (), Progress.STOPS)
    if worked.tdc.disc_moved:
        return Verdict("The disc moved", (), Progress.STOPS)
    return Verdict(f"TDC at {worked.scale.written(tdc.reading)}", (), Progress.DONE)


def reason_of(place: Place, places: tuple[Place, ...], state: CardState, side: Side | None) -> str:
    """Return the one line under the verdict: why a reading does not count, what to do, or by how much it deviates."""
    worked = state.checked.worked if state.checked else None
    result = worked.of(side) if worked and place.side and side else None
    open_now = side is not None and state.has_open_approach(side)
    judged = _last(place, result) if result and not open_now else None
    if judged is not None and judged.voids:
        first, *more = void_words(judged).split("; ")
        return f"It does not count: {first}{f', and {len(more)} more' if more else ''}."
    stops = [
        _first_sentence(one.sentence) for one in findings_at(place, places, state) if one.severity == Severity.STOPS
    ]
    if result is None or judged is None:
        return "" if open_now or not stops else stops[0]
    timing = result.found_timing if place.shows is Shows.FOUND else result.timing
    advice = next(iter(housing_words(result)), "") if place.shows is not Shows.FOUND else ""
    if timing is not None and not is_good(timing.verdict):
        return f"{_off(timing)} {advice}".strip()
    if stops:
        return stops[0]
    stays = f" {HOUSING_STAYS}" if place.shows is Shows.LEFT and result.housing is not None else ""
    return f"{_off(timing)}{stays}" if timing is not None else ""


def _first_sentence(text: str) -> str:
    return text.partition(". ")[0].rstrip(".") + "."


def _off(timing: Timing) -> str:
    return f"{deviation_words(timing.deviation).capitalize()}."


def is_split(state: CardState) -> bool:
    """Tell whether readings are told before or after TDC: on a split disc, and on the engine's marks."""
    measure = state.typed.measure
    return measure is not None and (measure.marking == Marking.SPLIT.value or measure.by == By.MARKS.value)


def needs_side(text: str) -> bool:
    """Tell whether a number on a split scale must say its side: every one but 0 and 180."""
    value = Fraction(text.replace(",", ".")) if text.strip(".,") else None
    return value is not None and value not in (0, 180)
