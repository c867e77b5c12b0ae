"""How a shop works with the program: what its manual decides, and what its papers look like."""

from dataclasses import dataclass

from desktop.core.timing.faults import Fault

DECISIONS = ("simple", "guarded")
PAPERS = ("letter", "a4")
UNITS = ("inch-pound", "SI")
LEAST_LOCK, MOST_LOCK = 1, 120


@dataclass(frozen=True, slots=True)
class ShopSettings:
    """What a shop decided. ``decision`` is the rule for limits on new cards, ``idle_lock`` is in minutes (1 to 120).

    ``backup_place`` is a folder, empty for none. ``units`` are those in which lengths and torques are shown beside what
    was typed. ``second_person`` asks for somebody else where a card does; a shop of one person rechecks with a reason.
    """

    decision: str = "simple"
    second_person: bool = True
    paper: str = "letter"
    units: str = "inch-pound"
    backup_place: str = ""
    idle_lock: int = 5
    version: int = 0


def settings_faults(settings: ShopSettings) -> tuple[Fault, ...]:
    """Return what keeps settings from being kept, each at its field with a sentence that says what to do."""
    faults = (
        (settings.decision not in DECISIONS, "decision", "Choose simple or guarded."),
        (settings.paper not in PAPERS, "paper", "Choose letter or A4."),
        (settings.units not in UNITS, "units", "Choose inch-pound or SI."),
        (
            not LEAST_LOCK <= settings.idle_lock <= MOST_LOCK,
            "idle_lock",
            "Write the minutes after which the window locks, 1 to 120.",
        ),
    )
    return tuple(Fault(where, sentence) for is_so, where, sentence in faults if is_so)
