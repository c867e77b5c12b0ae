"""Rules about approaches: what establishes a timing and what does not."""

from collections.abc import Iterator
from fractions import Fraction

from desktop.core.rules.rule import Finding, Rule, Severity
from desktop.core.timing.approach import Judged, Void
from desktop.core.timing.results import MagnetoResult, Worked
from desktop.core.typed_text import degrees
from desktop.core.words import movement_words, void_words

DIRECTION = "Readings are taken in the direction of rotation, because of gear backlash: FAA-H-8083-32B pp. 4-27, 4-30."
DATA = "The magneto's data, as given under limits of this card."
COUPLING = "Forward through the snap, back, then forward again: TM 1-1500-204-23-1."
KEPT = "Every reading stays on the record as it was taken. Common practice."
AFTER_TIGHTENING = "After tightening, check again: FAA-H-8083-32B p. 4-30."
SMALL_BACKLASH_STEPS = 2

_KEY = {
    Void.AGAINST_ROTATION: "from",
    Void.BACK_OFF_LEAST: "from",
    Void.BACK_OFF_MOST: "from",
    Void.WITHIN_BACKLASH: "from",
    Void.CLICK_NOT_PASSED: "click_passed",
    Void.SNAPPED: "snapped",
    Void.WITHOUT_TDC: "light",
    Void.DISC_MOVED: "light",
}


def where(result: MagnetoResult, judged: Judged, key: str) -> str:
    """Return the path of an approach's key."""
    return f"{result.magneto.side}.approach[{judged.place}].{key}"


def _said(angle: Fraction | None) -> str:
    return "not known" if angle is None else degrees(angle)


def _void_last(rule: Rule, worked: Worked) -> Iterator[Finding]:
    """Find the rule's own reason among those for which the last as-left approach is void."""
    void = Void(rule.id)
    for result in worked.magnetos:
        last = result.last
        if last is not None and void in last.voids:
            yield rule.finding(
                where(result, last, _KEY[void]),
                side=result.magneto.side,
                movement=movement_words(last),
                least=_said(result.magneto.back_off_least),
                most=_said(result.magneto.back_off_most),
                backlash=_said(last.known_backlash),
            )


def _setting_after(rule: Rule, worked: Worked) -> Iterator[Finding]:
    for result in worked.magnetos:
        if result.setting_after is not None:
            yield rule.finding(where(result, result.setting_after, "when"), side=result.magneto.side)


def _approach_void(rule: Rule, worked: Worked) -> Iterator[Finding]:
    for result in worked.magnetos:
        for judged in result.judged:
            if judged.voids and judged is not result.last:
                yield rule.finding(
                    where(result, judged, "light"), when=judged.approach.when, reasons=void_words(judged)
                )


def _as_found_void(rule: Rule, worked: Worked) -> Iterator[Finding]:
    for result in worked.magnetos:
        if result.found is not None and result.found_timing is None:
            yield rule.finding(where(result, result.found, "light"), side=result.magneto.side)


def _under_twice_backlash(rule: Rule, worked: Worked) -> Iterator[Finding]:
    for result in worked.magnetos:
        for judged in result.judged:
            if judged.is_under_twice_backlash:
                yield rule.finding(
                    where(result, judged, "from"),
                    movement=movement_words(judged),
                    backlash=_said(judged.known_backlash),
                )


def _direction_declared(rule: Rule, worked: Worked) -> Iterator[Finding]:
    for result in worked.magnetos:
        for judged in result.judged:
            if judged.movement is None:
                yield rule.finding(where(result, judged, "from"))


def _negative_backlash(rule: Rule, worked: Worked) -> Iterator[Finding]:
    small = SMALL_BACKLASH_STEPS * worked.card.measure.read_to / worked.card.carrier_ratio
    for result in worked.magnetos:
        for judged in result.judged:
            if judged.backlash is not None and judged.backlash < 0:
                severity = Severity.EXPLAIN if -judged.backlash > small else Severity.NOTE
                yield rule.finding(where(result, judged, "back"), severity, backlash=degrees(-judged.backlash))


def _backlash_unknown(rule: Rule, worked: Worked) -> Iterator[Finding]:
    for result in worked.magnetos:
        if result.last is not None and result.backlash is None:
            yield rule.finding(where(result, result.last, "back"), side=result.magneto.side)


def _one_approach(rule: Rule, worked: Worked) -> Iterator[Finding]:
    for result in worked.magnetos:
        if result.timing is not None and result.last is not None and result.repeats == 1:
            yield rule.finding(where(result, result.last, "light"), side=result.magneto.side)


def _last(void: Void, source: str, *fields: str) -> Rule:
    return Rule(void.value, Severity.STOPS, source, fields, _void_last)


APPROACH_RULES = (
    _last(Void.AGAINST_ROTATION, DIRECTION, "approach.from", "approach.light"),
    _last(Void.BACK_OFF_LEAST, DATA, "approach.from", "back_off_least"),
    _last(Void.BACK_OFF_MOST, DATA, "approach.from", "back_off_most"),
    _last(Void.WITHIN_BACKLASH, DIRECTION, "approach.from", "approach.back"),
    _last(Void.CLICK_NOT_PASSED, COUPLING, "approach.click_passed"),
    _last(Void.SNAPPED, COUPLING, "approach.snapped"),
    _last(Void.WITHOUT_TDC, "A light without TDC is no timing: FAA-H-8083-32B p. 4-26.", "stop", "approach.light"),
    _last(Void.DISC_MOVED, "A disc is proved again before it comes off. Common practice.", "stop", "approach.light"),
    Rule("setting-after", Severity.STOPS, AFTER_TIGHTENING, ("approach.when",), _setting_after),
    Rule("approach-void", Severity.NOTE, KEPT, ("approach",), _approach_void),
    Rule("as-found-void", Severity.NOTE, KEPT, ("approach",), _as_found_void),
    Rule(
        "negative-backlash",
        Severity.NOTE,
        "The light changes back only after the play is taken up: geometry of the drive.",
        ("approach.back",),
        _negative_backlash,
    ),
    Rule(
        "under-twice-backlash",
        Severity.NOTE,
        "Back off a quarter turn, a blade, or 10 to 30° past the mark. Common practice.",
        ("approach.from",),
        _under_twice_backlash,
    ),
    Rule("direction-declared", Severity.NOTE, DIRECTION, ("approach.from",), _direction_declared),
    Rule("one-approach", Severity.NOTE, "A reading is repeated. Common practice.", ("approach",), _one_approach),
    Rule(
        "backlash-unknown",
        Severity.NOTE,
        "Readings forward and back differ by the backlash: FAA-H-8083-32B p. 4-27.",
        ("approach.back",),
        _backlash_unknown,
    ),
)
