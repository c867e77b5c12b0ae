"""The approaches of one magneto as a table: filled in, or boxes for the pencil with the target beside them."""

from fractions import Fraction

from desktop.core.timing.approach import Judged
from desktop.core.timing.readings import When
from desktop.core.timing.results import MagnetoResult
from desktop.core.typed_text import degrees, deviation_words
from desktop.core.words import backlash_words, movement_words, void_words
from desktop.usecases.papers.cards.capture import FILLED_COLUMNS, Capture
from reports.document import Block, ReadingRow, ReadingTable, plain

EMPTY_APPROACHES = {When.AS_FOUND: 1, When.SETTING: 1, When.AS_LEFT: 2}


def approaches(capture: Capture, result: MagnetoResult, when: When) -> tuple[Block, ...]:
    """Return the approaches that were taken as found, while setting, or as left."""
    taken = [] if capture.blank else [judged for judged in result.judged if judged.approach.when is when]
    if not taken and not capture.blank and result.last is not None:
        return (plain("None was taken.", quiet=True),)
    rows: list[ReadingRow] = []
    for judged in taken:
        rows += _approach_rows(capture, result, judged, len(rows))
    for count in range(0 if taken else EMPTY_APPROACHES[when]):
        rows += _empty_rows(capture, result, len(rows), f"{when.capitalize()} {count + 1}: ")
    return (ReadingTable(tuple(rows), FILLED_COLUMNS),)


def _approach_rows(capture: Capture, result: MagnetoResult, judged: Judged, done: int) -> list[ReadingRow]:
    approach = judged.approach
    attempt = f"Approach {judged.place}: "
    path = f"{result.magneto.side}.approach[{judged.place}]"
    began = "compression" if approach.began is None else approach.began.typed
    rows = [
        ReadingRow(
            capture.row(done + 1),
            f"{attempt}began at",
            reading=began,
            worked_out=movement_words(judged),
            remark=capture.mark(f"{path}.from"),
        ),
        ReadingRow(
            capture.row(done + 2),
            f"{attempt}light came at",
            target=_target(capture, result),
            reading=approach.light.typed,
            worked_out=_light_words(result, judged),
            remark=capture.mark(f"{path}.light"),
        ),
    ]
    if approach.back is not None:
        rows.append(
            ReadingRow(
                capture.row(done + 3),
                f"{attempt}light went at, turned back",
                reading=approach.back.typed,
                worked_out=backlash_words(judged),
                remark=capture.mark(f"{path}.back"),
            )
        )
    if result.click is not None:
        rows.append(
            ReadingRow(
                capture.row(done + len(rows) + 1),
                f"{attempt}snap passed before backing off",
                reading="yes" if approach.click_passed else "no",
                worked_out=_click(result.click),
            )
        )
        rows.append(
            ReadingRow(
                capture.row(done + len(rows) + 1),
                f"{attempt}snap with the light",
                reading="yes" if approach.snapped else "no",
            )
        )
    return rows


def _empty_rows(capture: Capture, result: MagnetoResult, done: int, attempt: str) -> list[ReadingRow]:
    rows: list[tuple[str, str, str, tuple[str, ...]]] = [
        ("began at", _back_off(result), "", ()),
        ("light came at", _target_sum(capture, result), _target(capture, result), ()),
        ("light went at, turned back", "", "", ()),
    ]
    if result.click is not None:
        rows.append((f"snap passed before backing off ({_click(result.click)})", "", "", ("yes", "no")))
        rows.append(("snap with the light", "", "", ("yes", "no")))
    return [
        ReadingRow(capture.row(done + place), attempt + what, target=target, worked_out=words, choices=choices)
        for place, (what, words, target, choices) in enumerate(rows, 1)
    ]


def _target(capture: Capture, result: MagnetoResult) -> str:
    """Return the target reading; an empty card of a disc that is not zeroed has none before its contacts are taken."""
    old = capture.blank and not capture.worked.card.measure.zeroed
    return "" if result.target is None or old else capture.worked.scale.written(result.target)


def _target_sum(capture: Capture, result: MagnetoResult) -> str:
    """Say between which readings the light may come, or how the target is found after the contacts are taken."""
    worked = capture.worked
    limits, nominal = worked.card.limits, result.magneto.nominal
    if worked.card.measure.zeroed:
        ends = [nominal + limits.advanced_most, nominal - limits.retarded_most]
        readings = [reading for reading in map(worked.scale.reading_at, ends) if reading is not None]
        return f"limits {' to '.join(map(worked.scale.written, readings))}"
    sign = "minus" if worked.scale.sense > 0 else "plus"
    return f"target: TDC reading {sign} {degrees(worked.scale.carrier_ratio * result.magneto.nominal)}"


def _light_words(result: MagnetoResult, judged: Judged) -> str:
    if judged.voids or judged.btdc is None:
        return f"does not count: {void_words(judged)}"
    deviation = judged.btdc - result.magneto.nominal
    return f"{degrees(judged.btdc)} BTDC, {deviation_words(deviation)}"


def _click(btdc: Fraction) -> str:
    """Say where the coupling clicks."""
    return f"coupling clicks at {degrees(abs(btdc))} {'BTDC' if btdc >= 0 else 'after TDC'}"


def _back_off(result: MagnetoResult) -> str:
    least, most = result.magneto.back_off_least, result.magneto.back_off_most
    if least is None and most is None:
        return "back well past the mark, then with rotation"
    parts = [] if least is None else [f"{degrees(least)} at least"]
    parts += [] if most is None else [f"{degrees(most)} at most"]
    return f"back {', '.join(parts)}, then with rotation"
