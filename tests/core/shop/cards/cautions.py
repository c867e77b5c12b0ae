"""The cautions that the card must carry, as data: kind, words, the steps that each precedes, the jobs that need it."""

from dataclasses import dataclass

from desktop.core.shop.cards.task_card import BoxKind

FIRST_TURN = ("radial-cleared", "compression")
APPROACHES = (
    "as-found-left",
    "as-found-right",
    "setting-left",
    "setting-right",
    "setting-right-housing",
    "as-left-left",
    "as-left-right",
    "synchronisation",
)
WARNING, CAUTION, NOTE = BoxKind.WARNING, BoxKind.CAUTION, BoxKind.NOTE


@dataclass(frozen=True, slots=True)
class Required:
    """A caution: its box, the words that it must have, the steps that it must precede, and the jobs that need it."""

    says: str
    hazard: str
    kind: BoxKind
    words: tuple[str, ...]
    before: tuple[str, ...]
    only: tuple[str, ...] = ()


CAUTIONS = (
    Required(
        "on a twin the other engine may be live",
        "wrong-engine",
        WARNING,
        ("other engine of a twin", "read the placard", "before anything is touched"),
        ("data-current", "board-safe", "switch-off"),
        ("twin",),
    ),
    Required(
        "where the data limit turning back, the limit counts and not the back-off",
        "back-limit",
        CAUTION,
        ("limit how far", "never reach past it for the back-off"),
        ("back-short", "back-off"),
        ("back limited", "not back forbidden"),
    ),
    Required(
        "two leads that are crossed fire the wrong cylinders",
        "crossed-leads",
        CAUTION,
        ("crossed", "wrong cylinders"),
        ("leads-traced",),
    ),
    Required(
        "every propeller is live, whatever the switch says",
        "live-propeller",
        WARNING,
        ("every propeller is live", "whatever the switch says"),
        ("key-given", "starter-disabled", "leads-off", "plugs-out", *FIRST_TURN),
    ),
    Required(
        "a disconnected grounding lead makes the magneto live",
        "ground-lead-off",
        WARNING,
        ("grounding lead", "live", "kill"),
        ("light-on", "off-proved-first", *FIRST_TURN, "light-off", "ground-leads-tight", "leads-on"),
    ),
    Required(
        "nobody and nothing in the arc",
        "arc-clear",
        WARNING,
        ("arc", "people", "stands", "tools"),
        FIRST_TURN,
    ),
    Required(
        "switch off, key out, battery off, starter disabled, fuel off, chocks, a second person",
        "safe-state",
        WARNING,
        (
            "switch off",
            "key out",
            "battery off",
            "starter disabled",
            "fuel off",
            "wheels chocked",
            "a second person",
        ),
        ("switch-off", "key-given", "battery-off", "fuel-off", "wheels-chocked", "starter-disabled"),
    ),
    Required(
        "all plug leads off, ends secured away from plug holes and hands, a plug out of every cylinder before turning",
        "plug-leads",
        WARNING,
        ("all leads off", "secure their ends away from plug holes and hands", "out of every cylinder before anything"),
        ("leads-off", "plugs-out", *FIRST_TURN),
    ),
    Required(
        "the light needs BOTH, separate switches both ON; BOTH for the last approach only, OFF after every reading",
        "light-at-both",
        WARNING,
        ("both", "last approach only", "off after"),
        APPROACHES,
    ),
    Required(
        "pass the snap with the switch at OFF",
        "snap-live",
        WARNING,
        ("pass every snap with the switch at off",),
        ("snap-passed", "as-found-left", "as-found-right"),
        ("impulse",),
    ),
    Required(
        "proof by lamp or meter that OFF grounds each side before anybody touches the blade",
        "off-not-proved",
        WARNING,
        ("by lamp or meter", "off grounds each side", "before anybody touches the blade"),
        ("off-proved-first", *FIRST_TURN, "off-proved", "closing-down", "off-proved-again", "leads-on"),
    ),
    Required(
        "rotor-lock or timing pin out before the crankshaft moves",
        "rotor-pin",
        CAUTION,
        ("pin", "before the crankshaft moves"),
        ("pins-out", *FIRST_TURN),
    ),
    Required(
        "never the starter with pin or stop fitted",
        "starter-with-stop",
        CAUTION,
        ("starter", "stop or a pin", "never"),
        ("stop-in", "stop-pair", "closing-in", "closing-pair", "tools-counted", "starter-normal"),
    ),
    Required(
        "the piston meets the stop at the touch, by hand, never by the starter",
        "stop-fitted",
        CAUTION,
        ("by hand", "never by the starter", "at the touch"),
        ("stop-in", "stop-with", "stop-pair", "closing-in", "closing-with", "closing-pair"),
        ("not marks", "not back forbidden"),
    ),
    Required(
        "stop out before compression is proved or TDC is passed; thumb on the other plug hole",
        "stop-before-tdc",
        CAUTION,
        ("before compression is proved or tdc is passed", "thumb on the other plug hole"),
        ("stop-out", "compression-again"),
        ("not marks", "not back forbidden"),
    ),
    Required(
        "a radial may be full of oil",
        "hydraulic-lock",
        CAUTION,
        ("radial", "full of oil", "plugs out of the low cylinders", "drain"),
        ("plugs-out", *FIRST_TURN),
        ("not opposed",),
    ),
    Required(
        "oil in a low cylinder: until proved clear never against rotation",
        "oil-in-cylinder",
        CAUTION,
        ("low cylinder", "proved clear", "never turn against rotation"),
        (*FIRST_TURN, "stop-down", "back-short", "back-off"),
        ("not opposed",),
    ),
    Required(
        "on a geared propeller the zero holds one crankshaft turn",
        "geared-zero",
        CAUTION,
        ("geared propeller", "zero", "one turn of the crankshaft"),
        ("compression-again", "as-found-left", "as-found-right"),
        ("geared",),
    ),
    Required(
        "run-up with the area clear, brakes, chocks",
        "run-up-area",
        WARNING,
        ("area clear", "brakes set", "wheels chocked"),
        ("run-up", "switch-check"),
    ),
    Required(
        "what to do when a magneto does not cut",
        "does-not-cut",
        WARNING,
        ("does not cut", "not grounded", "stop the engine with the fuel", "off the propeller", "repair the grounding"),
        ("run-up", "switch-check"),
    ),
    Required(
        "an engine relit too late backfires",
        "late-relight",
        CAUTION,
        ("relit too late", "back to both", "200 to 300 rpm"),
        ("switch-check",),
    ),
    Required(
        "after the run-up the propeller is live and the exhaust hot",
        "hot-engine",
        WARNING,
        ("propeller is live", "exhaust hot", "key out", "fuel off", "out of the arc"),
        ("security",),
    ),
    Required(
        "with leads and plugs on, nobody moves the propeller",
        "leads-on-live",
        WARNING,
        ("leads and plugs on", "nobody move the propeller"),
        ("leads-on",),
    ),
    Required(
        "an extension can change the torque at the nut",
        "extension",
        CAUTION,
        ("can change the torque", "worked out for it"),
        ("torque-set", "torque-set-right", "tighten-left", "tighten-right", "tighten-housing"),
        ("torque",),
    ),
    Required(
        "where the sheet gives no limits for the drop, the data name them",
        "drop-limits",
        NOTE,
        ("no limits", "data of the engine"),
        ("run-up",),
        ("not run-up", "not run-up elsewhere"),
    ),
    Required(
        "where turning back is forbidden, the approach of the data applies",
        "no-back-approach",
        NOTE,
        ("forbid turning back", "data describe", "backlash then stays unmeasured"),
        ("back-short", "coupling-by-data"),
        ("impulse", "not back allowed"),
    ),
    Required(
        "one approach serves both lamps only when both openings are read in it",
        "one-approach",
        NOTE,
        ("only when both openings are read", "before anything is turned back"),
        ("as-found-left", "again-right"),
        ("both",),
    ),
    Required(
        "no snap at all is a finding of the coupling",
        "no-snap",
        NOTE,
        ("no snap", "finding", "coupling"),
        ("snap-passed",),
        ("impulse",),
    ),
    Required(
        "other cylinders snap too: a snap does not prove No. 1",
        "other-snaps",
        NOTE,
        ("other cylinders", "does not prove"),
        ("snap-passed",),
        ("impulse",),
    ),
    Required(
        "a light that comes with a snap is void",
        "snap-with-light",
        NOTE,
        ("with a snap", "void"),
        ("as-left-left", "as-left-right"),
        ("impulse",),
    ),
    Required(
        "turning against rotation only where the data allow it",
        "against-rotation",
        CAUTION,
        ("starter drive", "pump vanes", "only where the data allow it"),
        ("centre-by-feel", "stop-down", "back-short", "back-off", "no-contacts", "coupling-by-data", "forward-start"),
    ),
)
