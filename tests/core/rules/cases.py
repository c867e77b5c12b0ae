"""A card of an order on which no rule about paperwork fires, and one change for each rule that makes it fire."""

from collections.abc import Callable
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

from desktop.core.rules.paperwork import CardInShop, OrderInShop
from desktop.core.shop.aircraft.directives import DirectiveSearch, Subject
from desktop.core.shop.aircraft.intake import Intake, Plate, TakenIn
from desktop.core.shop.aircraft.parts import Part, PartMoved, Way
from desktop.core.shop.cards.task_card import Step, TaskCard
from desktop.core.shop.orders.discrepancies import Discrepancy
from desktop.core.shop.orders.order import LeftOut, Passage, WorkOrder
from desktop.core.shop.orders.order_card import DataConfirmed, OrderCard, ReadingTaken, StepDone
from desktop.core.shop.orders.order_states import Move, OrderState
from desktop.core.shop.orders.safe_state import SafeItem, with_state
from desktop.core.shop.people.people import Person, Right
from desktop.core.shop.sheets.sheet_pin import SheetPin
from desktop.core.shop.sheets.sheet_set import SheetSet, sheet_set
from desktop.core.shop.stamp import Stamp
from desktop.core.shop.tools import Care, Tool
from desktop.core.timing.readings import Hand, Side
from desktop.core.timing.typed_card import TypedRunUp, TypedTorque
from desktop.files.readings import read_readings
from desktop.files.sheets import demo_sheets
from tests.core.shop.some_orders import EMPTY

START = datetime(2031, 3, 4, 9, 0, tzinfo=UTC)
TODAY = START.date()
READINGS = read_readings((Path(__file__).parents[2] / "samples" / "sound.toml").read_bytes())
SHEETS = {sheet.id: sheet for sheet in demo_sheets()}
SIX = sheet_set((("engine", SHEETS["marrow-six"]), ("left", SHEETS["ostrin-t2-l"]), ("right", SHEETS["ostrin-t2"])))
PLATES = (
    Plate(Side.LEFT, "T2-L", "7741", Hand.LEFT, "30"),
    Plate(Side.RIGHT, "T2", "7796", Hand.LEFT),
)


def at(minute: int, person: str = "LO") -> Stamp:
    """Return the stamp of somebody some minutes after the beginning."""
    return Stamp(person, START + timedelta(minutes=minute))


def step(name: str, capture: str = "confirm", **more: object) -> Step:
    """Return a step that asks for initials."""
    plain = Step(name, (), (), f"Do {name}.", "", capture, initials=True, inspector=False)
    return replace(plain, **more)  # type: ignore[arg-type]  # the fields of a step


STEPS = (
    step("tools", "tool"),
    step("compression", "compression"),
    step("found-left", "as found left"),
    step("loosen", board="magneto loose"),
    step("tighten-left", board="magneto tight", side="left"),
    step("left-again", "as left left"),
    step("right-again", "as left right"),
    step("gap", "reading", limit="plug gap", unit="in"),
    step("skipped", may_skip=True),
    step("traced", second=True),
)
TASK = TaskCard("T9", 1, "Time the trial magnetos", "As said.", "Everywhere.", STEPS)
DONE = tuple(
    {
        "tools": StepDone("tools", at(1), tools=("L-1", "W-3")),
        "gap": StepDone("gap", at(8), "0.018"),
        "skipped": StepDone("skipped", at(9), "no starter is fitted", skipped=True),
        "traced": StepDone("traced", at(10, "IN")),
    }.get(one.id, StepDone(one.id, at(place)))
    for place, one in enumerate(STEPS, 1)
)
TAKEN = (
    ReadingTaken("stop[1].with", at(1)),
    ReadingTaken("stop[1].against", at(1)),
    ReadingTaken("left.approach[1].light", at(3)),
    ReadingTaken("left.approach[2].light", at(7), "L-1"),
    ReadingTaken("right.approach[1].light", at(3)),
    ReadingTaken("right.approach[3].light", at(7)),
)
PEOPLE = (
    Person("LO", "Lena Ode", (Right.MECHANIC,), date(2030, 1, 1)),
    Person("IN", "Ines Ard", (Right.INSPECTOR,), date(2030, 1, 1)),
)
TOOLS = (Tool("L-1", "timing light", Care.CHECKED), Tool("W-3", "wrench", Care.CALIBRATED, date(2031, 12, 31)))
PINS = (SheetPin("marrow-six", 1, "0" * 64, "engine"),)


