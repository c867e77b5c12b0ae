"""The line of an order in the list, the words by which it is found, and what a text may hold."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from desktop.core.shop.aircraft.intake import Intake, Plate, TakenIn
from desktop.core.shop.aircraft.parts import Part, PartMoved, Way
from desktop.core.shop.cards.text_limits import MOST_ENTRIES, MOST_SIGNS, text_trouble
from desktop.core.shop.orders.discrepancies import Discrepancy
from desktop.core.shop.orders.order import Passage
from desktop.core.shop.orders.order_card import Remark, StepDone
from desktop.core.shop.orders.order_line import is_found, line_of, search_words, words_of
from desktop.core.shop.orders.order_states import Move, OrderState
from desktop.core.shop.orders.safe_state import SafeItem, with_state
from desktop.core.timing.readings import Side
from desktop.core.timing.typed_card import TypedCard, TypedLimits
from tests.core.shop.some_orders import BY, EMPTY, card

FULL = replace(
    EMPTY,
    board=with_state(EMPTY.board, SafeItem.MAGNETO, BY, is_normal=False),
    taken_in=TakenIn(Intake(complaint="Rough at idle", plates=(Plate(Side.LEFT, serial="PL-4"),)), BY),
    cards=(
        replace(
            card(),
            mechanic="CD",
            steps=(StepDone("first", BY, "manual rev 9"),),
            remarks=(Remark("the stop was stiff", BY),),
            readings=TypedCard(limits=TypedLimits(left_btdc="21.75")),
        ),
        replace(card(2), mechanic="CD"),
        card(3),
    ),
    discrepancies=(Discrepancy(1, "Crack at tower", BY),),
    parts=(PartMoved(Part(Way.OFF, "K-500", tag="red 8"), BY),),
    passages=(Passage(Move.RETURN, BY, 1, "overrun"),),
)


def test_that_the_line_says_what_the_list_shows() -> None:
    line = line_of(FULL)
    assert (line.number, line.version, line.state) == (7, 1, OrderState.ISSUED)
    assert (line.customer, line.registration, line.aircraft_type) == ("Café Aérodrome", "X-ABCD", "Twinwing 2")
    assert (line.cards, line.mechanics, line.not_normal) == (3, ("CD",), 1)
    assert (line.position, line.opened, line.promised, line.asked) == ("left", BY, None, "Time both magnetos")


@pytest.mark.parametrize(
    "find",
    [
        "7", "cafe", "CAFÉ aérodrome", "x-abcd", "abc", "twinwing", "e-77", "s 12", "rough idle", "pl-4", "T0", "trial",
        "rev 9", "stiff", "crack", "k-500", "red", "overrun", "both mag", "555",
    ],
)  # fmt: skip
def test_that_an_order_is_found_by_what_was_written_on_it(find: str) -> None:
    assert is_found(search_words(FULL), words_of(find))


@pytest.mark.parametrize("find", ["afe", "888", "21.75", "2031", "right now", "crack idle zebra"])
def test_that_an_order_is_not_found_by_anything_else(find: str) -> None:
    assert not is_found(search_words(FULL), words_of(find))


def test_that_nothing_to_find_finds_everything() -> None:
    assert is_found((), ())
    assert words_of(" -/_ ") == ()


@given(st.text())
def test_that_the_words_of_words_are_the_words(text: str) -> None:
    words = words_of(text)
    assert words_of(" ".join(words)) == words


@pytest.mark.parametrize(
    ("order", "words"),
    [
        (EMPTY, None),
        (replace(EMPTY, asked="two\nlines"), None),
        (replace(EMPTY, asked="a" * MOST_SIGNS), None),
        (replace(EMPTY, asked="a" * (MOST_SIGNS + 1)), "Asked: 2001 signs, and 2000 is the most."),
        (replace(EMPTY, asked="left\u202eright"), "Asked: an invisible sign (U+202E)"),
        (replace(EMPTY, asked="\ud800"), "Asked: an invisible sign (U+D800)"),
        (replace(EMPTY, customer=replace(EMPTY.customer, name="a\tb")), "Name: an invisible sign (U+0009)"),
        (replace(EMPTY, passages=(Passage(Move.BEGIN, BY, 1),) * (MOST_ENTRIES + 1)), "Passages: 1001 entries"),
        (replace(EMPTY, cards=(replace(card(), task=replace(card().task, title="a\x00")),)), None),
    ],
)
def test_that_only_a_limited_number_of_visible_signs_is_kept(order: object, words: str | None) -> None:
    said = text_trouble(order)
    assert said is None if words is None else said is not None and said.startswith(words)
