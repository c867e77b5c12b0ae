"""Hazards of the trade beside those of `cautions.py`: what can go wrong at which step of which card, and who says so.

A step is named by its card and its id, without the side that ends it. Sources are named where one was read; "common
practice, no source" is what mechanics say and no text was seen for.
"""

from dataclasses import dataclass

PRACTICE = "common practice, no source"
HANDBOOK = "FAA-H-8083-32B"


@dataclass(frozen=True, slots=True)
class Hazard:
    """A hazard: its box, words that its first box cannot do without, the steps before which it stands, its source."""

    hazard: str
    words: tuple[str, ...]
    before: tuple[str, ...]
    source: str = PRACTICE


HAZARDS = (
    # The engine is run.
    Hazard("start-fire", ("extinguisher",), ("R1 engine-warm", "R1 run-up-found", "R2 engine-warm", "R2 run-up")),
    Hazard("cold-engine", ("cold engine", "temperatures"), ("R1 engine-warm", "R1 run-up-found", "R2 run-up")),
    Hazard("long-on-one", ("no longer than",), ("R1 run-up-found",), f"{HANDBOOK} p. 10-27: a minute is not too much"),
    Hazard("leak-fire", ("hot exhaust", "before the cowling is closed"), ("R2 leaks-seen", "R2 cowling-closed")),
    Hazard("cowling-loose", ("opens in flight",), ("R2 cowling-closed", "R2 cowling-seen")),
    Hazard("cooling", ("overheats", "baffles"), ("C1 cowling-on",)),
    Hazard("left-in-bay", ("rag or tool", "second pair of eyes"), ("C1 bay-seen", "C1 cowling-on")),
    # The ignition made safe, and left so.
    Hazard("tag", ("turn the propeller", "leave the tag"), ("S1 propeller-tagged", "T2 position-kept")),
    Hazard(
        "lead-breaks",
        ("chafes", "live at off"),
        ("G1 lead-routed", "G1 lead-terminal", "G1 both-leads-off"),
        f"{HANDBOOK} p. 4-31: an open grounding lead",
    ),
    Hazard("stray-strand", ("strand", "grounds the magneto in flight"), ("G1 lead-terminal",)),
    Hazard("start-turns", ("start turns the propeller",), ("G1 at-start",)),
    Hazard("start-kick", ("kicks back",), ("G1 at-start",), f"{HANDBOOK} pp. 4-21 to 4-24: the other one is grounded"),
    Hazard(
        "worn-switch",
        ("beside off", "live"),
        ("G1 key-held",),
        "An earlier FAA handbook, General, ch. 11 p. 11-14: a faulty switch at OFF",
    ),
    Hazard("leads-swapped", ("swapped", "follow each to its side"), ("G1 both-leads-on",)),
    # Timing to the engine.
    Hazard("as-found-first", ("once a nut is loose", "lost"), ("T3 nothing-loose", "T3 as-found-left")),
    Hazard(
        "approach-with-rotation",
        ("against rotation", "backlash"),
        (
            *("T4 as-found-left", "T4 setting-left", "T4 as-left-left", "T4 setting-right", "T4 as-left-right"),
            *("T3 as-found-left", "T3 as-found-right", "T2 firing-position"),
        ),
        f"{HANDBOOK} pp. 4-27, 4-30: stopped in the direction of rotation",
    ),
    Hazard(
        "wrong-mark",
        ("one of them is tdc", "only the mark that the data name"),
        ("T2 mark-named", "T3 mark-named", "T4 mark-named", "T5 mark-named"),
        f"{HANDBOOK} p. 4-26",
    ),
    Hazard(
        "exhaust-stroke",
        ("exhaust stroke too", "prove compression"),
        ("T2 position-seen", "I1 crank-stands", "I1 mesh"),
        f"{HANDBOOK} pp. 4-26, 4-30: on the compression stroke",
    ),
    Hazard(
        "staggered",
        ("staggered", "its own position"),
        ("T5 stagger-named", "T5 synchronisation"),
        f"{HANDBOOK} p. 4-30",
    ),
    # The magneto comes off and goes on.
    Hazard("wrong-magneto", ("wrong hand or lag",), ("S1 plate-read", "B1 plate-fits", "I1 part-on", "I1 mesh")),
    Hazard("mixed-up", ("two engines", "serial number"), ("B2 tag-read", "B1 tag-read")),
    Hazard("drive-parts-fall", ("drops into the engine", "hold the drive"), ("B1 magneto-off",)),
    Hazard("open-engine", ("open engine",), ("B1 opening-covered", "I1 pad-clean", "I1 mesh")),
    Hazard("gasket", ("used or doubled", "leaks"), ("I1 gasket",)),
    Hazard("missing-cushion", ("missing", "count them"), ("B2 cushions", "I1 drive-whole", "I1 mesh")),
    Hazard("forced-mesh", ("by its nuts", "by hand"), ("I1 mesh", "I1 tighten")),
    Hazard("clamp-seat", ("on its edge", "seat"), ("I1 clamps-seated", "I1 tighten")),
    # The bench.
    Hazard(
        "bench-spark",
        ("full voltage", "fingers off the towers"),
        ("B1 opened", "B1 neutral", "B1 e-gap", "B1 distributor", "B2 coupling-snaps", "B2 coupling-lag", "I1 mesh"),
        f"{HANDBOOK} p. 4-6: often as much as 20,000 V",
    ),
    Hazard(
        "spark-vapour",
        ("vapour", "fuel"),
        ("B1 opened", "B1 e-gap", "B2 coupling-snaps", "B2 coupling-lag", "H1 leads-tested"),
    ),
    Hazard("weak-magnet", ("rotor out of its case", "keeper"), ("B1 opened",)),
    Hazard("points-spread", ("spread too far",), ("B1 points-seen", "B1 contact-gap"), f"{HANDBOOK} p. 4-39: 1/16 in"),
    Hazard("wrong-hand", ("other hand of rotation",), ("B1 e-gap", "B1 distributor", "I1 rotor-at-mark", "I1 mesh")),
    Hazard("oil-on-points", ("oil or grit on the points",), ("B1 contact-gap",), f"{HANDBOOK} p. 4-39: blot the oil"),
    Hazard("retard-early", ("against the starter",), ("B1 retard-breaker",)),
    Hazard(
        "distributor-out",
        ("tooth out", "marks of the hand"),
        ("B1 distributor", "B1 inside-seen"),
        f"{HANDBOOK} p. 4-26: the finger at No. 1",
    ),
    Hazard("left-inside", ("left inside", "count"), ("B1 inside-seen", "B1 bench-pin-out")),
    # The coupling and the drive.
    Hazard("wound-spring", ("spring", "eye protection"), ("B2 coupling-seen", "B2 coupling-snaps")),
    Hazard("worn-pawls", ("worn pawl", "replace"), ("B2 coupling-seen",)),
    Hazard("loose-rivet", ("rivet", "into the engine"), ("B2 rivets-seen",)),
    Hazard(
        "wrong-lag",
        ("too little lag", "plate and the sheet"),
        ("B2 coupling-lag",),
        f"{HANDBOOK} pp. 4-20, 4-21: retarded to about TDC",
    ),
    Hazard("drive-slip", ("moves on its shaft", "sheared key"), ("B2 drive-gear",)),
    Hazard("used-lock", ("cotter pin", "new one each time"), ("B2 drive-nut-locked",)),
    Hazard("oil-in-magneto", ("passes the seal",), ("B2 shaft-seal",)),
    # Harness and plugs.
    Hazard("carbon-track", ("insulator", "bare fingers"), ("H1 leads-seen",)),
    Hazard("tester-voltage", ("thousands of volts",), ("H1 leads-tested", "P1 plugs-tested")),
    Hazard("lead-heat", ("exhaust or a control",), ("H1 leads-clamped",)),
    Hazard("hot-threads", ("hot head", "cool first"), ("P1 plugs-laid-out",)),
    Hazard("lead-nut-twist", ("second wrench",), ("P1 plugs-laid-out",)),
    Hazard("cracked-insulator", ("cracked insulator", "throw it away"), ("P1 plugs-seen", "P1 plugs-in")),
    Hazard("blast-eyes", ("eye protection", "poisonous"), ("P1 plugs-cleaned",)),
    Hazard("grit-left", ("grit", "blow it out"), ("P1 plugs-cleaned", "P1 plugs-in")),
    Hazard("gap-tool", ("centre electrode", "ground electrode only"), ("P1 plug-gap",)),
    Hazard("wrong-plug", ("heat range", "data name"), ("P1 plug-part", "P1 plugs-in")),
    Hazard("dropped-plug", ("dropped", "throw it away"), ("P1 plug-part", "P1 plugs-in"), f"{HANDBOOK} p. 4-38"),
    Hazard("compound", ("compound", "maker's data"), ("P1 gaskets",), f"{HANDBOOK} pp. 4-35 and 4-38, which differ"),
    Hazard("cross-thread", ("by hand to its seat",), ("P1 gaskets", "P1 plugs-in"), f"{HANDBOOK} p. 4-38"),
)
