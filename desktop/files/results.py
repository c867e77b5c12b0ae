"""What was worked out, as one JSON object: angles rounded to 4 decimals, null where nothing is known."""

import json
import math
from collections.abc import Sequence
from fractions import Fraction
from typing import Any

from desktop.core.rules.rulebook import SaidFinding, nothing_stops
from desktop.core.timing.readings import Marking
from desktop.core.timing.results import MagnetoResult, Timing, Worked

PLACES = 4


def as_json(worked: Worked, findings: Sequence[SaidFinding]) -> str:
    """Write the whole result as JSON text."""
    return json.dumps(as_object(worked, findings), ensure_ascii=False, indent=1)


def as_object(worked: Worked, findings: Sequence[SaidFinding]) -> dict[str, Any]:
    """Return the whole result as plain lists, dictionaries, numbers and text."""
    return {
        "format": 1,
        "tdc": _tdc(worked),
        "left": _magneto(worked, worked.left),
        "right": _magneto(worked, worked.right),
        "sync": None
        if worked.sync is None
        else {"difference": _number(worked.sync.difference), "verdict": worked.sync.verdict},
        "firing": [
            {"cylinder": firing.cylinder, "electrode": firing.electrode, "crank": _number(firing.crank)}
            for firing in worked.firing
        ],
        "run_up": _run_up(worked),
        "torque": [
            {"what": job.what, "set": _number(value), "unit": job.unit}
            for job, value in zip(worked.card.torque, worked.torque, strict=True)
        ],
        "findings": [
            {
                "rule": finding.rule,
                "severity": finding.severity,
                "where": finding.where,
                "sentence": finding.sentence,
                "source": finding.source,
            }
            for finding in findings
        ],
        "nothing_stops": nothing_stops(findings),
    }


def _number(value: Fraction | float | None) -> float | int | None:
    if value is None:
        return None
    rounded = float(round(Fraction(value), PLACES))
    return int(rounded) if rounded.is_integer() else rounded


def _on_scale(worked: Worked, reading: Fraction | None) -> float | int | str | None:
    """Write a reading as its scale has it: a number from 0 to under 360, or text on a split scale."""
    if reading is None:
        return None
    written = worked.scale.written(reading)
    return written if worked.card.measure.marking is Marking.SPLIT else _number(Fraction(written))


def _tdc(worked: Worked) -> dict[str, Any]:
    tdc = worked.tdc.tdc
    if tdc is None:
        return dict.fromkeys(("arc", "half_arc", "disc_setting_against", "disc_setting_with", "reading", "u"))
    return {
        "arc": _number(tdc.arc),
        "half_arc": _number(tdc.arc / 2),
        "disc_setting_against": _on_scale(worked, tdc.setting_against),
        "disc_setting_with": _on_scale(worked, tdc.setting_with),
        "reading": _on_scale(worked, tdc.reading),
        "u": _number(math.sqrt(tdc.variance)),
    }


def _magneto(worked: Worked, result: MagnetoResult | None) -> dict[str, Any] | None:
    if result is None:
        return None
    timing = result.timing
    return {
        "target_reading": _on_scale(worked, result.target),
        "btdc": _number(timing.btdc) if timing else None,
        "deviation": _number(result.deviation),
        "verdict": result.verdict,
        "back_off": _number(result.back_off),
        "backlash": _number(result.backlash),
        "u": _number(math.sqrt(timing.variance)) if timing else None,
        "p_within": _number(timing.probability_within) if timing else None,
        "as_found": _as_found(result),
        "housing": _housing(result),
        "mesh": None
        if result.mesh is None
        else {"teeth": result.mesh.teeth, "left_to_turn": _number(result.mesh.left_to_turn)},
        "click_btdc": _number(result.click),
    }


def _as_found(result: MagnetoResult) -> dict[str, Any] | None:
    if result.found is None:
        return None
    timing: Timing | None = result.found_timing
    if timing is None:
        return {"btdc": None, "deviation": None, "verdict": "not established"}
    return {"btdc": _number(timing.btdc), "deviation": _number(timing.deviation), "verdict": timing.verdict}


def _housing(result: MagnetoResult) -> dict[str, Any] | None:
    housing = result.housing
    if housing is None:
        return None
    direction = "none" if housing.turn == 0 else housing.direction
    return {
        "turn": _number(housing.turn),
        "direction": direction,
        "seen_from": housing.seen_from,
        "slot_mm": _number(housing.slot_mm),
    }


def _run_up(worked: Worked) -> dict[str, Any] | None:
    drops = worked.run_up
    if drops is None:
        return None
    return {
        "left_drop": _number(drops.left_drop),
        "right_drop": _number(drops.right_drop),
        "difference": _number(drops.difference),
        "verdict": "within" if drops.is_within else "outside",
    }
