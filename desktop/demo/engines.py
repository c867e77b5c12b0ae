"""How the demo's engines are measured and run, by their type, and a usual plan for a job on one of them."""

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction

from desktop.core.timing.readings import Side
from desktop.demo.measuring import DISC, GAUGE, MARKS_FORWARD, SPLIT_DISC, Way, geared
from desktop.demo.plans import Plan, Stands

LIGHT, DISC_TOOL, GAUGE_TOOL, WRENCH, METER, TESTER = "L-1", "D-1", "A-1", "W-3", "M-2", "H-1"


@dataclass(frozen=True, slots=True)
class Usual:
    """How an engine is measured, with what, and its run-up on BOTH, L and R."""

    way: Way
    tool: str
    run_up: tuple[str, str, str]


USUAL: Mapping[str, Usual] = {
    "Marrow Six": Usual(DISC, DISC_TOOL, ("1700", "1640", "1630")),
    "Marrow Four": Usual(SPLIT_DISC, DISC_TOOL, ("1800", "1730", "1720")),
    "Marrow Six G": Usual(geared(GAUGE, Fraction(2, 3)), GAUGE_TOOL, ("2000", "1930", "1920")),
    "Bracken Seven": Usual(MARKS_FORWARD, "", ("1600", "1530", "1540")),
}


def usual_plan(
    engine: str,
    hands: str,
    second: str,
    left: tuple[str, str] = ("0", "0"),
    right: tuple[str, str] = ("0", "0"),
) -> Plan:
    """Return a plan for an engine: who works, and each magneto as found and as left, positive advanced."""
    usual = USUAL[engine]
    tools = (LIGHT, *((usual.tool,) if usual.tool else ()), WRENCH, METER, TESTER)
    stands = {
        side: Stands(Fraction(found), Fraction(after))
        for side, (found, after) in ((Side.LEFT, left), (Side.RIGHT, right))
    }
    return Plan(hands, second, usual.way, stands, tools, run_up=usual.run_up, run_up_found=usual.run_up)
