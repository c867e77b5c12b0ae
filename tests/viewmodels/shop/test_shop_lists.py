"""The lists of the shop: people, tools, what is coming due, and the visits of a magneto."""

from collections.abc import Callable
from dataclasses import replace
from datetime import date
from fractions import Fraction
from itertools import count

import pytest
from PySide6.QtCore import QModelIndex, Qt
from pytestqt.modeltest import ModelTester
from pytestqt.qtbot import QtBot

from desktop.core.errors import Refusal
from desktop.core.shop.aircraft.directives import Subject
from desktop.core.shop.aircraft.due import Coming, Due
from desktop.core.shop.people.people import Right
from desktop.core.shop.tools import Care, Lamp
from desktop.usecases.shop.lists.look_back import ComingLine
from desktop.viewmodels.pieces.card_words import Progress
from desktop.viewmodels.pieces.lines_model import LinesModel
from desktop.viewmodels.pieces.piecewise import PIECE, Piecewise
from desktop.viewmodels.shop.drift_desk import DriftDesk
from desktop.viewmodels.shop.due_model import DueDesk, at_words, hours_words, left_words, ring_of, standing_words
from desktop.viewmodels.shop.people_form import PersonForm
from desktop.viewmodels.shop.people_model import PeopleDesk
from desktop.viewmodels.shop.tool_form import ToolForm
from desktop.viewmodels.shop.tools_model import ToolsDesk
from tests.usecases.shop.shop_floor import Floor
from tests.usecases.shop.test_look_back import engine_sheet, floor_of_visits, keep_compared
from tests.usecases.shop.visits_floor import DRIFTING, STEADY

TODAY = date(2031, 3, 4)


def ids() -> Callable[[], str]:
    numbers = count()
    return lambda: f"list-{next(numbers)}"


def people_at(floor: Floor, who: str = "KEEP") -> PeopleDesk:
    desk = PeopleDesk(floor.shop, lambda: who, ids())
    desk.look()
    return desk


def tools_at(floor: Floor, who: str = "KEEP") -> ToolsDesk:
    desk = ToolsDesk(floor.shop, lambda: who, ids())
    desk.look()
    return desk


def cells(model: LinesModel, row: int) -> list[object]:
    return [model.index(row, column).data() for column in range(model.columnCount())]


def fill(form: PersonForm | ToolForm, **values: str | bool) -> None:
    for field in form.fields():
        key = field.path.replace("rights.", "")
        if key in values:
            form.commit(field, values[key])


def test_that_every_list_keeps_its_promises_to_views(qtbot: QtBot, qtmodeltester: ModelTester) -> None:
    floor = floor_of_visits()
    people, tools = people_at(floor), tools_at(floor)
    due, drift = DueDesk(floor.shop), DriftDesk(floor.shop)
    for model in (people.model, tools.model, due.model, drift.model):
        qtmodeltester.check(model)  # type: ignore[no-untyped-call]  # the tester has no types; it stays and watches
    with qtbot.waitSignals([due.lines_changed, drift.history_changed]):
        due.look()
        drift.look(DRIFTING)
    qtbot.waitUntil(lambda: not drift.is_busy)
    people.keep(replace(people.people[0], name="Dora E. Esk"), 1)
    drift.look("")
    assert due.model.rowCount() == 4
    assert not due.model.index(9, 0).isValid()
    assert due.model.data(QModelIndex()) is None
    assert due.model.index(0, 0).data(Qt.ItemDataRole.DecorationRole) is None
    assert due.model.headerData(0, Qt.Orientation.Vertical) is None
    assert [due.model.headerData(0, Qt.Orientation.Horizontal)] == ["State"]


