"""Rules about limits: timing as left and as found, both magnetos together, the run-up, known mistakes."""

from collections.abc import Iterator

from desktop.core.rules.approach_rules import where
from desktop.core.rules.rule import Finding, Rule, Severity
from desktop.core.timing.approach import Judged
from desktop.core.timing.mistakes import Kind, Mistake
from desktop.core.timing.readings import Side
from desktop.core.timing.results import MagnetoResult, SyncVerdict, Timing, Verdict, Worked
from desktop.core.typed_text import degrees, deviation_words, plain

SHEET = "The limits as they stand on this card."
UNSURE = "Guard band of U = 2u: ILAC-G8:09/2019 4.2.2."
PROBABLY = 0.95
RUN_UP = "FAA-H-8083-32B p. 4-31 and the limits of this card."
NO_DROP = "No drop means a faulty ground: FAA-H-8083-32B pp. 10-26, 10-27, 4-31."


def _timings(result: MagnetoResult) -> Iterator[tuple[Judged, Timing]]:
    if result.found and result.found_timing:
        yield result.found, result.found_timing
    if result.last and result.timing:
        yield result.last, result.timing


def _limit_words(worked: Worked) -> str:
    limits = worked.card.limits
    return f"{degrees(limits.advanced_most)} advanced to {degrees(limits.retarded_most)} retarded"


def _as_left(rule: Rule, worked: Worked) -> Iterator[Finding]:
    """Find the rule's own verdict as left."""
    for result in worked.magnetos:
        if result.last and result.timing and result.timing.verdict.value.replace(" ", "-") == rule.id:
            yield rule.finding(
                where(result, result.last, "light"),
                side=result.magneto.side,
                deviation=deviation_words(result.timing.deviation),
                expanded=degrees(2 * float(result.timing.variance) ** 0.5),
                limits=_limit_words(worked),
            )


def _as_found_out(rule: Rule, worked: Worked) -> Iterator[Finding]:
    for result in worked.magnetos:
        timing = result.found_timing
        if result.found and timing and timing.verdict in (Verdict.ADVANCED, Verdict.RETARDED):
            yield rule.finding(
                where(result, result.found, "light"),
                side=result.magneto.side,
                deviation=deviation_words(timing.deviation),
                limits=_limit_words(worked),
            )


def _probability_low(rule: Rule, worked: Worked) -> Iterator[Finding]:
    for result in worked.magnetos:
        if result.last and result.timing and result.timing.probability_within < PROBABLY:
            yield rule.finding(
                where(result, result.last, "light"),
                side=result.magneto.side,
                percent=f"{100 * result.timing.probability_within:.0f}",
            )


def _magnetos_apart(rule: Rule, worked: Worked) -> Iterator[Finding]:
    sync, most = worked.sync, worked.card.limits.apart_most
    if sync and sync.verdict is SyncVerdict.OUTSIDE and sync.difference is not None and most is not None:
        yield rule.finding("limits.apart_most", difference=degrees(abs(sync.difference)), most=degrees(most))


def _one_magneto(rule: Rule, worked: Worked) -> Iterator[Finding]:
    for side in Side:
        if worked.of(side) is None:
            yield rule.finding(side.value, side=side)


def _one_housing_difference(rule: Rule, worked: Worked) -> Iterator[Finding]:
    if worked.card.one_housing and worked.sync and worked.sync.difference:
        yield rule.finding("magnetos.one_housing", difference=degrees(abs(worked.sync.difference)))


def _no_drop(rule: Rule, worked: Worked) -> Iterator[Finding]:
    if worked.run_up:
        for side in worked.run_up.no_drop:
            other = Side.RIGHT if side is Side.LEFT else Side.LEFT
            yield rule.finding(f"run_up.{side}_rpm", switch=side.value[0].upper(), grounded=other)


