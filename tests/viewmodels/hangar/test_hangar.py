"""The hangar's desk over a readings file: which field is asked for, which way is turned, what is said of a reading."""

from dataclasses import replace

import pytest
from pytestqt.qtbot import QtBot

from desktop import assembly
from desktop.app import Desk
from desktop.core.errors import Refusal
from desktop.core.timing.typed_card import TypedApproach, TypedCard, TypedMagneto
from desktop.files.demo_jobs import demo_jobs
from desktop.usecases.fill_card import look_at
from desktop.viewmodels.card.card_session import CardSession
from desktop.viewmodels.hangar.hangar import HangarDesk
from desktop.viewmodels.hangar.hangar_entry import Typing, is_by_keypad
from desktop.viewmodels.hangar.hangar_shown import Hangar
from desktop.viewmodels.pieces.card_words import Progress
from desktop.viewmodels.pieces.fields import Field, Kind


def _demo(name: str) -> TypedCard:
    return next(typed for job, typed in demo_jobs() if job.name == name)


def _left(card: TypedCard) -> TypedMagneto:
    assert card.left is not None
    return card.left


def _session(card: TypedCard) -> CardSession:
    session = CardSession(Desk())
    session.begin_with(look_at(card, assembly.rulebook()))
    return session


def _at(session: CardSession, name: str) -> HangarDesk:
    desk = HangarDesk(session, [place.id for place in session.places].index(name))
    desk.show_boxes()
    return desk


def _keys(desk: HangarDesk, signs: str) -> None:
    for sign in signs:
        if sign == "=":
            desk.enter()
        else:
            desk.type(sign)


def test_that_the_way_to_turn_follows_the_reading_that_is_asked_for(qtbot: QtBot) -> None:
    session = _session(replace(_demo("sound"), left=replace(_left(_demo("sound")), approach=None)))
    desk = _at(session, "left-left")
    seen = []
    for reading in ("305=", "336.5=", "334.5="):
        turning = desk.shown().turning
        assert turning is not None
        seen.append((turning.way, turning.how.partition(",")[0]))
        _keys(desk, reading)
    assert seen == [
        ("counter-clockwise", "with rotation"),
        ("counter-clockwise", "with rotation"),
        ("clockwise", "against rotation"),
    ]


def test_that_the_stop_is_touched_one_way_and_the_other(qtbot: QtBot) -> None:
    session = _session(replace(_demo("sound"), stop=None))
    desk = _at(session, "tdc")
    first = desk.shown()
    _keys(desk, "0=")
    second = desk.shown()
    assert first.turning is not None
    assert second.turning is not None
    assert (first.turning.how, second.turning.how) == (
        "with rotation, gently, to the stop",
        "against rotation, gently, to the stop",
    )
    assert first.turning.is_clockwise is not second.turning.is_clockwise
    assert second.tiles[2].words == "0"
    _keys(desk, "78=")
    assert desk.shown().verdict.words.startswith("TDC at ")


def test_that_a_card_without_engine_data_turns_nothing_and_knows_nothing(qtbot: QtBot) -> None:
    session = CardSession(Desk())
    desk = _at(session, "left-left")
    shown = desk.shown()
    assert shown.turning is None
    assert [tile.words for tile in shown.tiles[:2]] == ["not known", "not known"]
    assert shown.verdict.progress is Progress.EMPTY
    assert shown.safe is None


def test_that_a_reading_against_rotation_says_why_it_does_not_count(qtbot: QtBot) -> None:
    desk = _at(_session(_demo("against-rotation")), "left-left")
    shown = desk.shown()
    assert shown.verdict.words == "Not established"
    assert shown.reason == "It does not count: it did not come with rotation, and 2 more."
    assert shown.rotation is not None
    assert (shown.rotation.way, shown.rotation.how) == ("clockwise", "is with rotation")
    assert shown.tiles[2].label.endswith(", does not count")


def test_that_a_timing_outside_its_limits_says_how_far_and_how_to_turn_the_housing(qtbot: QtBot) -> None:
    card = _demo("sound")
    late = TypedApproach(began="305", light="340", back="338", click_passed=True)
    shown = _at(_session(replace(card, left=replace(_left(card), approach=(late,)))), "left-left").shown()
    assert shown.verdict.progress is Progress.STOPS
    assert shown.reason.startswith("3° retarded. ")
    assert "turn the housing" in shown.reason


def test_that_what_cannot_be_read_stays_and_says_what_is_expected(qtbot: QtBot) -> None:
    session = _session(replace(_demo("sound"), left=replace(_left(_demo("sound")), approach=None)))
    desk = _at(session, "left-left")
    _keys(desk, "999=")
    shown = desk.shown()
    assert shown.is_refused
    assert "999" in shown.message
    assert shown.entry is not None
    assert shown.entry.echo == "999"
    for _ in range(4):
        desk.rub_out()
    _keys(desk, "/")
    assert desk.shown().entry is not None
    _keys(desk, "=")
    left = session.state.typed.left
    assert left is not None
    assert [one.began for one in left.approach or ()] == ["compression"]


