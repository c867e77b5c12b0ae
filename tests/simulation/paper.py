"""How the simulated mechanic writes: the tables of the readings file, and what the program's words mean at the disc."""

from fractions import Fraction

from tests.simulation.disc import written
from tests.simulation.job import Job

Table = dict[str, object]


def engine_table(job: Job) -> Table:
    """The engine's part of the readings file; the propeller only where it is geared."""
    case = job.engine.case
    table: Table = {
        "cylinders": len(case.firing_order),
        "firing_order": list(case.firing_order),
        "rotation": case.rotation,
        "stroke_mm": written(case.stroke),
        "rod_mm": written(case.rod),
    }
    if case.propeller != 1:
        table["propeller_turns_per_crank_turn"] = f"{case.propeller.numerator}/{case.propeller.denominator}"
        table["propeller_rotation"] = "clockwise"
    return table


def limits_table(job: Job) -> Table:
    """Nominal figures and limits."""
    limits: Table = {f"{side}_btdc": written(sheet.nominal) for side, sheet in job.sheets.items()}
    return limits | {
        "advanced_most": written(job.advanced_most),
        "retarded_most": written(job.retarded_most),
        "apart_most": written(job.apart_most),
    }


def measure_table(job: Job, centre: str | None) -> Table:
    """The way of measuring, with the centre by feel where one was read."""
    disc = job.engine.disc
    table: Table = {"by": job.by, "read_to": written(disc.read_to)}
    if job.by == "marks":
        return table
    table |= {"marking": disc.marking, "on": job.on, "zeroed": job.zeroed}
    if disc.marking == "full":
        table["counts"] = "up" if disc.sign > 0 else "down"
    return table if centre is None else table | {"centre_by_feel": centre}


def head_of_card(job: Job, centre: str | None) -> Table:
    """Everything that is not a reading taken with the stop or the light."""
    return {
        "format": 1,
        "engine": engine_table(job),
        "limits": limits_table(job),
        "measure": measure_table(job, centre),
    }


def magneto_table(job: Job, side: str) -> Table:
    """The data of one magneto, without its approaches."""
    magneto, sheet = job.engine.magnetos[side], job.sheets[side]
    table: Table = {"rotation": magneto.hand, "poles": magneto.poles, "seen_from": sheet.seen_from}
    if sheet.lag is not None:
        table |= {"impulse_lag": written(sheet.lag), "impulse_lag_in": sheet.lag_in}
    if sheet.gear_teeth is not None:
        table["drive_gear_teeth"] = sheet.gear_teeth
    if sheet.slot_degrees is not None:
        table["slot_degrees"] = written(sheet.slot_degrees)
    if sheet.e_gap is not None:
        table["e_gap"] = written(sheet.e_gap)
    return table


def place_said(said: object) -> Fraction:
    """A place on a disc as the program says it, a number or text with a side; before zero is negative."""
    number, _, side = str(said).partition(" ")
    return -Fraction(number) if side == "before" else Fraction(number)