def test_that_a_person_stands_in_one_line_with_what_a_print_of_the_roster_must_say() -> None:
    desk = people_at(Floor())
    assert [desk.model.key_at(row) for row in range(desk.model.rowCount())] == [
        *("DESK", "HELP", "INSP", "KEEP", "MECH", "GONE")
    ]
    assert cells(desk.model, 4) == [
        *("MECH", "Mel Chan", "mechanic", "mechanic 1234", "since 1 Jan 2030"),
        "changed 1 Jan 2030, older than 5 business days",
    ]
    assert cells(desk.model, 1)[2] == "helper, under MECH"
    assert cells(desk.model, 5)[4] == "left 1 Jun 2030"
    ring = desk.model.columns[4].ring
    assert ring is not None
    assert [ring(desk.model.line(row)) for row in (4, 5)] == [Progress.DONE, Progress.EMPTY]
    assert desk.model.index(0, 0).data(Qt.ItemDataRole.AccessibleTextRole) == "Initials: DESK"
    assert desk.model.index(0, 3).data(Qt.ItemDataRole.AccessibleTextRole) == "Certificate: nothing"
    assert desk.model.index(0, 3).data(Qt.ItemDataRole.ToolTipRole) is None


def test_that_somebody_who_comes_later_or_leaves_soon_is_said_so() -> None:
    floor = Floor()
    file = floor.store.file
    file.put_person(replace(file.roster["MECH"], since=date(2031, 4, 1)))
    file.put_person(replace(file.roster["INSP"], until=date(2031, 4, 1)))
    desk = people_at(floor)
    assert cells(desk.model, 4)[4:] == ["from 1 Apr 2031", ""]
    assert cells(desk.model, 2)[4] == "until 1 Apr 2031"


def test_that_the_roster_says_when_it_must_be_printed_and_when_an_older_one_is_out_of_date() -> None:
    floor = Floor()
    desk = people_at(floor)
    assert desk.notice().startswith("The last change, of 2 Jun 2030, is older than 5 business days")
    assert desk.keep(replace(desk.people[0], ratings="none"), 1)
    assert desk.notice() == (
        "Changed on 4 Mar 2031: print the roster by 11 Mar 2031, 5 business days later. 14 CFR 145.161(b)"
    )
    floor.store.file.roster.clear()
    desk.look()
    assert desk.notice() == ""


def test_that_a_change_that_changes_nothing_is_no_change_of_the_roster() -> None:
    desk = people_at(Floor())
    assert desk.keep(desk.people[0], 1)
    assert (desk.people[0].version, desk.people[0].changed) == (2, None)


def test_that_a_person_is_typed_tried_and_kept(qtbot: QtBot) -> None:
    desk, form = people_at(Floor()), PersonForm()
    form.begin_new(desk.people, desk.today)
    fill(form, name="Mel Chan Ito", certificate_number="5550144", mechanic=True, inspector=True)
    assert form.text("id") == "MCI"
    assert form.try_it()
    with qtbot.waitSignal(desk.kept) as said:
        assert desk.keep(form.person(), form.seen_version)
    assert said.args == ["Mel Chan Ito (MCI) is on the roster."]
    kept = next(person for person in desk.people if person.id == "MCI")
    assert (kept.rights, kept.since, kept.changed) == ((Right.MECHANIC, Right.INSPECTOR), TODAY, TODAY)


def test_that_the_initials_follow_the_name_until_others_are_typed_or_somebody_has_them() -> None:
    desk, form = people_at(Floor()), PersonForm()
    form.begin_new(desk.people, desk.today)
    fill(form, name="Ada Brook")
    fill(form, name="Ada Mill")
    initials = next(field for field in form.fields() if field.path == "id")
    assert (form.text("id"), form.is_filled_in(initials)) == ("AM", True)
    fill(form, id="ADA")
    fill(form, name="Ida Mill")
    assert (form.text("id"), form.is_filled_in(initials)) == ("ADA", False)
    form.begin_new([replace(desk.people[0], id="IM")], TODAY)
    fill(form, name="Ida Mill")
    assert form.text("id") == ""


