"""A new order as it is typed: days, needed fields, numbers of the intake, and what is known of an aircraft."""

from dataclasses import replace
from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from desktop.core.shop.aircraft.aircraft import Aircraft, EngineFitted, EnginePosition, MagnetoFitted
from desktop.core.shop.aircraft.customers import Customer
from desktop.core.shop.aircraft.intake import Intake, Plate
from desktop.core.timing.readings import Hand, Side
from desktop.viewmodels.orders.new_order_fields import name_of, order_fields
from desktop.viewmodels.orders.new_order_form import NewOrderForm
from desktop.viewmodels.orders.typed_order import TypedOrder, faults_of, order_of
from desktop.viewmodels.pieces.fields import Field, Kind
from desktop.viewmodels.pieces.typed_dates import day_fault, long_day, typed_day

TWIN = Aircraft(
    "N-XX04",
    "Tarn 210",
    "A-5",
    (
        EngineFitted(EnginePosition.LEFT, "Harl 6-300", "0118", (MagnetoFitted(Side.LEFT, "H-20", "L-44"),)),
        EngineFitted(EnginePosition.RIGHT, "Harl 6-300", "0119", (MagnetoFitted(Side.RIGHT, "H-20", "L-45"),)),
    ),
)
SINGLE = Aircraft("X-ABCD", "Trainer 2", "B-1", (EngineFitted(EnginePosition.SINGLE, "Fourbanger 360", "E-77"),))
CLUB = Customer("Mill Flying Club", "1 Mill Lane", "555 0100", "desk@mill.example")
FIELDS = {field.path: field for field in order_fields()}
LEAST = {"aircraft.registration": "X-NEW", "customer.name": "R. Vance", "position": "single"}


def _find(registration: str) -> tuple[Aircraft, Customer] | None:
    return {"N-XX04": (TWIN, CLUB), "X-ABCD": (SINGLE, CLUB)}.get(registration)


def _form(**values: str | bool) -> NewOrderForm:
    form = NewOrderForm(_find)
    for path, value in {**LEAST, **{path.replace("__", "."): value for path, value in values.items()}}.items():
        form.commit(FIELDS[path], value)
    return form


@pytest.mark.parametrize(
    "typed",
    [
        "2026-12-01",
        "2026-12-1",
        "1 Dec 2026",
        "1 dec. 2026",
        "01 December 2026",
        "1.12.2026",
        "1. 12. 2026",
        "01.12.2026",
        "Dec 1, 2026",
        "december 1 2026",
        " 1  Dec  2026 ",
        "1dec2026",
    ],
)
def test_that_a_day_is_read_as_people_type_it(typed: str) -> None:
    assert typed_day(typed) == date(2026, 12, 1)


@pytest.mark.parametrize(
    "typed",
    [
        "31.2.2026",
        "2026-13-01",
        "1 Foo 2026",
        "1 Ma 2026",
        "tomorrow",
        "1 Dec",
        "1.12.26",
        "0 Dec 2026",
        "\u0661 Dec 2026",
    ],
)
def test_that_what_is_no_day_is_answered_with_the_forms_of_a_day(typed: str) -> None:
    assert typed_day(typed) is None
    assert day_fault(typed) == "write the day like 2026-12-01, 1 Dec 2026 or 1.12.2026"


def test_that_a_day_with_slashes_is_not_guessed() -> None:
    assert typed_day("12/1/2026") is None
    assert day_fault("12/1/2026") == ("day or month may stand first here. Write the month as a word, like 1 Dec 2026")


@given(st.dates(min_value=date(1000, 1, 1)))
def test_that_a_day_as_it_is_shown_is_read_as_the_same_day(day: date) -> None:
    assert typed_day(day.isoformat()) == day
    assert typed_day(long_day(day).split(" ", 1)[1]) == day


@given(st.text())
def test_that_no_text_makes_reading_a_form_fail(text: str) -> None:
    typed = TypedOrder()
    for path, field in FIELDS.items():
        if field.kind is Kind.TEXT:
            typed = typed.with_value(path, text)
    assert order_of(typed) is None
    assert faults_of(typed)


def test_that_three_fields_make_an_order() -> None:
    new = order_of(_form().typed)
    assert new is not None
    assert new.aircraft == Aircraft("X-NEW", "", "", (EngineFitted(EnginePosition.SINGLE),))
    assert (new.customer, new.intake, new.promised, new.asked) == (Customer("R. Vance"), None, None, "")


def test_that_everything_typed_stands_in_the_order() -> None:
    form = _form(
        aircraft__type="Harrow 4",
        aircraft__serial="H-9",
        customer__telephone="555 0199",
        customer__email="r@vance.example",
        asked="Time both magnetos",
        complaint="rough on left",
        promised="1 Dec 2031",
        authorised="R. Vance, up to 4 hours",
        logs_seen=True,
        total_time="1234.5",
        tachometer="1200",
        engine__type="Fourbanger 360",
        engine__serial="E-1",
        left__part_number="M-20",
        left__serial="S-1",
        left__hand="left",
        left__lag="15",
        left__since_overhaul="480",
        right__serial="S-2",
    )
    new = order_of(form.typed)
    assert new is not None
    assert new.asked == "Time both magnetos. Authorised by R. Vance, up to 4 hours"
    assert new.promised == date(2031, 12, 1)
    assert new.customer == Customer("R. Vance", "", "555 0199", "r@vance.example")
    assert new.aircraft.engines[0].magnetos == (
        MagnetoFitted(Side.LEFT, "M-20", "S-1"),
        MagnetoFitted(Side.RIGHT, "", "S-2"),
    )
    assert new.intake == Intake(
        logs_seen=True,
        total_time="1234.5",
        tachometer="1200",
        complaint="rough on left",
        plates=(Plate(Side.LEFT, "M-20", "S-1", Hand.LEFT, "15", "480"), Plate(Side.RIGHT, "", "S-2")),
    )


