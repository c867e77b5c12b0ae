"""What stands beside and below the fields: worked-out values, verdicts, findings, and how far each place is."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from enum import StrEnum

from desktop.core.rules.rulebook import SaidFinding
from desktop.core.timing.approach import Judged
from desktop.core.timing.readings import Side
from desktop.core.timing.results import MagnetoResult, Worked
from desktop.core.timing.results import Verdict as TimingVerdict
from desktop.core.typed_text import degrees, deviation_words, plain
from desktop.core.words import (
    backlash_words,
    housing_words,
    is_good,
    movement_words,
    sync_words,
    timing_words,
    verdict_words,
    void_words,
)
from desktop.usecases.fill_card import CardState
from desktop.viewmodels.pieces.fields import ON_THE_ORDER, Field, Kind, Place, Shows, asked_fields, fields_of


class Progress(StrEnum):
    """How far a place is; each has its own ring and its own word."""

    EMPTY = "to do"
    OPEN = "open"
    DONE = "done"
    STOPS = "stops"


@dataclass(frozen=True, slots=True)
class Verdict:
    """The large line of a place with what stands below it."""

    words: str
    lines: tuple[str, ...]
    progress: Progress


def notes_of(state: CardState) -> dict[str, str]:
    """Return what was worked out, by the path of the field that it stands behind."""
    if state.checked is None:
        return {}
    worked = state.checked.worked
    notes: dict[str, str] = {}
    for pair in worked.tdc.pairs:
        notes[f"stop[{pair.place}].against"] = (
            f"arc {degrees(pair.arc)}, midpoint at {worked.scale.written(pair.midpoint)}"
            if pair.is_sound
            else f"arc {degrees(pair.arc)}: gives no TDC"
        )
    for result in worked.magnetos:
        for judged in result.judged:
            notes |= _approach_notes(result, judged)
    for place, (job, value) in enumerate(zip(worked.card.torque, worked.torque, strict=True), 1):
        notes[f"torque[{place}].extension"] = f"set the wrench to {plain(value, 2)} {job.unit}"
    if worked.run_up:
        notes["run_up.left_rpm"] = f"drop {plain(worked.run_up.left_drop)} rpm"
        notes["run_up.right_rpm"] = f"drop {plain(worked.run_up.right_drop)} rpm"
    return notes


def _approach_notes(result: MagnetoResult, judged: Judged) -> dict[str, str]:
    path = f"{result.magneto.side}.approach[{judged.place}]"
    light = f"does not count: {void_words(judged)}"
    if judged.establishes and judged.btdc is not None:
        light = f"{degrees(judged.btdc)} BTDC, {deviation_words(judged.btdc - result.magneto.nominal)}"
    return {f"{path}.from": movement_words(judged), f"{path}.light": light, f"{path}.back": backlash_words(judged)}


def hint_of(field: Field, state: CardState, side: Side | None) -> str:
    """Return what helps to fill an empty field: the target reading, or the form that it takes."""
    worked = state.checked.worked if state.checked else None
    result = worked.of(side) if worked and side else None
    if worked and result and field.path.endswith(".light") and result.target is not None:
        return f"target {worked.scale.written(result.target)}"
    if worked and field.path == "engine.reference":
        return f"No. {worked.card.engine.reference}"
    return field.hint


def verdicts_of(place: Place, state: CardState) -> tuple[Verdict, ...]:
    """Return the verdicts that belong under a place."""
    if state.checked is None:
        return ()
    worked = state.checked.worked
    if place.shows is Shows.TDC:
        return _tdc_verdict(worked)
    if place.shows is Shows.FOUND and place.side:
        result = worked.of(place.side)
        return _found_verdict(worked, result) if result and result.found else ()
    if place.shows is Shows.LEFT and place.side:
        result = worked.of(place.side)
        return (_left_verdict(state, worked, result),) if result and result.judged else ()
    if place.shows is Shows.ALL:
        verdicts = [_left_verdict(state, worked, result) for result in worked.magnetos]
        if worked.sync:
            verdicts.append(_sync_verdict(worked))
        return tuple(verdicts)
    return ()


def standing_of(place: Place, state: CardState, side: Side | None) -> Verdict | None:
    """Return how a magneto stands, as found in that place and else as left; None while it has no approach."""
    result = state.checked.worked.of(side) if state.checked and side else None
    if result is None or state.checked is None or place.side is None:
        return None
    if state.has_open_approach(result.magneto.side):
        return _open_verdict(result.magneto.side)
    if not result.judged:
        return None
    if place.shows is Shows.FOUND:
        found = _found_verdict(state.checked.worked, result) if result.found else ()
        return replace(found[0], lines=()) if found else None
    words = f"{result.magneto.side.capitalize()}. {verdict_words(result)}"
    return Verdict(words, (), progress=_ring(result.verdict))


def _tdc_verdict(worked: Worked) -> tuple[Verdict, ...]:
    tdc = worked.tdc.tdc
    if tdc is None:
        return () if not worked.tdc.pairs else (Verdict("No TDC", (), progress=Progress.STOPS),)
    written = worked.scale.written
    lines = [f"Arc {degrees(tdc.arc)}, TDC at {written(tdc.reading)} on the disc as it stood."]
    if worked.card.measure.zeroed:
        lines.append(
            f"To make TDC read 0, set the disc to {written(tdc.setting_against)} resting on the contact against "
            f"rotation, or to {written(tdc.setting_with)} resting on the contact with rotation."
        )
    return (
        Verdict(
            f"TDC at {written(tdc.reading)}",
            tuple(lines),
            progress=Progress.STOPS if worked.tdc.disc_moved else Progress.DONE,
        ),
    )


def _found_verdict(worked: Worked, result: MagnetoResult) -> tuple[Verdict, ...]:
    timing = result.found_timing
    if timing is None:
        return (Verdict("As found: not established", (), progress=Progress.STOPS),)
    words = f"As found {timing.verdict}: {degrees(timing.btdc)} BTDC"
    return (
        Verdict(words, (timing_words(worked.card, timing, result.magneto.nominal),), progress=_ring(timing.verdict)),
    )


def _ring(verdict: TimingVerdict) -> Progress:
    return Progress.DONE if is_good(verdict) else Progress.STOPS


def _open_verdict(side: Side) -> Verdict:
    return Verdict(f"{side.capitalize()}. The last reading is still open", (), Progress.OPEN)


def _left_verdict(state: CardState, worked: Worked, result: MagnetoResult) -> Verdict:
    side = result.magneto.side.capitalize()
    if state.has_open_approach(result.magneto.side):
        return _open_verdict(result.magneto.side)
    if result.timing is None:
        return Verdict(f"{side}: not established", (), progress=Progress.STOPS)
    lines = (timing_words(worked.card, result.timing, result.magneto.nominal), *housing_words(result))
    return Verdict(f"{side}. {verdict_words(result)}", lines, progress=_ring(result.verdict))


def _sync_verdict(worked: Worked) -> Verdict:
    verdict = worked.sync.verdict if worked.sync else None
    return Verdict(
        "Between the magnetos",
        (sync_words(worked),),
        progress=Progress.DONE if verdict in (None, "within") else Progress.STOPS,
    )


def findings_at(place: Place, places: Sequence[Place], state: CardState) -> tuple[SaidFinding, ...]:
    """Return the findings that speak of a place; the last place has them all."""
    findings = state.checked.findings if state.checked else ()
    if place.shows is Shows.ALL:
        return findings
    return tuple(finding for finding in findings if place_of(finding, places) == place.id)


def place_of(finding: SaidFinding, places: Sequence[Place]) -> str:
    """Return the place where a finding is mended; the last place where no field speaks of it."""
    where = finding.where
    if where.endswith(".approach"):
        side = where.removesuffix(".approach")
        left = [place.id for place in places if place.shows is Shows.LEFT and place.side == side]
        return left[-1] if left else places[-1].id
    holding = [place.id for place in places if any(_speaks_of(where, field) for field in fields_of(place))]
    if not holding:
        return places[-1].id
    return holding[-1] if finding.rule == "no-closing-pair" else holding[0]


def _speaks_of(where: str, field: Field) -> bool:
    return field.path == where or field.path.startswith((f"{where}.", f"{where}["))


def progress_of(place: Place, places: Sequence[Place], state: CardState, values: dict[str, object]) -> Progress:
    """Tell how far a place is. ``values`` holds what stands at each field's key."""
    if any(finding.severity == "stops" for finding in findings_at(place, places, state)):
        return Progress.STOPS if place.shows is not Shows.ALL or state.is_whole else Progress.OPEN
    if place.shows is Shows.ALL:
        return Progress.DONE if state.is_whole else Progress.EMPTY
    fields = list(fields_of(place))
    filled = [field for field in fields if values.get(field.key) not in (None, False)]
    if not filled:
        return Progress.EMPTY
    needed = [
        field
        for field in asked_fields(place)
        if not field.optional and (field.kind is not Kind.TICK or field.path.startswith(ON_THE_ORDER))
    ]
    open_fields = [field for field in needed if values.get(field.key) in (None, False)]
    wrong = any(state.fault_at(field.path) for field in fields if values.get(field.key) is not None)
    return Progress.OPEN if open_fields or wrong else Progress.DONE