@pytest.mark.parametrize(
    ("typed", "where", "words"),
    [
        ({}, "name", "has no name"),
        ({}, "id", "has no initials"),
        ({}, "rights.front_desk", "has no right"),
        ({"id": "MECH"}, "id", "MECH is Mel Chan. Write other initials."),
        ({"helper": True}, "supervisor", "Name the supervisor"),
        ({"helper": True, "mechanic": True}, "rights.helper", "Take away the helper's right"),
        ({"since": "1/2/2031"}, "since", "Write the month as a word"),
        ({"since": ""}, "since", "The first day is missing"),
        ({"until": "1 Jan 2031"}, "until", "before the first"),
        ({"until": "soon"}, "until", "Write the day like"),
        ({"ratings": "x" * 3000}, "ratings", "3000 signs"),
    ],
)
def test_that_each_fault_of_a_person_stands_at_its_field(typed: dict[str, str | bool], where: str, words: str) -> None:
    desk, form = people_at(Floor()), PersonForm()
    form.begin_new(desk.people, desk.today)
    fill(form, **typed)
    field = next(field for field in form.fields() if field.path == where)
    assert not form.try_it()
    assert words in form.fault_at(field)
    assert form.first_fault() is not None


def test_that_a_known_person_keeps_their_initials_and_cannot_supervise_themselves() -> None:
    desk, form = people_at(Floor()), PersonForm()
    person = next(person for person in desk.people if person.id == "HELP")
    form.begin_with(person, desk.people)
    by_path = {field.path: field for field in form.fields()}
    assert not form.is_open(by_path["id"])
    assert form.note_at(by_path["id"]) == "stays: it stands on records"
    assert "HELP" not in [value for value, _ in by_path["supervisor"].choices]
    assert form.person() == person
    assert form.snapshot().values == form.snapshot().began_with
    fill(form, until="4 Mar 2031")
    assert form.note_at(by_path["until"]) == "Tuesday 4 Mar 2031"
    assert form.is_begun
    assert desk.keep(form.person(), form.seen_version)
    assert not desk.keep(form.person(), form.seen_version)


def test_that_a_refusal_is_said_and_the_same_request_is_asked_again(qtbot: QtBot) -> None:
    floor = Floor()
    who = ["MECH"]
    desk = PeopleDesk(floor.shop, lambda: who[0], ids())
    desk.look()
    with qtbot.waitSignal(desk.refused) as said:
        assert not desk.keep(desk.people[0], 1)
    assert "may not do this: keep the roster" in said.args[0]
    assert not desk.keep(desk.people[0], 1)
    who[0] = "KEEP"
    assert desk.keep(desk.people[0], 1)
    assert list(floor.store.file.answers) == ["list-1"]


def test_that_tools_say_whether_they_may_be_used_and_the_worst_stand_first() -> None:
    desk = tools_at(Floor())
    assert [cells(desk.model, row) for row in range(3)] == [
        ["W-9", "old wrench", "", "", "out of date", "until 3 Mar 2031"],
        ["L-1", "timing light", "", "", "check before use", ""],
        ["W-3", "torque wrench", "", "", "calibrated", "until 31 Dec 2031"],
    ]
    ring = desk.model.columns[4].ring
    assert ring is not None
    assert [ring(desk.model.line(row)) for row in range(3)] == [Progress.STOPS, Progress.EMPTY, Progress.DONE]
    assert desk.notice().startswith("1 tool is out of date.")
    desk.keep(replace(desk.tools[1], due=date(2031, 1, 1)), 1)
    assert desk.notice().startswith("2 tools are out of date.")
    floor = Floor()
    floor.store.file.kit.clear()
    assert tools_at(floor).notice() == ""


