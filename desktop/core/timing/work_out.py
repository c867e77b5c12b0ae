"""Ties the small modules together: a card in, everything that follows from it out. Pure and exact."""

from dataclasses import replace
from fractions import Fraction

from desktop.core.timing import drive, surety
from desktop.core.timing.approach import Judged, judge_all
from desktop.core.timing.firing_order import firing_table
from desktop.core.timing.measuring import Scale, is_measured_with_stop, scale_of
from desktop.core.timing.mistakes import known_mistakes
from desktop.core.timing.readings import Card, Decision, Limits, Magneto, When
from desktop.core.timing.results import MagnetoResult, Sync, SyncVerdict, Timing, Verdict, Worked
from desktop.core.timing.run_up import drops
from desktop.core.timing.tdc import TdcFinding, find_tdc
from desktop.core.timing.torque import set_torque


def work_out(card: Card) -> Worked:
    """Work out TDC, both timings, their difference, the firing table, the run-up and the torques of a card."""
    tdc = find_tdc(card)
    scale = scale_of(card, tdc.tdc.reading if tdc.tdc else None)
    left = _magneto(card, card.left, tdc, scale) if card.left else None
    right = _magneto(card, card.right, tdc, scale) if card.right else None
    sync = None
    if left and right:
        sync = _sync(card.limits, left, right)
        if card.one_housing:
            left, right = _in_one_housing(left, right)
    return Worked(
        card=card,
        scale=scale,
        tdc=tdc,
        left=left,
        right=right,
        sync=sync,
        firing=firing_table(card.engine),
        run_up=drops(card.run_up) if card.run_up else None,
        torque=tuple(set_torque(job) for job in card.torque),
    )


def _magneto(card: Card, magneto: Magneto, tdc: TdcFinding, scale: Scale) -> MagnetoResult:
    ratio = drive.magneto_ratio(card.engine, magneto)
    tdc_known = tdc.tdc is not None or not is_measured_with_stop(card)
    judged = judge_all(magneto, scale, tdc_known=tdc_known, disc_moved=tdc.disc_moved)
    as_left = [one for one in judged if one.approach.when is When.AS_LEFT]
    settings = [one for one in judged if one.approach.when is When.SETTING]
    last = as_left[-1] if as_left else None
    last_setting = settings[-1].place if settings else 0
    setting_after = settings[-1] if last and last_setting > last.place else None
    repeats = [one.btdc for one in as_left if one.establishes and one.btdc is not None and one.place > last_setting]
    timing = None if last is None or setting_after else _timing(card, magneto, ratio, tdc, last, repeats)
    found = next((one for one in reversed(judged) if one.approach.when is When.AS_FOUND), None)
    return MagnetoResult(
        magneto=magneto,
        ratio=ratio,
        target=scale.reading_at(magneto.nominal),
        judged=judged,
        last=last,
        setting_after=setting_after,
        timing=timing,
        found=found,
        found_timing=_timing(card, magneto, ratio, tdc, found, []) if found else None,
        repeats=len(repeats),
        back_off=last.movement if last else None,
        backlash=next((one.backlash for one in reversed(as_left) if one.backlash is not None), None),
        housing=drive.housing(magneto, ratio, timing.deviation if timing else None),
        mesh=drive.mesh(magneto, ratio, timing.deviation) if timing else None,
        click=drive.click_btdc(magneto, ratio),
    )


def _timing(
    card: Card, magneto: Magneto, ratio: Fraction, tdc: TdcFinding, judged: Judged, repeats: list[Fraction]
) -> Timing | None:
    """Return what one approach establishes, None when it establishes nothing."""
    if not judged.establishes or judged.btdc is None:
        return None
    deviation = judged.btdc - magneto.nominal
    variance = surety.light_variance(card, repeats)
    if tdc.tdc:
        variance += tdc.tdc.variance + surety.off_centre_variance(card, tdc.tdc.arc, judged.btdc)
    return Timing(
        btdc=judged.btdc,
        deviation=deviation,
        verdict=_verdict(card.limits, deviation, variance),
        variance=variance,
        probability_within=surety.probability_within(card.limits, deviation, variance),
        mistakes=known_mistakes(magneto, ratio, deviation),
    )


def _verdict(limits: Limits, deviation: Fraction, variance: Fraction) -> Verdict:
    if deviation > limits.advanced_most:
        return Verdict.ADVANCED
    if deviation < -limits.retarded_most:
        return Verdict.RETARDED
    if limits.decision is Decision.GUARDED and not surety.is_inside_by(limits, deviation, variance):
        return Verdict.TOO_CLOSE
    return Verdict.WITHIN


def _sync(limits: Limits, left: MagnetoResult, right: MagnetoResult) -> Sync:
    established = left.timing is not None and right.timing is not None
    difference = left.timing.deviation - right.timing.deviation if left.timing and right.timing else None
    if limits.apart_most is None:
        return Sync(difference, None)
    if not established or difference is None:
        return Sync(None, SyncVerdict.NOT_ESTABLISHED)
    return Sync(difference, SyncVerdict.WITHIN if abs(difference) <= limits.apart_most else SyncVerdict.OUTSIDE)


def _in_one_housing(left: MagnetoResult, right: MagnetoResult) -> tuple[MagnetoResult, MagnetoResult]:
    """Leave the housing to the side whose points open first; its turn moves both."""
    if left.deviation is None and right.deviation is None:
        return left, right
    if right.deviation is None or (left.deviation is not None and left.deviation >= right.deviation):
        return left, replace(right, housing=None)
    return replace(left, housing=None), right
