"""An invented card on which everything stands that can stand on one, and what is said of it."""

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta, timezone
from functools import lru_cache

from desktop.core.rules.rule import Severity
from desktop.core.rules.rulebook import SaidFinding
from desktop.core.shop.cards.task_card import Box, BoxKind, Step, TaskCard, steps_for
from desktop.core.shop.orders.card_facts import facts_of
from desktop.core.shop.orders.order_card import DataConfirmed, OrderCard, ReadingTaken, Remark, StepDone, finding_key
from desktop.core.shop.orders.order_states import OrderState
from desktop.core.shop.orders.safe_state import SafeItem, with_state
from desktop.core.shop.people.people import Person, Right
from desktop.core.shop.sheets.sheet_pin import SheetPin
from desktop.core.shop.stamp import Stamp
from desktop.core.shop.tools import Care, Tool
from desktop.core.timing.typed_card import TypedCard, TypedMagnetos
from desktop.usecases.fill_card import CardState, look_at
from desktop.usecases.records.sections.card_sections import CardToSay
from desktop.usecases.records.sections.names import Names
from tests.core.records.entry.entry_orders import ORDER, SOUND
from tests.door import RULEBOOK

ZONE = timezone(timedelta(hours=2))
NAMES = Names(
    (
        Person("MC", "Mel Chan", (Right.MECHANIC,), date(2030, 1, 1)),
        Person("HE", "Hal Elpman", (Right.HELPER,), date(2030, 1, 1), supervisor="MC"),
    ),
    (
        Tool("L-1", "timing light", Care.CHECKED),
        Tool("W-3", "torque wrench", Care.CALIBRATED, date(2031, 12, 31), serial="WS-55"),
    ),
)


def by(person: str, minute: int, under: str = "") -> Stamp:
    """Return a stamp of one morning."""
    return Stamp(person, datetime(2031, 3, 4, 9, minute, 7, tzinfo=ZONE), under)


STEPS = (
    Step(
        "gap-set",
        (),
        (
            Box(BoxKind.WARNING, "live-propeller", "Stay out of its arc. A blade that kicks can kill."),
            Box(BoxKind.CAUTION, "bent-cam", "Do not pry. The cam bends."),
            Box(BoxKind.NOTE, "good-light", "A lamp helps."),
        ),
        "Measure the contact gap.",
        "With a clean feeler.",
        "reading",
        initials=True,
        inspector=True,
        board="magneto loose",
        choices=("new points", "old points"),
        unit="in",
        limit="contact gap",
        side="left",
        second=True,
        may_skip=True,
    ),
    Step("tool-count", (), (), "Count the tools.", "", "tool", initials=True, inspector=False),
    Step("look-round", (), (), "Look round once more.", "", "confirm", initials=True, inspector=False),
    Step("cowl", (), (), "Close the cowling.", "", "confirm", initials=False, inspector=False),
    Step(
        "gear",
        ("geared",),
        (Box(BoxKind.NOTE, "gear-ratio", "Not shown."),),
        "Turn the propeller twice.",
        "Not shown either.",
        "confirm",
        initials=True,
        inspector=False,
    ),
)
TASK = TaskCard("T-77", 12, "Trial of the gap", "WARNING: injury or death.", "On the bench only.", STEPS)


def whole_readings() -> TypedCard:
    """Return the sample with every field filled that fits beside the others."""
    assert SOUND.engine
    assert SOUND.measure
    assert SOUND.left
    assert SOUND.limits
    assert SOUND.torque
    return replace(
        SOUND,
        engine=replace(
            SOUND.engine,
            reference=1,
            propeller_turns_per_crank_turn="1",
            propeller_rotation="clockwise",
            stroke_mm="98.4",
            rod_mm="160.3",
        ),
        limits=replace(SOUND.limits, decision="simple"),
        measure=replace(SOUND.measure, centre_by_feel="2.75", radius_mm="101", centring_mm="0.31"),
        magnetos=TypedMagnetos(one_housing=False),
        left=replace(SOUND.left, back_off_least="6.5", back_off_most="60.25", impulse_lag_in="magneto"),
        torque=(replace(SOUND.torque[0], angle="12.5"),),
    )


FINDINGS = (
    SaidFinding("gap-outside", Severity.STOPS, "@step.gap-set", "The gap is outside.", "Maker's data."),
    SaidFinding("under-twice", Severity.EXPLAIN, "left.approach[2]", "It clears the play by little.", "Practice 12."),
    SaidFinding("probability", Severity.NOTE, "left", "Sure enough.", "JCGM 106."),
)
CARD = OrderCard(
    number=3,
    task=TASK,
    issued=by("DE", 1),
    readings=whole_readings(),
    state=OrderState.IN_WORK,
    mechanic="MC",
    taken=(
        ReadingTaken("left.approach[2].light", by("HE", 11, "MC"), "L-1"),
        ReadingTaken("run_up.both_rpm", by("MC", 12)),
        ReadingTaken("right.approach[9].light", by("MC", 13), "L-9"),
    ),
    steps=(
        StepDone("gap-set", by("MC", 21), "0.018\nmeasured twice", ("F-2", "W-3")),
        StepDone("tool-count", by("MC", 22), "no tools were out", skipped=True),
        StepDone("gone-step", by("MC", 23), "from a card of before"),
    ),
    remarks=(
        Remark("The lamp was weak <b>at first</b>.", by("MC", 31)),
        Remark("The play is that of an old gear.", by("MC", 32), finding_key("under-twice", "left.approach[2]")),
    ),
    job="periodic-check",
    sheets=(SheetPin("ES-5", 4, "ab" * 32, "engine"), SheetPin("MS-6", 2, "cd" * 32, "left")),
    data_confirmed=DataConfirmed(("Engine manual EM-1, revision 9", "Magneto manual MM-7, revision 3"), by("DE", 2)),
    earlier=(StepDone("gap-set", by("XY", 19), "0.025", ("F-8",)), StepDone("never-there", by("MC", 20))),
)
BOARD = with_state(
    ORDER.board, SafeItem.PLUG_LEADS, Stamp("MC", datetime(2031, 3, 4, 6, 2, tzinfo=UTC)), is_normal=False
)


@lru_cache
def _state(readings: TypedCard) -> CardState:
    return look_at(readings, RULEBOOK)


def said(card: OrderCard = CARD, findings: tuple[SaidFinding, ...] = FINDINGS) -> CardToSay:
    """Return what is said of a card."""
    state = _state(card.readings)
    facts = facts_of(state.checked.worked.card) if state.checked else frozenset[str]()
    return CardToSay(
        order=replace(ORDER, board=BOARD),
        card=card,
        state=state,
        steps=steps_for(card.task, facts),
        findings=findings,
        names=NAMES,
        limits=(("gap-set", "0.016 to 0.020 in"),),
        sheets=("Fourbanger 360: sheet ES-5, revision 4",),
    )
