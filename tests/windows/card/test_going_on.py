"""From one step to the next: nothing that is needed is jumped, every warning is seen, what stops holds."""

import pytest
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from desktop.core.timing.readings import Side
from desktop.viewmodels.card.going_on import STEP_PLACE
from desktop.viewmodels.pieces.card_words import Progress
from tests.journeys.job_floor import VARIANTS
from tests.windows.card.mechanic import T4, Mechanic


def first_seen(mechanic: Mechanic) -> list[str]:
    """Return the steps in the order in which they were shown first."""
    return [place for place in dict.fromkeys(mechanic.seen) if place.startswith(STEP_PLACE)]


@pytest.mark.parametrize(
    ("name", "most_keys"), [("opposed, impulse coupling, full disc", 190), ("two breakers in one housing", 300)]
)
def test_that_enter_space_and_typing_reach_every_step_in_order_and_leave_nothing_open(
    qtbot: QtBot, name: str, most_keys: int
) -> None:
    mechanic = Mechanic(qtbot, variant=VARIANTS[name])
    mechanic.works_until("check")
    steps = [place.id for place in mechanic.session.places if place.id.startswith(STEP_PLACE)]
    assert first_seen(mechanic) == steps
    assert mechanic.hidden == []
    assert mechanic.keys <= most_keys, f"it took {mechanic.keys} keys"
    lines = mechanic.session.last_lines()
    assert mechanic.session.is_ready(), lines
    rings = {mechanic.session.progress_at(place) for place in mechanic.session.places if place.id in steps}
    assert rings == {Progress.DONE}
    assert {"step-stop-down", "step-stop-with", "step-stop-pair"} <= set(steps)


def test_that_a_fresh_card_says_where_the_steps_are_and_shows_those_of_both_magnetos_at_once(qtbot: QtBot) -> None:
    mechanic = Mechanic(qtbot)
    ids = [place.id for place in mechanic.session.places]
    assert "steps-later" in ids
    assert not [one for one in ids if one.startswith(STEP_PLACE)]
    while mechanic.field() and mechanic.field().path != "right.seen_from":  # type: ignore[union-attr]  # just seen
        mechanic.does()
    with_left = [place.id for place in mechanic.session.places]
    mechanic.does()
    with_both = [place.id for place in mechanic.session.places]
    assert with_left == with_both
    assert {"step-as-left-left", "step-as-left-right", "step-again-right", "step-synchronisation"} <= set(with_both)


def test_that_an_open_run_up_and_an_open_reading_take_no_step_away(qtbot: QtBot) -> None:
    mechanic = Mechanic(qtbot, until="as-left-right")
    before = [place.id for place in mechanic.session.places]
    mechanic.does()
    assert mechanic.session.state.has_open_approach(Side.RIGHT)
    assert [place.id for place in mechanic.session.places] == before


def test_that_a_step_without_fields_is_shown_and_one_key_leads_on(qtbot: QtBot) -> None:
    mechanic = Mechanic(qtbot, until="stop-down")
    assert mechanic.page.page.act.hasFocus()
    assert mechanic.page.page.act.text() == "Next: Piston stop in"
    place = mechanic.page.page.place()
    assert mechanic.session.progress_at(place) is Progress.EMPTY
    keys = mechanic.keys
    mechanic.press(Qt.Key.Key_Space)
    assert mechanic.keys == keys + 1
    assert mechanic.place == "step-stop-in"
    assert mechanic.session.progress_at(place) is Progress.DONE


def test_that_contacts_that_give_no_tdc_hold_until_they_are_corrected(qtbot: QtBot) -> None:
    mechanic = Mechanic(qtbot, until="stop-pair")
    mechanic.type("10")
    mechanic.press(Qt.Key.Key_Return)
    mechanic.type("200")
    mechanic.press(Qt.Key.Key_Return)
    assert mechanic.place == "step-stop-pair"
    assert mechanic.field() is not None
    assert mechanic.field().path == "stop[1].with"  # type: ignore[union-attr]  # just seen
    said = mechanic.page.page.message.text()
    assert "Ctrl+Enter goes on all the same." in said
    mechanic.press(Qt.Key.Key_Return)
    mechanic.press(Qt.Key.Key_Return)
    assert mechanic.place == "step-stop-pair"
    mechanic.skip_on()
    mechanic.skip_on()
    assert mechanic.place == "step-disc-zero"