def _drop_outside(rule: Rule, worked: Worked) -> Iterator[Finding]:
    if worked.run_up and worked.card.run_up:
        drop = {Side.LEFT: worked.run_up.left_drop, Side.RIGHT: worked.run_up.right_drop}
        for side in worked.run_up.too_great:
            yield rule.finding(
                f"run_up.{side}_rpm",
                switch=side.value[0].upper(),
                drop=plain(drop[side]),
                most=plain(worked.card.run_up.drop_most),
            )


def _drops_apart(rule: Rule, worked: Worked) -> Iterator[Finding]:
    if worked.run_up and worked.card.run_up and worked.run_up.too_far_apart:
        yield rule.finding(
            "run_up.apart_most",
            difference=plain(abs(worked.run_up.difference)),
            most=plain(worked.card.run_up.apart_most),
        )


def _mistake(rule: Rule, worked: Worked) -> Iterator[Finding]:
    """Find the rule's own mistake, as found and as left."""
    for result in worked.magnetos:
        for judged, timing in _timings(result):
            for mistake in timing.mistakes:
                if mistake.kind.value == rule.id:
                    yield rule.finding(
                        where(result, judged, "light"),
                        side=result.magneto.side,
                        when=judged.approach.when,
                        deviation=deviation_words(timing.deviation),
                        typical=deviation_words(mistake.deviation),
                        teeth=_teeth_words(mistake),
                    )


def _teeth_words(mistake: Mistake) -> str:
    return "1 tooth" if abs(mistake.teeth) == 1 else f"{abs(mistake.teeth)} teeth"


SAFETY_RULES = (Rule("no-drop", Severity.STOPS, NO_DROP, ("run_up.left_rpm", "run_up.right_rpm"), _no_drop),)

LIMIT_RULES = (
    Rule("advanced", Severity.STOPS, SHEET, ("approach.light", "limits.advanced_most"), _as_left),
    Rule("retarded", Severity.STOPS, SHEET, ("approach.light", "limits.retarded_most"), _as_left),
    Rule("too-close", Severity.STOPS, UNSURE, ("approach.light", "limits.decision"), _as_left),
    Rule("magnetos-apart", Severity.STOPS, SHEET, ("limits.apart_most",), _magnetos_apart),
    Rule("drop-outside", Severity.STOPS, RUN_UP, ("run_up.drop_most",), _drop_outside),
    Rule("drops-apart", Severity.STOPS, RUN_UP, ("run_up.apart_most",), _drops_apart),
    Rule("as-found-out", Severity.NOTE, SHEET, ("approach.light",), _as_found_out),
    Rule(
        "probability-low",
        Severity.NOTE,
        "Normal distribution about the reading, computed.",
        ("approach.light", "measure.read_to"),
        _probability_low,
    ),
    Rule(
        "one-magneto",
        Severity.NOTE,
        "Both lamps come on within the stated timing position: FAA-H-8083-32B p. 4-30.",
        ("left", "right"),
        _one_magneto,
    ),
    Rule(
        "one-housing-difference",
        Severity.NOTE,
        "One housing turns both breakers alike: geometry of the magneto.",
        ("magnetos.one_housing",),
        _one_housing_difference,
    ),
    Rule(
        Kind.TDC_MARK.value,
        Severity.NOTE,
        "The TDC mark taken for the timing mark gives the whole advance. Common practice.",
        ("approach.light",),
        _mistake,
    ),
    Rule(
        Kind.TEETH.value,
        Severity.NOTE,
        "One tooth is 360/Z magneto degrees. Slots that do not reach: FAA-H-8083-32B p. 4-30.",
        ("approach.light", "drive_gear_teeth"),
        _mistake,
    ),
    Rule(
        Kind.WRONG_HAND.value,
        Severity.NOTE,
        "Marks of the other hand give twice the E-gap. Common practice.",
        ("approach.light", "e_gap"),
        _mistake,
    ),
    Rule(
        Kind.LAG.value,
        Severity.NOTE,
        "A coupling that was not released gives its lag. Common practice.",
        ("approach.light", "impulse_lag"),
        _mistake,
    ),
)