def test_that_nothing_typed_is_not_kept_as_a_reading(qtbot: QtBot) -> None:
    session = _session(replace(_demo("sound"), left=replace(_left(_demo("sound")), approach=None)))
    desk = _at(session, "left-left")
    desk.enter()
    assert desk.shown().message == "Type the figures first."
    assert session.state.typed.left is not None
    assert not session.state.typed.left.approach


def test_that_a_reading_is_changed_by_going_back_to_its_field(qtbot: QtBot) -> None:
    session = _session(_demo("sound"))
    desk = _at(session, "left-left")
    desk.move(1)
    desk.move(1)
    entry = desk.shown().entry
    assert entry is not None
    assert entry.stands
    desk.move(-1)
    desk.move(-1)
    _keys(desk, "304=")
    left = session.state.typed.left
    assert left is not None
    assert "304" in [one.began for one in left.approach or ()]


def test_that_places_of_data_are_filled_at_the_card(qtbot: QtBot) -> None:
    session = CardSession(Desk())
    desk = HangarDesk(session, 0)
    entry = desk.shown().entry
    assert entry is not None
    assert entry.stands == "at the card: Escape leads there"
    _keys(desk, "5=")
    desk.move(1)
    desk.rub_out()
    assert session.is_saved


def test_that_the_first_and_the_last_step_say_so(qtbot: QtBot) -> None:
    session = _session(_demo("sound"))
    desk = HangarDesk(session, 0)
    desk.step(-1)
    assert desk.shown().message == "This is the first step."
    desk = HangarDesk(session, len(session.places) - 1)
    desk.step(1)
    assert desk.shown().message == "This is the last step."
    assert desk.shown().more


def test_that_a_refusal_of_the_session_is_said_at_the_propeller(qtbot: QtBot) -> None:
    session = _session(_demo("sound"))
    desk = HangarDesk(session, 0)
    said: list[Hangar] = []
    desk.changed.connect(said.append)
    session.refused.emit(Refusal("The disk is full.").sentence)
    assert (said[-1].message, said[-1].is_refused) == ("The disk is full.", True)
    desk.leave()
    session.refused.emit("Again.")
    assert said[-1].message == "The disk is full."


@pytest.mark.parametrize(
    ("path", "is_split", "signs", "echo", "trouble"),
    [
        ("left.approach[1].light", False, "33.6.5", "33.65", ""),
        ("left.approach[1].light", False, "3+", "3", ""),
        ("left.approach[1].light", True, "22", "22", "Which side of TDC? - is before, + is after."),
        ("left.approach[1].light", True, "22.-", "22. before", ""),
        ("left.approach[1].light", True, "22-+", "22 after", ""),
        ("left.approach[1].light", True, "180", "180", ""),
        ("left.approach[1].light", True, "/", "", "Type the figures first."),
        ("left.approach[1].from", True, "1/2", "compression", ""),
        ("run_up.left_rpm", True, "1620-", "1620", ""),
        ("run_up.left_rpm", False, "1234567890123", "123456789012", ""),
    ],
)
def test_that_signs_become_a_reading(path: str, is_split: bool, signs: str, echo: str, trouble: str) -> None:
    typing = Typing(Field(path, "Reading"), is_split)
    for sign in signs:
        typing = typing.typed(sign)
    assert (typing.echo, typing.trouble()) == (echo, trouble)
    if not trouble:
        assert typing.value() == echo.replace(". ", " ")


def test_that_ticks_and_choices_are_typed_by_their_figure() -> None:
    tick = Typing(Field("@step.stop-in", "Done: my initials", Kind.TICK), is_split=False)
    assert tick.trouble() == "Type 1 for yes or 0 for no."
    assert (tick.typed("1").echo, tick.typed("1").value(), tick.typed("1").typed("0").value()) == ("yes", True, False)
    assert tick.typed("7").trouble()
    board = Field("@safe.SWITCH", "Switch", Kind.CHOICE, choices=(("OFF", "OFF"), ("not at OFF", "not at OFF")))
    choice = Typing(board, is_split=False)
    assert choice.trouble() == "Type a figure from 1 to 2."
    assert (choice.typed("2").value(), choice.typed("2").echo) == ("not at OFF", "not at OFF")
    assert choice.typed("3").trouble()
    assert choice.hint() == "1 OFF   2 not at OFF"
    assert choice.typed("2").rubbed_out().text == ""


def test_that_words_and_tools_are_left_to_the_card() -> None:
    fields = (
        Field("@step.notes", "Write it here; it confirms the step"),
        Field("@step.tools", "Tools, by their numbers"),
        Field("engine.cylinders", "Cylinders"),
        Field("@step.gap", "Plug gap", unit="mm"),
        Field("@step.read", "Reading, left"),
    )
    assert [is_by_keypad(field) for field in fields] == [False, False, False, True, True]