@pytest.mark.parametrize(
    ("asked", "by", "written"),
    [
        ("", "A. Reed", "Authorised by A. Reed"),
        ("Check it!", "A. Reed", "Check it! Authorised by A. Reed"),
        ("Check it", "", "Check it"),
    ],
)
def test_that_the_authorisation_follows_what_is_asked(asked: str, by: str, written: str) -> None:
    new = order_of(_form(asked=asked, authorised=by).typed)
    assert new is not None
    assert new.asked == written


def test_that_empty_fields_are_no_fault_until_the_order_is_opened() -> None:
    form = NewOrderForm(_find)
    registration = FIELDS["aircraft.registration"]
    assert form.fault_at(registration) == ""
    assert form.finish() is None
    assert form.fault_at(registration) == "The registration is missing. Write it as it stands on the aircraft."
    assert form.first_fault() == registration
    form.commit(registration, "X-NEW")
    assert form.fault_at(registration) == ""
    first = form.first_fault()
    assert first is not None
    assert first.path == "customer.name"


@pytest.mark.parametrize(
    ("path", "typed", "sentence"),
    [
        ("total_time", "many", "Write a number such as 1234.5, 0 or more."),
        ("left.lag", "-5", "Write a number such as 1234.5, 0 or more."),
        ("promised", "soon", "Write the day like 2026-12-01, 1 Dec 2026 or 1.12.2026."),
        ("asked", "a\u200bb", "Text: an invisible sign (U+200B) stands in the text. Write visible signs only."),
    ],
)
def test_that_a_fault_is_said_at_its_field_and_the_text_is_kept(path: str, typed: str, sentence: str) -> None:
    form = _form()
    form.commit(FIELDS[path], typed)
    assert form.fault_at(FIELDS[path]) == sentence
    assert form.typed.value(path) == typed
    assert form.finish() is None
    assert [fault.where for fault in faults_of(form.typed)] == [path]


def test_that_a_known_aircraft_fills_in_what_is_empty_and_keeps_what_was_typed() -> None:
    form = NewOrderForm(_find)
    form.commit(FIELDS["customer.name"], "New Owner")
    form.commit(FIELDS["aircraft.registration"], "x-abcd")
    shown = dict(form.typed.values)
    assert shown["customer.name"] == "New Owner"
    assert (shown["aircraft.type"], shown["position"], shown["engine.serial"]) == ("Trainer 2", "single", "E-77")
    assert form.is_filled_in(FIELDS["aircraft.type"])
    assert not form.is_filled_in(FIELDS["customer.name"])
    new = form.finish()
    assert new is not None
    assert new.aircraft == SINGLE
    assert new.customer == Customer("New Owner", "", "555 0100", "desk@mill.example")


def test_that_the_other_engine_of_a_twin_stays_and_the_position_brings_its_own() -> None:
    form = NewOrderForm(_find)
    form.commit(FIELDS["aircraft.registration"], "N-XX04")
    assert form.typed.value("engine.serial") is None
    form.commit(FIELDS["position"], "left")
    assert (form.typed.value("engine.serial"), form.typed.value("left.serial")) == ("0118", "L-44")
    form.commit(FIELDS["position"], "right")
    assert (form.typed.value("engine.serial"), form.typed.value("left.serial")) == ("0119", None)
    new = form.finish()
    assert new is not None
    assert new.customer == CLUB
    assert new.aircraft == replace(TWIN, engines=(TWIN.engines[1], TWIN.engines[0]))
    form.commit(FIELDS["position"], "single")
    new = form.finish()
    assert new is not None
    assert [engine.position for engine in new.aircraft.engines] == [EnginePosition.SINGLE]


def test_that_another_registration_takes_away_what_the_first_filled_in() -> None:
    form = NewOrderForm(_find)
    form.commit(FIELDS["aircraft.registration"], "X-ABCD")
    form.commit(FIELDS["aircraft.serial"], "B-2")
    assert form.note_at(FIELDS["aircraft.registration"]) == "known: filled in as it came last"
    form.commit(FIELDS["aircraft.registration"], "X-NEW")
    assert dict(form.typed.values) == {"aircraft.registration": "X-NEW", "aircraft.serial": "B-2"}
    form.commit(FIELDS["aircraft.registration"], "")
    assert dict(form.typed.values) == {"aircraft.serial": "B-2"}
    form.begin_empty()
    assert form.typed == TypedOrder()


def test_that_the_promised_day_is_shown_with_its_weekday() -> None:
    form = _form(promised="1.12.2026")
    assert form.note_at(FIELDS["promised"]) == "Tuesday 1 Dec 2026"


def test_that_the_same_text_again_changes_nothing() -> None:
    form = _form(asked="Time both")
    seen: list[object] = []
    form.typed_changed.connect(seen.append)
    form.commit(FIELDS["asked"], "Time both")
    form.commit(FIELDS["logs_seen"], value=False)
    assert seen == []


def test_that_no_two_fields_are_called_the_same() -> None:
    names = [name_of(path) for path in FIELDS]
    assert len(set(names)) == len(names)
    with pytest.raises(ValueError, match="no field wings"):
        name_of(Field("wings", "Wings").path)