def readings_with_found() -> OrderCard:
    """Return the card with a timing as found on both sides, taken first."""
    left = READINGS.left
    assert left is not None
    assert left.approach is not None
    found = (replace(left.approach[0], when="as found"), left.approach[1])
    torque = (TypedTorque(what="clamp"), TypedTorque(what="nut"))
    readings = replace(READINGS, left=replace(left, approach=found), torque=torque)
    return OrderCard(
        1,
        TASK,
        at(0),
        readings,
        state=OrderState.IN_WORK,
        taken=TAKEN,
        steps=DONE,
        sheets=PINS,
        data_confirmed=DataConfirmed(("MM-6, revision 9",), at(0)),
    )


CARD = readings_with_found()
ORDER: WorkOrder = replace(
    EMPTY,
    taken_in=TakenIn(Intake(plates=PLATES), at(0)),
    cards=(CARD,),
    searches=(DirectiveSearch("the list of 1 March", (Subject.ENGINE, Subject.MAGNETO), at(0)),),
)
SOUND_CARD = CardInShop(ORDER, CARD, STEPS, PEOPLE, TOOLS, TODAY, SIX)
SOUND_ORDER = OrderInShop(replace(ORDER, cards=(replace(CARD, state=OrderState.ACCEPTED),)), PEOPLE, TODAY)


def with_card(**changes: object) -> CardInShop:
    """Return the sound card with other fields."""
    card = replace(CARD, **changes)  # type: ignore[arg-type]  # the fields of a card
    return replace(SOUND_CARD, card=card, order=replace(ORDER, cards=(card,)))


def with_done(name: str, done: StepDone | None) -> CardInShop:
    """Return the sound card with another confirmation of a step, or none."""
    others = tuple(one for one in CARD.steps if one.step != name)
    return with_card(steps=(*others, done) if done else others)


def with_order(**changes: object) -> OrderInShop:
    """Return the sound order with other fields."""
    return replace(SOUND_ORDER, order=replace(SOUND_ORDER.order, **changes))  # type: ignore[arg-type]


def _taken_at(path: str, minute: int, tool: str = "") -> CardInShop:
    others = tuple(one for one in TAKEN if one.path != path)
    return with_card(taken=(*others, ReadingTaken(path, at(minute), tool)))


def _without_left() -> CardInShop:
    return with_card(readings=replace(CARD.readings, left=None))


def _plates(*plates: Plate) -> CardInShop:
    order = replace(ORDER, taken_in=TakenIn(Intake(plates=plates), at(0)))
    return replace(SOUND_CARD, order=order)


def _install(*states: OrderState) -> CardInShop:
    card = replace(CARD, task=replace(TASK, id="I1"))
    bench = tuple(
        replace(CARD, number=number, task=replace(TASK, id="B1"), state=state) for number, state in enumerate(states, 2)
    )
    return replace(SOUND_CARD, card=card, order=replace(ORDER, cards=(card, *bench)))


def _accepted_by(person: str, reason: str = "") -> OrderInShop:
    return with_order(passages=(Passage(Move.ACCEPT, at(20, person), 1, reason),))


def _found_late() -> CardInShop:
    marks = tuple(replace(one, by=at(6)) if one.path == "left.approach[1].light" else one for one in TAKEN)
    return with_card(taken=marks)


def _not_found() -> CardInShop:
    left = CARD.readings.left
    assert left is not None
    assert left.approach is not None
    changed = (replace(left.approach[0], when="setting"), left.approach[1])
    return with_card(readings=replace(CARD.readings, left=replace(left, approach=changed)))


def _alone(seen: CardInShop) -> CardInShop:
    return replace(seen, people=PEOPLE[:1])


GAP = next(one for one in DONE if one.step == "gap")
WRONG_TOOL = Tool("W-9", "old wrench", Care.CALIBRATED, date(2031, 3, 3))
UNDATED = Tool("W-8", "wrench without a day", Care.CALIBRATED)