def test_that_a_tool_is_typed_and_kept_with_its_lamp(qtbot: QtBot) -> None:
    desk, form = tools_at(Floor()), ToolForm()
    form.begin_new(desk.tools)
    fill(form, id="L-2", name="timing light", care="check before use", lamp="off at opening")
    due = next(field for field in form.fields() if field.path == "due")
    assert form.is_filled_in(due)
    assert form.try_it()
    with qtbot.waitSignal(desk.kept) as said:
        assert desk.keep(form.tool(), form.seen_version)
    assert said.args == ["L-2, timing light, is on the list."]
    kept = next(tool for tool in desk.tools if tool.id == "L-2")
    assert (kept.care, kept.lamp) == (Care.CHECKED, Lamp.OFF)
    form.begin_with(kept)
    assert form.tool() == kept
    with qtbot.waitSignal(desk.kept) as said:
        desk.keep(replace(form.tool(), serial="77"), form.seen_version)
    assert said.args == ["L-2 is kept as changed."]
    with pytest.raises(NotImplementedError):
        super(ToolForm, form).own_faults()


@pytest.mark.parametrize(
    ("typed", "where", "words"),
    [
        ({}, "id", "no number"),
        ({}, "care", "The care is missing"),
        ({"id": "W-3"}, "id", "W-3 is torque wrench. Write another number."),
        ({"care": "calibrated"}, "due", "needs the day until which"),
        ({"due": "31 Feb 2031"}, "due", "Write the day like"),
    ],
)
def test_that_each_fault_of_a_tool_stands_at_its_field(typed: dict[str, str | bool], where: str, words: str) -> None:
    form = ToolForm()
    form.begin_new(tools_at(Floor()).tools)
    fill(form, **typed)
    field = next(field for field in form.fields() if field.path == where)
    assert not form.try_it()
    assert words in form.fault_at(field)


def line(hours: int | None, days: int | None, at_hours: int | None = None, on: date | None = None) -> ComingLine:
    due = Due("bench check", Subject.MAGNETO, "S-11", None if at_hours is None else Fraction(at_hours), on)
    return ComingLine(Coming(due, None if hours is None else Fraction(hours), days))


@pytest.mark.parametrize(
    ("one", "standing", "ring", "left"),
    [
        (line(-1, 10, 1700, TODAY), "overdue", Progress.STOPS, "1 h over, 10 days left"),
        (line(10, -1, 1700, TODAY), "overdue", Progress.STOPS, "10 h left, 1 day over"),
        (line(25, None, 1700), "due soon", Progress.OPEN, "25 h left"),
        (line(26, None, 1700), "later", Progress.EMPTY, "26 h left"),
        (line(None, 30, None, TODAY), "due soon", Progress.OPEN, "30 days left"),
        (line(None, 31, 1700, TODAY), "later", Progress.EMPTY, "31 days left, hours now not known"),
        (line(500, 358, 1700, TODAY), "later", Progress.EMPTY, "500 h or 358 days left"),
        (line(None, None, 1700), "not known", Progress.EMPTY, "hours now not known"),
        (line(None, None), "not known", Progress.EMPTY, "not known when last done"),
    ],
)
def test_that_what_comes_due_is_said_by_word_and_ring(
    one: ComingLine, standing: str, ring: Progress, left: str
) -> None:
    assert (standing_words(one), ring_of(one), left_words(one)) == (standing, ring, left)


def test_that_hours_and_day_of_something_due_are_said() -> None:
    assert at_words(line(1, 1, 1700, TODAY)) == "at 1700 h or on 4 Mar 2031"
    assert at_words(line(None, None)) == hours_words(line(None, None)) == ""


def test_that_what_comes_due_is_read_in_pieces_and_only_after_a_change(qtbot: QtBot) -> None:
    floor = floor_of_visits()
    desk = DueDesk(floor.shop)
    with qtbot.waitSignal(desk.lines_changed):
        desk.look()
    assert cells(desk.model, 0) == [
        *("overdue", "directive 27-19", "engine M6-0118", "XQ-TBK"),
        *("3 days over", "on 1 Mar 2031", "1627 h on 25 Feb 2031"),
    ]
    assert [desk.magneto_at(row) for row in range(desk.model.rowCount())] == ["", STEADY, "", DRIFTING]
    busy = []
    desk.look()
    busy.append(desk.is_busy)
    floor.with_order()
    desk.look()
    busy.append(desk.is_busy)
    desk.rest()
    desk.rest()
    busy.append(desk.is_busy)
    assert busy == [False, True, False]
    with qtbot.waitSignal(desk.lines_changed):
        desk.look()
    keep_compared(floor, engine_sheet("magneto timing to the engine", "100", 12))
    with qtbot.waitSignal(desk.lines_changed):
        desk.look()
    assert cells(desk.model, 4)[1:3] == [
        "magneto timing to the engine, every 100 h or 12 months, sheet six rev 1",
        "engine M6-0118",
    ]


