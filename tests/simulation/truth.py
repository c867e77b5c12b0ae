"""What the program said, held against what is true of the simulated engine, to the resolution of the scale."""

from fractions import Fraction
from typing import Any

from tests.door import check
from tests.simulation.disc import apart
from tests.simulation.job import FINE, Job
from tests.simulation.mechanic import Mechanic
from tests.simulation.paper import place_said

Said = dict[str, Any]
PRINTED = Fraction(1, 10_000)  # angles are printed to 4 decimals


def number(said: object) -> Fraction:
    """A number as the program printed it."""
    assert isinstance(said, (int, float)), f"no number was given: {said!r}"
    assert not isinstance(said, bool)
    return Fraction(str(said))


def assert_near(said: object, true: Fraction, within: Fraction) -> None:
    """The number said lies within `within` of the truth."""
    off = abs(number(said) - true)
    assert off <= within + PRINTED, f"said {said}, true {float(true)}: {float(off)} out, allowed {float(within)}"


def assert_same_place(said: object, true: Fraction, within: Fraction) -> None:
    """The place on the disc said lies within `within` disc degrees of the true one, round the circle."""
    off = apart(place_said(said), true)
    assert off <= within + PRINTED, f"said {said}, true {float(true)}: {float(off)} out, allowed {float(within)}"


def assert_tdc_recovered(said: Said, job: Job) -> None:
    """Arc, half arc, the two settings and the reading at TDC (on the disc as it stood at first) are the true ones."""
    tdc, read_to = said["tdc"], job.engine.disc.read_to
    if job.by == "marks":
        assert set(tdc.values()) == {None}
        return
    assert_near(tdc["arc"], 2 * job.half_arc, job.line)
    assert_near(tdc["half_arc"], job.half_arc, job.line / 2)
    assert_same_place(tdc["reading"], job.engine.disc.at_tdc, read_to / 2)
    on_with, on_against = -job.half_arc, job.half_arc - 360
    assert_same_place(tdc["disc_setting_with"], job.sign * job.turns * on_with, read_to / 2)
    assert_same_place(tdc["disc_setting_against"], job.sign * job.turns * on_against, read_to / 2)


def assert_timing_recovered(said: Said, job: Job, side: str) -> None:
    """BTDC value, deviation, target, verdict and housing of one magneto are the true ones."""
    told, magneto = said[side], job.engine.magnetos[side]
    assert_near(told["btdc"], magneto.true_btdc, job.resolution)
    assert_near(told["deviation"], job.deviation(side), job.resolution)
    verdict = job.verdict(side)
    if verdict is None:
        assert told["verdict"] in {"advanced", "retarded", "within"}
    else:
        assert told["verdict"] == verdict
    assert_near(told["housing"]["turn"], abs(job.deviation(side)) * magneto.ratio, job.resolution * magneto.ratio)
    assert told["housing"]["seen_from"] == job.sheets[side].seen_from


def assert_backlash_recovered(said: Said, job: Job, side: str) -> None:
    """The backlash is the true play, to one line: two readings of half a line."""
    assert_near(said[side]["backlash"], job.engine.magnetos[side].play, job.line + FINE)


def assert_not_established(said: Said, side: str, *rules: str) -> None:
    """Nothing is said of that magneto's timing, somebody is stopped, and one of the rules is named at that side."""
    told = said[side]
    assert told["verdict"] == "not established"
    silent = [told["btdc"], told["deviation"], told["u"], told["p_within"], told["mesh"]]
    silent += [told["housing"][key] for key in ("turn", "direction", "slot_mm")]
    assert silent == [None] * len(silent)
    assert said["nothing_stops"] is False
    assert stopped_by(said, side) & set(rules), f"stopped by {stopped_by(said, side)}, not by any of {rules}"


def stopped_by(said: Said, where: str = "") -> set[str]:
    """The rules of the findings that stop, at places that begin with `where`."""
    return {
        finding["rule"]
        for finding in said["findings"]
        if finding["severity"] == "stops" and finding["where"].startswith(where)
    }


def rules_of(said: Said, where: str = "") -> set[str]:
    """The rules of all findings at places that begin with `where`."""
    return {finding["rule"] for finding in said["findings"] if finding["where"].startswith(where)}


def find_centre(mechanic: Mechanic, *, pairs: int = 1, closing: bool = True) -> bool:
    """Take pairs of stop contacts as the disc stands, set it to zero if the job is so, and take the closing pair.

    False when the program gave no setting for the zero, so that the work ends there.
    """
    job = mechanic.job
    if job.by == "marks":
        return True
    if job.turns != 1:
        mechanic.feel_for_centre()
    for _ in range(pairs):
        mechanic.take_pair()
    if job.zeroed:
        tdc = check(mechanic.toml())["tdc"]
        if tdc["arc"] is None:
            return False
        mechanic.set_disc(tdc)
    if closing:
        mechanic.take_pair(after_zeroing=job.zeroed)
    return True


def approach_rightly(mechanic: Mechanic, side: str, when: str = "as left") -> None:
    """One approach the right way for the drive that the magneto has."""
    if mechanic.job.sheets[side].lag is None:
        mechanic.approach(side, when)
    else:
        mechanic.approach_past_the_click(side, when)


def measured(job: Job, *, pairs: int = 1, closing: bool = True) -> Mechanic:
    """A mechanic who has done the whole job the right way, with one approach for each magneto."""
    mechanic = Mechanic(job)
    assert find_centre(mechanic, pairs=pairs, closing=closing)
    for side in job.sheets:
        approach_rightly(mechanic, side)
    return mechanic
