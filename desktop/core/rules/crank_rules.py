"""Rules about the crankshaft: stop contacts, TDC, the disc."""

from collections.abc import Iterator

from desktop.core.rules.rule import Finding, Rule, Severity
from desktop.core.timing.measuring import is_measured_with_stop
from desktop.core.timing.readings import By, Reading
from desktop.core.timing.results import Worked
from desktop.core.timing.tdc import SHORT_ARC, Pair
from desktop.core.typed_text import MOST_DECIMALS, decimals, degrees, plain

MIDPOINT = "Midpoint of the zone without piston travel: FAA-H-8083-32B p. 4-27. Piston stop: common practice."
RESOLUTION = "A reading says no more than its scale. Common practice."


def _not_measured(rule: Rule, worked: Worked) -> Iterator[Finding]:
    if is_measured_with_stop(worked.card) and not worked.card.stops:
        yield rule.finding("stop", what="No stop contacts were taken", act="Take TDC with the piston stop")
    for result in worked.magnetos:
        side = result.magneto.side
        if not result.magneto.approaches:
            yield rule.finding(
                f"{side}.approach",
                what=f"No approach of the {side} magneto was taken",
                act="Take one as left, after final tightening",
            )
        elif result.last is None:
            yield rule.finding(
                f"{side}.approach",
                what=f"The {side} magneto has no approach as left",
                act="Tighten, then take one more approach",
            )


def _no_tdc(rule: Rule, worked: Worked) -> Iterator[Finding]:
    for pair in worked.tdc.pairs:
        if not pair.is_sound:
            yield rule.finding(f"stop[{pair.place}]", arc=degrees(pair.arc))


def _stop_short(rule: Rule, worked: Worked) -> Iterator[Finding]:
    for pair in worked.tdc.pairs:
        if pair.is_sound and pair.arc < SHORT_ARC:
            yield rule.finding(f"stop[{pair.place}]", arc=degrees(pair.arc))


def _disc_moved(rule: Rule, worked: Worked) -> Iterator[Finding]:
    finding = worked.tdc
    if finding.moved_pair is not None and finding.moved_by is not None:
        pair: Pair = finding.pairs[finding.moved_pair - 1]
        yield rule.finding(
            f"stop[{pair.place}]",
            off=degrees(abs(finding.moved_by)),
            allowed=degrees(worked.card.measure.read_to * 3 / 2),
        )


def _centre_missing(rule: Rule, worked: Worked) -> Iterator[Finding]:
    if worked.tdc.centre_missing:
        yield rule.finding("measure.centre_by_feel")


def _centre_disagrees(rule: Rule, worked: Worked) -> Iterator[Finding]:
    off = worked.tdc.centre_off
    if off is not None and worked.tdc.tdc is None:
        yield rule.finding("measure.centre_by_feel", off=degrees(abs(off)))


def _no_closing_pair(rule: Rule, worked: Worked) -> Iterator[Finding]:
    if worked.tdc.pairs and not worked.tdc.closing_taken:
        yield rule.finding("stop", carrier="gauge" if worked.card.measure.by is By.GAUGE else "disc")


def _more_decimals(rule: Rule, worked: Worked) -> Iterator[Finding]:
    step = plain(worked.card.measure.read_to, MOST_DECIMALS)
    for where, reading in _all_readings(worked):
        if decimals(reading.typed) > worked.card.measure.read_to_decimals:
            yield rule.finding(where, typed=reading.typed, step=step)


def _all_readings(worked: Worked) -> Iterator[tuple[str, Reading]]:
    for place, pair in enumerate(worked.card.stops, 1):
        yield f"stop[{place}].with", pair.with_rotation
        yield f"stop[{place}].against", pair.against_rotation
    for magneto in worked.card.magnetos:
        for place, approach in enumerate(magneto.approaches, 1):
            where = f"{magneto.side}.approach[{place}]"
            for key, reading in (("from", approach.began), ("light", approach.light), ("back", approach.back)):
                if reading is not None:
                    yield f"{where}.{key}", reading


CRANK_RULES = (
    Rule(
        "not-measured",
        Severity.STOPS,
        "What was not measured is not known. Common practice.",
        ("stop", "left.approach", "right.approach"),
        _not_measured,
    ),
    Rule("no-tdc", Severity.STOPS, MIDPOINT, ("stop", "measure.counts"), _no_tdc),
    Rule(
        "disc-moved",
        Severity.STOPS,
        "A disc is proved again before it comes off. Common practice.",
        ("stop",),
        _disc_moved,
    ),
    Rule(
        "centre-missing",
        Severity.STOPS,
        "On a geared propeller swapped contacts do not show in the arc: geometry of the gear.",
        ("measure.centre_by_feel",),
        _centre_missing,
    ),
    Rule(
        "centre-disagrees",
        Severity.STOPS,
        "On a geared propeller swapped contacts do not show in the arc: geometry of the gear.",
        ("measure.centre_by_feel", "stop"),
        _centre_disagrees,
    ),
    Rule(
        "no-closing-pair",
        Severity.EXPLAIN,
        "A disc is proved again before it comes off. Common practice.",
        ("stop",),
        _no_closing_pair,
    ),
    Rule(
        "stop-short",
        Severity.NOTE,
        "Near the top the piston moves little for a degree: contacts some 15 to 20° each side. Common practice.",
        ("stop",),
        _stop_short,
    ),
    Rule("more-decimals", Severity.NOTE, RESOLUTION, ("measure.read_to",), _more_decimals),
)