def test_that_long_reading_goes_on_in_pieces_and_says_how_far_it_is(qtbot: QtBot) -> None:
    pieces = Piecewise()
    counts: list[int] = []
    pieces.went_on.connect(counts.append)
    with qtbot.waitSignal(pieces.finished) as done:
        pieces.begin(iter([None, *range(2 * PIECE)]))
    assert done.args == [tuple(range(2 * PIECE))]
    assert counts == [PIECE, 2 * PIECE]
    assert not pieces.is_busy


class Broken:
    """A store that does not answer."""

    def _refuse(self, *_: object, **__: object) -> None:
        raise Refusal("The shop file does not answer.")

    people = tools = change_count = orders = order = _refuse


def test_that_a_shop_file_that_does_not_answer_is_said_by_every_list(qtbot: QtBot) -> None:
    floor = floor_of_visits()
    broken = replace(floor.shop, store=Broken())  # type: ignore[arg-type]  # a store in part
    drift, due = DriftDesk(broken), DueDesk(broken)
    people = PeopleDesk(broken, lambda: "KEEP", ids())
    tools = ToolsDesk(broken, lambda: "KEEP", ids())
    looks = (
        (people.refused, people.look),
        (tools.refused, tools.look),
        (due.refused, due.look),
        (drift.refused, lambda: drift.look(STEADY)),
    )
    for refused, look in looks:
        with qtbot.waitSignal(refused) as said:
            look()
        assert said.args == ["The shop file does not answer."]


def test_that_a_magneto_has_its_visits_the_newest_first_its_picture_and_its_forecast(qtbot: QtBot) -> None:
    desk = DriftDesk(floor_of_visits().shop)
    assert (desk.drawing(), desk.words()) == (None, ())
    desk.look(f" {DRIFTING.lower()} ")
    qtbot.waitUntil(lambda: not desk.is_busy)
    assert [cells(desk.model, row) for row in (0, 2, 3)] == [
        _visit("W-0004", "25 Feb 2031", "431", "on nominal", "on nominal"),
        _visit("W-0002", "17 Apr 2029", "171.5", "0.5° retarded", "on nominal"),
        _visit("W-0001", "9 May 2028", "12", "not known", "on nominal"),
    ]
    assert desk.drawing() is not None
    [words] = desk.words()
    assert "Forecast, not an interval: at the limit of 1.5° retarded about 314 hours" in words


def _visit(order: str, day: str, hours: str, found: str, left: str) -> list[object]:
    limits = "within 1° advanced, 1.5° retarded"
    return [order, day, f"{hours} h since overhaul", found, left, limits, "XQ-TBK, left magneto"]


def test_that_visits_that_cannot_be_compared_are_said(qtbot: QtBot) -> None:
    floor = floor_of_visits()
    order = floor.order(4)
    assert order.taken_in is not None
    bare = replace(order.taken_in, intake=replace(order.taken_in.intake, plates=(), total_time=""))
    floor.store.file.orders[4] = replace(order, taken_in=bare)
    desk = DriftDesk(floor.shop)
    desk.look(DRIFTING)
    qtbot.waitUntil(lambda: not desk.is_busy)
    assert cells(desk.model, 0)[2] == "no hours written"
    assert desk.words()[1] == "1 visit stands in the table only: no hours since overhaul, or before an overhaul."
    desk.rest()
