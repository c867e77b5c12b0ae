"""A checked card in a few plain lines for a terminal, findings first."""

from collections.abc import Iterator, Sequence
from textwrap import wrap

from desktop.core.rules.rule import Severity
from desktop.core.rules.rulebook import SaidFinding, nothing_stops
from desktop.core.timing.results import MagnetoResult, Worked
from desktop.core.typed_text import degrees, plain
from desktop.core.words import housing_words, movement_words, sync_words, timing_words, verdict_words

_WORD = {Severity.STOPS: "STOPS", Severity.EXPLAIN: "reason needed", Severity.NOTE: "note"}
_WIDTH = 100


def lines_of(worked: Worked, findings: Sequence[SaidFinding]) -> Iterator[str]:
    """Yield the lines of a result."""
    for finding in findings:
        yield f"{_WORD[finding.severity]}: {finding.where}"
        yield from wrap(f"{finding.sentence} ({finding.source})", _WIDTH, initial_indent="  ", subsequent_indent="  ")
    yield "Nothing stops." if nothing_stops(findings) else "Not to be approved while something stops."
    yield ""
    tdc = worked.tdc.tdc
    if tdc:
        yield (
            f"TDC: disc reads {worked.scale.written(tdc.reading)}, arc {degrees(tdc.arc)}. To make it read 0: set "
            f"{worked.scale.written(tdc.setting_against)} resting on the contact against rotation, "
            f"{worked.scale.written(tdc.setting_with)} resting on the one with rotation."
        )
    for result in worked.magnetos:
        yield from _magneto(worked, result)
    if worked.sync:
        yield f"Between the magnetos: {sync_words(worked)}"
    if worked.run_up:
        word = "within" if worked.run_up.is_within else "outside"
        yield (
            f"Run-up drops: left {plain(worked.run_up.left_drop)} rpm, right {plain(worked.run_up.right_drop)} rpm: "
            f"{word}."
        )
    for job, value in zip(worked.card.torque, worked.torque, strict=True):
        what = "".join(sign if sign.isprintable() else repr(sign)[1:-1] for sign in job.what)
        yield f"Torque, {what}: set {plain(value, 2)} {job.unit} for {plain(job.required)} {job.unit}."


def _magneto(worked: Worked, result: MagnetoResult) -> Iterator[str]:
    side = result.magneto.side.capitalize()
    target = "" if result.target is None else f", target reading {worked.scale.written(result.target)}"
    yield f"{side} magneto: nominal {degrees(result.magneto.nominal)} BTDC{target}."
    if result.found:
        found = result.found_timing
        yield f"  As found: {found.verdict}, {degrees(found.btdc)} BTDC." if found else "  As found: not established."
    yield f"  As left: {verdict_words(result)}."
    if result.last:
        backlash = "not measured" if result.backlash is None else degrees(result.backlash)
        yield f"  Backed off: {movement_words(result.last)}; backlash {backlash}."
    if result.timing:
        yield f"  {timing_words(worked.card, result.timing, result.magneto.nominal)}"
        yield from (f"  {line}" for line in housing_words(result))
