"""What was worked out from a card's readings, as sections: TDC, each attempt, verdicts, synchronisation, run-up."""

from collections.abc import Iterator

from desktop.core.records.entry.entry_wordings import btdc_words, limits_words, run_up_words, timing_fact_words
from desktop.core.records.record import Row, Section, visible
from desktop.core.timing.approach import Judged
from desktop.core.timing.results import MagnetoResult, Worked
from desktop.core.timing.tdc import Pair, closing_offs, closing_room
from desktop.core.typed_text import degrees, deviation_words, plain
from desktop.core.words import (
    backlash_words,
    housing_words,
    magneto_words,
    measure_words,
    movement_words,
    sync_words,
    timing_words,
    verdict_words,
    void_words,
)


def result_sections(worked: Worked) -> tuple[Section, ...]:
    """Return everything that a reader needs beside the typed values, each number with its unit and limit."""
    rest = Section("Worked out for the engine", tuple(_engine(worked)))
    magnetos = (
        Section(f"Worked out for the {result.magneto.side} magneto", tuple(_magneto(worked, result)))
        for result in worked.magnetos
    )
    return (rest, *magnetos)


def _engine(worked: Worked) -> Iterator[Row]:
    if worked.magnetos:
        yield Row("Measured by", measure_words(worked.card))
    offs = dict(closing_offs(worked.card, worked.tdc.pairs))
    for pair in worked.tdc.pairs:
        yield Row(f"Stop contacts, pair {pair.place}", _pair(worked, pair))
        if pair.place in offs:
            off, room = abs(offs[pair.place]), closing_room(worked.card)
            yield Row(f"Stop contacts, pair {pair.place}, off", f"{degrees(off)}, at most {degrees(room)} allowed")
    tdc = worked.tdc.tdc
    if tdc is not None:
        yield Row("TDC", f"reads {worked.scale.written(tdc.reading)} as the disc stood at the stop contacts")
    if worked.tdc.centre_off is not None:
        yield Row("Top by feel", f"{degrees(abs(worked.tdc.centre_off))} of the disc from the middle of the contacts")
    if sync := sync_words(worked):
        yield Row("Synchronisation", sync)
    if worked.card.run_up and worked.run_up:
        yield Row("Run-up", run_up_words(worked.card.run_up, worked.run_up))
    for place, (job, value) in enumerate(zip(worked.card.torque, worked.torque, strict=True), 1):
        text = f"set {plain(value, 2)} {job.unit} on the wrench for {plain(job.required)} {job.unit} at the nut"
        yield Row(f"Torque {place}", visible(f"{job.what}; {text}"))


def _pair(worked: Worked, pair: Pair) -> str:
    middle = f"short arc {degrees(pair.arc)}, middle at {worked.scale.written(pair.midpoint)}"
    return middle if pair.is_sound else f"{middle}; it gives no TDC"


def _magneto(worked: Worked, result: MagnetoResult) -> Iterator[Row]:
    limits = limits_words(worked, result)
    yield Row("Data", magneto_words(result))
    yield Row("Limits", limits)
    for judged in result.judged:
        yield Row(f"Approach {judged.place}, {judged.approach.when}", _attempt(result, judged, limits))
    nominal = result.magneto.nominal
    if result.found:
        yield Row("As found", timing_fact_words(result.found_timing, "not established"))
        if result.found_timing:
            yield Row("As found, in full", timing_words(worked.card, result.found_timing, nominal))
    yield Row("As left", verdict_words(result))
    if result.timing:
        yield Row("As left, in full", timing_words(worked.card, result.timing, nominal))
        yield Row("Readings as left that count", str(result.repeats))
    if result.setting_after:
        yield Row("Set again after it", f"approach {result.setting_after.place}")
    if result.backlash is not None:
        yield Row("Backlash", degrees(result.backlash))
    for words in housing_words(result) if result.timing else ():
        yield Row("Housing", words)


def _attempt(result: MagnetoResult, judged: Judged, limits: str) -> str:
    parts = [movement_words(judged)]
    if judged.btdc is not None:
        parts.append(f"light at {btdc_words(judged.btdc)}, {deviation_words(judged.btdc - result.magneto.nominal)}")
    parts += [f"limits {limits}", backlash_words(judged)]
    parts.append(f"does not count: {void_words(judged)}" if judged.voids else "came up as it must")
    return "; ".join(part for part in parts if part)