FIRES: tuple[tuple[str, str, Callable[[], CardInShop | OrderInShop], str], ...] = (
    ("step-skipped", "a step in the middle", lambda: with_done("compression", None), "@step.compression"),
    ("initials-missing", "the last step", lambda: with_done("traced", None), "@step.traced"),
    (
        "left-out-without-reason",
        "no sentence",
        lambda: with_done("skipped", StepDone("skipped", at(9), "n/a", skipped=True)),
        "@step.skipped",
    ),
    (
        "left-out-without-reason",
        "a step that must be done",
        lambda: with_done("compression", StepDone("compression", at(2), "there was no time", skipped=True)),
        "@step.compression",
    ),
    (
        "answer-stops",
        "a bad answer",
        lambda: replace(
            with_done("gap", replace(GAP, text="worn")),
            steps=tuple(
                replace(one, capture="choice", choices=("good", "worn"), stops=("worn",)) if one.id == "gap" else one
                for one in STEPS
            ),
        ),
        "@step.gap",
    ),
    ("reading-missing", "no number", lambda: with_done("gap", replace(GAP, text="fine")), "@step.gap"),
    ("reading-outside", "too wide", lambda: with_done("gap", replace(GAP, text="0.022")), "@step.gap"),
    (
        "reading-outside",
        "another unit",
        lambda: replace(
            SOUND_CARD, steps=tuple(replace(one, unit="mm" if one.id == "gap" else one.unit) for one in STEPS)
        ),
        "@step.gap",
    ),
    ("second-person-same", "the same hand", lambda: with_done("traced", StepDone("traced", at(10))), "@step.traced"),
    (
        "compression-not-proved",
        "before the contacts",
        lambda: with_card(taken=tuple(replace(one, by=at(5)) if "stop" in one.path else one for one in TAKEN)),
        "@step.compression",
    ),
    ("as-found-missing", "not taken", _not_found, "left.approach"),
    ("as-found-missing", "taken too late", _found_late, "left.approach"),
    (
        "not-checked-after-torque",
        "read before",
        lambda: _taken_at("left.approach[2].light", 4),
        "left.approach[2].light",
    ),
    ("internal-timing-first", "no bench card", _install, "card"),
    ("internal-timing-first", "bench card in work", lambda: _install(OrderState.IN_WORK), "card"),
    ("other-magneto", "not on the card", _without_left, "left"),
    (
        "tool-out-of-date",
        "a day late",
        lambda: replace(_taken_at("left.approach[2].light", 7, "W-9"), tools=(*TOOLS, WRONG_TOOL)),
        "left.approach[2].light",
    ),
    (
        "tool-out-of-date",
        "no day",
        lambda: replace(_taken_at("left.approach[2].light", 7, "W-8"), tools=(*TOOLS, UNDATED)),
        "left.approach[2].light",
    ),
    (
        "tool-not-checked",
        "not named at its step",
        lambda: with_done("tools", StepDone("tools", at(1), tools=("W-3",))),
        "left.approach[2].light",
    ),
    ("tools-not-named", "none named", lambda: with_done("tools", StepDone("tools", at(1))), "@step.tools"),
    (
        "torque-without-extension",
        "no entry",
        lambda: with_card(readings=replace(CARD.readings, torque=None)),
        "torque",
    ),
    (
        "sign-not-printable",
        "a sign",
        lambda: replace(SOUND_CARD, unprintable=(("remarks[1].text", "U+4E00"),)),
        "remarks[1].text",
    ),
    (
        "electronic-ignition",
        "on a plate",
        lambda: _plates(replace(PLATES[0], part_number="Electronic 4")),
        "left.part_number",
    ),
    ("plate-against-sheet", "the other hand", lambda: _plates(replace(PLATES[0], hand=Hand.RIGHT)), "left.hand"),
    ("plate-against-sheet", "another lag", lambda: _plates(replace(PLATES[0], lag="25")), "left.lag"),
    ("plate-against-sheet", "a coupling too many", lambda: _plates(replace(PLATES[1], lag="30")), "right.lag"),
    (
        "plate-against-sheet",
        "not eligible",
        lambda: _plates(replace(PLATES[1], part_number="T2-L")),
        "right.part_number",
    ),
    ("data-not-confirmed", "nobody", lambda: with_card(data_confirmed=None), "limits"),
    ("sheet-superseded", "a newer one", lambda: replace(SOUND_CARD, superseded=("MM-6, revision 10",)), "limits"),
    (
        "sheet-revised-since",
        "a newer one",
        lambda: replace(SOUND_CARD, revised_since=("MM-6, revision 10",)),
        "limits",
    ),
    ("no-limits-sheet", "typed", lambda: with_card(sheets=()), "limits"),
    ("directive-search-missing", "none", lambda: with_order(searches=()), "searches"),
    (
        "directive-search-missing",
        "engine only",
        lambda: with_order(searches=(DirectiveSearch("the list", (Subject.ENGINE,), at(0)),)),
        "searches",
    ),
    (
        "safe-state-not-normal",
        "plugs out",
        lambda: with_order(board=with_state(ORDER.board, SafeItem.PLUGS, at(0), is_normal=False)),
        "@safe.PLUGS",
    ),
    ("run-up-missing", "due", lambda: replace(SOUND_ORDER, run_up_due=True), "run_up"),
    (
        "part-without-papers",
        "on",
        lambda: with_order(parts=(PartMoved(Part(Way.ON, "GK-1"), at(0)),)),
        "parts[1]",
    ),
    ("own-work-inspected", "by who did it", lambda: _accepted_by("LO"), "cards[1]"),
    (
        "own-work-inspected",
        "alone without a reason",
        lambda: replace(_accepted_by("LO"), people=PEOPLE[:1]),
        "cards[1]",
    ),
    (
        "discrepancy-open",
        "open",
        lambda: with_order(discrepancies=(Discrepancy(1, "A cracked flange.", at(0)),)),
        "discrepancies[1]",
    ),
)