def test_that_a_corrected_reading_keeps_the_cursor_at_its_pair(qtbot: QtBot) -> None:
    mechanic = Mechanic(qtbot, until="disc-zero")
    number = [place.id for place in mechanic.session.places].index("step-stop-pair")
    page = mechanic.page.page
    page.show_place(number)
    row = next(row for row in page.rows() if row.field.path == "stop[1].with")
    page.focus(row.field)
    row.editor.selectAll()  # type: ignore[union-attr]  # it takes text
    mechanic.type("333")
    mechanic.press(Qt.Key.Key_Return)
    assert mechanic.place == "step-stop-pair"
    assert mechanic.field().path == "stop[1].against"  # type: ignore[union-attr]  # it has the cursor
    mechanic.press(Qt.Key.Key_Return)
    assert mechanic.place == "step-disc-zero"


def test_that_enter_passes_nothing_that_is_needed_and_ctrl_enter_does(qtbot: QtBot) -> None:
    mechanic = Mechanic(qtbot, until="data-current")
    mechanic.press(Qt.Key.Key_Return)
    assert mechanic.place == "step-data-current"
    assert mechanic.page.page.message.text().startswith("Space puts your initials here.")
    mechanic.skip_on()
    assert mechanic.place == "step-tools-ready"
    assert mechanic.session.card.done("data-current") is None


def test_that_the_setting_asks_for_its_reading_before_the_snap(qtbot: QtBot) -> None:
    mechanic = Mechanic(qtbot, until="setting-left")
    field = mechanic.field()
    assert field is not None
    assert field.label == "Began at"
    before = mechanic.readings(Side.LEFT)
    rows = [row for row in mechanic.page.page.rows() if row.field.place == field.place]
    snap = next(row for row in rows if row.field.label == "Snap passed first")
    snap.editor.click()  # type: ignore[union-attr]  # a tick
    assert mechanic.readings(Side.LEFT) == before
    assert snap.value() is False
    assert mechanic.page.page.message.text() == "Type the reading first. This tick belongs to it."


def test_that_a_reading_as_left_outside_its_limits_holds_and_another_approach_follows(qtbot: QtBot) -> None:
    mechanic = Mechanic(qtbot, until="as-left-left")
    for typed in ("300", "330", "328"):
        mechanic.type(typed)
        mechanic.press(Qt.Key.Key_Return)
    mechanic.press(Qt.Key.Key_Space)
    count = mechanic.readings(Side.LEFT)
    field = mechanic.field()
    assert field is not None
    assert (mechanic.place, field.path) == ("step-as-left-left", f"left.approach[{count + 1}].from")
    assert "advanced" in mechanic.page.page.message.text()


def test_that_the_tools_are_picked_by_letters_and_may_be_typed(qtbot: QtBot) -> None:
    mechanic = Mechanic(qtbot, until="tools-ready")
    for letters in ("light", "wren"):
        mechanic.type(letters)
        mechanic.press(Qt.Key.Key_Return)
    assert mechanic.place == "step-tools-ready"
    mechanic.press(Qt.Key.Key_Return)
    done = mechanic.session.card.done("tools-ready")
    assert done is not None
    assert done.tools == ("L-1", "W-3")
    assert mechanic.place != "step-tools-ready"


def test_that_every_step_of_the_shipped_timing_card_has_a_title_of_its_own(qtbot: QtBot) -> None:
    mechanic = Mechanic(qtbot, until="data-current")
    titles = [place.title for place in mechanic.session.places if place.id.startswith(STEP_PLACE)]
    assert len(set(titles)) == len(titles)
    assert {"First contact", "Second contact", "Back, short of the catch", "Key out"} <= set(titles)
    assert "Come up again: right" in titles
    assert len(T4.steps) > len(titles)
