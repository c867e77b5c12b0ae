"""An order as sections: the law that everything around its cards is said, with controls, and the words of parts."""

from dataclasses import replace
from datetime import date

import pytest

from desktop.core.records.record import Section
from desktop.core.shop.orders.order import Passage, WorkOrder
from desktop.core.shop.orders.order_states import Move, OrderState
from desktop.core.shop.orders.time_booked import TimeBooked
from desktop.core.timing.readings import Hand
from desktop.usecases.records.sections.names import Names
from desktop.usecases.records.sections.order_sections import order_sections
from tests.core.records.entry.entry_orders import ORDER
from tests.usecases.records.sections.whole_card import NAMES, by
from tests.usecases.records.walked import leaves, others, unsaid, words_for

_TAKEN = ORDER.taken_in
assert _TAKEN is not None
FULL = replace(
    ORDER,
    version=41,
    customer=replace(ORDER.customer, address="Hangar Row 2", email="owner@example.org"),
    promised=date(2031, 3, 9),
    authorised="Mrs Owner on the telephone",
    taken_in=replace(
        _TAKEN,
        intake=replace(
            _TAKEN.intake,
            plates=(replace(_TAKEN.intake.plates[0], hand=Hand.RIGHT, lag="11.25", since_overhaul="431"),),
        ),
    ),
    time=(TimeBooked("MC", 95, "timing", by("MC", 41)), TimeBooked("HE", 30, "cowling", by("MC", 42))),
    passages=(Passage(Move.RETURN, by("IN", 43), 1, "Read the right one again."), Passage(Move.APPROVE, by("AP", 44))),
    ending=OrderState.APPROVED,
)
SECTIONS = order_sections(FULL, NAMES)


def _around(order: WorkOrder) -> tuple[object, ...]:
    """Everything around the cards."""
    return tuple(getattr(order, name) for name in WorkOrder.__dataclass_fields__ if name != "cards")


def section(title: str, sections: tuple[Section, ...] = SECTIONS) -> list[tuple[str, str]]:
    """Return the rows of a section."""
    return [(row.label, row.text) for one in sections if one.title == title for row in one.rows]


def test_that_everything_around_the_cards_stands_in_the_sections() -> None:
    assert unsaid(_around(FULL), SECTIONS) == []


def test_that_the_walk_reaches_every_part_of_an_order() -> None:
    # Cards have records of their own; papers signed with ink come after what is signed here.
    names = [name for name in WorkOrder.__dataclass_fields__ if name not in ("cards", "inks")]
    reached = {int(place[0]) for place, leaf in leaves(_around(FULL)) if words_for(leaf)}
    assert reached == set(range(1, len(names) + 1))


@pytest.mark.parametrize(
    "title",
    [
        "Order",
        "Aircraft and engines",
        "Intake",
        "Discrepancies",
        "Parts",
        "Directives",
        "Time booked",
        "Moves",
        "Safe-state board",
    ],
)
def test_that_a_section_left_out_is_noticed(title: str) -> None:
    assert title in {one.title for one in SECTIONS}
    assert unsaid(_around(FULL), tuple(one for one in SECTIONS if one.title != title))


def test_that_a_change_of_any_one_value_around_the_cards_changes_the_sections() -> None:
    unchanged = [
        ".".join(place)
        for place, other in others(FULL)
        if place[0] != "cards" and order_sections(other, NAMES) == SECTIONS
    ]
    assert unchanged == []


def test_that_each_card_is_named_with_its_revision_and_how_it_stands() -> None:
    assert section("Cards") == [
        ("Card 1", "Time the magnetos to the engine (T1, revision 2)"),
        ("Card 1, state", "approved"),
    ]


def test_that_a_discrepancy_stands_with_what_became_of_it_and_the_customers_word() -> None:
    rows = dict(section("Discrepancies"))
    assert rows["Discrepancy 1, it is"] == "open"
    assert rows["Discrepancy 2, it is"] == "declined"
    assert rows["Discrepancy 2, for the customer"] == "Mr Owner"
    assert rows["Discrepancy 2, how much"] == "nothing"
    assert "Discrepancy 3, for the customer" not in rows


def test_that_time_is_added_up() -> None:
    assert section("Time booked")[-1] == ("Total", "2 h 05 min")


def test_that_a_move_names_its_card_and_its_reason() -> None:
    assert section("Moves") == [
        ("Move", "return, card 1"),
        ("Reason", "Read the right one again."),
        ("By", "IN, 4 Mar 2031 09:43:07 +02:00"),
        ("Move", "approve for return to service"),
        ("By", "AP, 4 Mar 2031 09:44:07 +02:00"),
    ]


def test_that_an_order_on_which_little_stands_has_few_sections() -> None:
    bare = replace(
        ORDER, cards=(), taken_in=None, parts=(), searches=(), directives=(), left_out=(), discrepancies=(), asked=""
    )
    titles = [one.title for one in order_sections(bare, Names())]
    assert titles == ["Order", "Aircraft and engines", "Safe-state board"]
    assert ("Engine, left", "Fourbanger 360") in section("Aircraft and engines", order_sections(bare, Names()))
    engine = replace(bare.engine, type="")
    unknown = replace(bare, aircraft=replace(bare.aircraft, engines=(engine,)))
    rows = section("Aircraft and engines", order_sections(unknown, Names()))
    assert ("Engine, left", "type not written") in rows