_RUN_UP_CARD = replace(
    CARD,
    task=replace(TASK, steps=(*STEPS, step("run-up", "run-up"))),
    readings=replace(CARD.readings, run_up=TypedRunUp(both_rpm="1700", left_rpm="1620", right_rpm="1610")),
    state=OrderState.ACCEPTED,
)
SILENT: tuple[tuple[str, str, Callable[[], CardInShop | OrderInShop]], ...] = (
    (
        "step-skipped",
        "a step without initials",
        lambda: replace(
            with_done("compression", None), steps=tuple(replace(one, initials=one.id != "compression") for one in STEPS)
        ),
    ),
    ("left-out-without-reason", "a sentence", lambda: SOUND_CARD),
    (
        "sheet-revised-since",
        "an order that has ended",
        lambda: replace(SOUND_CARD, order=replace(ORDER, ending=OrderState.VOID), revised_since=("MM-6, revision 10",)),
    ),
    (
        "answer-stops",
        "a good answer",
        lambda: replace(
            with_done("gap", replace(GAP, text="good")),
            steps=tuple(
                replace(one, capture="choice", choices=("good", "worn"), stops=("worn",)) if one.id == "gap" else one
                for one in STEPS
            ),
        ),
    ),
    ("reading-outside", "on the limit", lambda: with_done("gap", replace(GAP, text="0.021"))),
    ("reading-outside", "no sheet", lambda: replace(SOUND_CARD, sheets=SheetSet())),
    (
        "reading-outside",
        "the unit of the limit",
        lambda: replace(SOUND_CARD, steps=tuple(replace(one, unit="") for one in STEPS)),
    ),
    (
        "as-found-missing",
        "nothing was loosened",
        lambda: replace(
            _not_found(),
            order=replace(
                ORDER, cards=(replace(_not_found().card, steps=tuple(one for one in DONE if one.step != "loosen")),)
            ),
        ),
    ),
    (
        "as-found-missing",
        "when it was taken is not known",
        lambda: with_card(taken=tuple(one for one in TAKEN if one.path != "left.approach[1].light")),
    ),
    ("not-checked-after-torque", "not tightened", lambda: with_done("tighten-left", None)),
    ("internal-timing-first", "bench card submitted", lambda: _install(OrderState.FOR_INSPECTION)),
    (
        "other-magneto",
        "left out",
        lambda: replace(_without_left(), order=replace(ORDER, left_out=(LeftOut(Side.LEFT, "at its maker", at(0)),))),
    ),
    ("other-magneto", "only one is fitted", lambda: replace(_without_left(), order=_single())),
    ("tool-out-of-date", "a tool that is not on the list", lambda: _taken_at("left.approach[2].light", 7, "X-1")),
    (
        "tools-not-named",
        "a shop without a list",
        lambda: replace(with_done("tools", StepDone("tools", at(1))), tools=()),
    ),
    (
        "tools-not-named",
        "left out",
        lambda: replace(
            with_done("tools", StepDone("tools", at(1), "none are needed here", skipped=True)), tools=TOOLS
        ),
    ),
    (
        "run-up-missing",
        "written",
        lambda: replace(SOUND_ORDER, order=replace(SOUND_ORDER.order, cards=(_RUN_UP_CARD,)), run_up_due=True),
    ),
    ("part-without-papers", "off", lambda: with_order(parts=(PartMoved(Part(Way.OFF, "GK-1"), at(0)),))),
    ("own-work-inspected", "another hand", lambda: _accepted_by("IN")),
    (
        "own-work-inspected",
        "alone with a reason",
        lambda: replace(_accepted_by("LO", "Nobody else is here."), people=PEOPLE[:1]),
    ),
    ("plate-against-sheet", "no plates", lambda: replace(SOUND_CARD, order=replace(ORDER, taken_in=None))),
    ("no-limits-sheet", "a card without readings", lambda: _without_readings(SOUND_CARD)),
)


def _single() -> WorkOrder:
    engine = ORDER.engine
    one = replace(engine, magnetos=tuple(magneto for magneto in engine.magnetos if magneto.side is Side.RIGHT))
    others = tuple(one if other.position is engine.position else other for other in ORDER.aircraft.engines)
    return replace(ORDER, aircraft=replace(ORDER.aircraft, engines=others))


def _without_readings(sound: CardInShop) -> CardInShop:
    plain = tuple(replace(one, capture="confirm") for one in STEPS)
    card = replace(sound.card, task=replace(TASK, steps=plain), sheets=())
    return replace(sound, card=card, order=replace(ORDER, cards=(card,)), steps=plain)
