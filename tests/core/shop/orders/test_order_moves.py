"""Every move of a work order, allowed and refused, and any sequence of them."""

from dataclasses import replace
from itertools import product

import pytest
from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, invariant, rule

from desktop.core.shop.orders.order import WorkOrder
from desktop.core.shop.orders.order_moves import Moved, MoveRefusal, NewCard, move
from desktop.core.shop.orders.order_states import (
    CARD_STATES,
    ENDINGS,
    MOVES,
    Asks,
    Move,
    OrderState,
    least,
    row_of,
    states_table,
)
from desktop.core.shop.orders.safe_state import SafeItem, not_normal, with_state
from desktop.core.timing.typed_card import TypedCard
from tests.core.shop.some_orders import BY, EMPTY, LATER, TASK, card, order_in

NEW = NewCard(TASK, TypedCard(format=1), "CD")
STOP = MoveRefusal("The light came too early.", "Look at the left magneto.")
# The table, written down a second time: what may be done in which state.
ALLOWED = {
    Move.ISSUE: {"open", "issued", "in work", "for inspection", "accepted"},
    Move.BEGIN: {"issued"},
    Move.SUBMIT: {"in work"},
    Move.RETURN: {"for inspection"},
    Move.ACCEPT: {"for inspection"},
    Move.APPROVE: {"accepted"},
    Move.NOT_APPROVE: {"in work", "for inspection", "accepted"},
    Move.CLOSE: {"approved", "not approved"},
    Move.VOID: {"open", "issued", "in work", "for inspection", "accepted"},
}
TARGETS = {
    Move.ISSUE: "issued",
    Move.BEGIN: "in work",
    Move.SUBMIT: "for inspection",
    Move.RETURN: "in work",
    Move.ACCEPT: "accepted",
    Move.APPROVE: "approved",
    Move.NOT_APPROVE: "not approved",
    Move.CLOSE: "closed",
    Move.VOID: "void",
}


def moved(order: WorkOrder, wanted: Move, number: int = 1) -> Moved:
    number = number if row_of(wanted).of == "card" else 0
    return move(order, wanted, LATER, card=number, reason=" it is so ", new=NEW, stops=())


@pytest.mark.parametrize(("wanted", "state"), list(product(Move, OrderState)))
def test_that_each_move_is_made_from_its_states_and_refused_from_all_others(wanted: Move, state: OrderState) -> None:
    order = order_in(state)
    after = moved(order, wanted)
    if state not in ALLOWED[wanted]:
        assert after.order is order
        assert len(after.refusals) == 1
        assert all(refusal.sentence.endswith(".") and refusal.advice.endswith(".") for refusal in after.refusals)
        return
    assert after.refusals == ()
    assert after.order.state == TARGETS[wanted]
    last = after.order.passages[-1]
    assert (last.move, last.by, last.reason) == (wanted, LATER, "it is so")
    assert after.order.passages[:-1] == order.passages


def test_that_a_move_leaves_everything_else_as_it_was() -> None:
    order = order_in(OrderState.IN_WORK, OrderState.ISSUED)
    after = moved(order, Move.SUBMIT).order
    assert replace(after, cards=order.cards, passages=()) == order
    assert after.cards == (card(1, OrderState.FOR_INSPECTION), order.cards[1])


def test_that_an_issued_card_is_the_last_and_is_given_to_its_mechanic() -> None:
    after = moved(order_in(OrderState.IN_WORK), Move.ISSUE).order
    assert after.cards[1] == replace(card(2), issued=LATER, mechanic="CD")
    assert after.passages[-1].card == 2
    with pytest.raises(ValueError, match="nothing to issue"):
        move(EMPTY, Move.ISSUE, BY)


def test_that_an_order_is_as_far_as_its_card_that_is_least_far() -> None:
    for first, second in product(CARD_STATES, CARD_STATES):
        order = order_in(first, second)
        assert order.state is CARD_STATES[min(CARD_STATES.index(first), CARD_STATES.index(second))]
    assert least(()) is OrderState.OPEN


def test_that_an_order_with_one_card_in_work_is_not_approved() -> None:
    order = order_in(OrderState.ACCEPTED, OrderState.IN_WORK)
    assert moved(order, Move.APPROVE).refusals == (
        MoveRefusal(
            "The order is in work, so this cannot be done: approve for return to service.",
            "It can be done when the order is accepted.",
        ),
    )


def test_that_a_card_that_the_order_does_not_have_is_refused_by_its_number() -> None:
    after = move(order_in(OrderState.IN_WORK), Move.SUBMIT, BY, card=3, stops=())
    assert after.refusals[0].sentence == "Order 7 has no card 3."


def test_that_a_card_of_a_void_order_is_refused_as_void() -> None:
    after = move(replace(order_in(OrderState.IN_WORK), ending=OrderState.VOID), Move.SUBMIT, BY, card=1, stops=())
    assert after.refusals[0].words == (
        "Card 1 is void, so this cannot be done: submit for inspection. It can be done when card 1 is in work."
    )


@pytest.mark.parametrize(
    ("wanted", "state"),
    [
        (Move.RETURN, OrderState.FOR_INSPECTION),
        (Move.VOID, OrderState.IN_WORK),
        (Move.NOT_APPROVE, OrderState.ACCEPTED),
    ],
)
@pytest.mark.parametrize("reason", ["", "  \n"])
def test_that_a_move_with_a_reason_is_refused_without_one(wanted: Move, state: OrderState, reason: str) -> None:
    after = move(order_in(state), wanted, BY, card=1, reason=reason)
    assert [refusal.sentence for refusal in after.refusals] == ["The reason is missing."]


def test_that_an_order_closes_only_while_its_board_is_normal() -> None:
    order = order_in(OrderState.APPROVED)
    for item in (SafeItem.PISTON_STOP, SafeItem.MAGNETO):
        order = replace(order, board=with_state(order.board, item, LATER, is_normal=False))
    assert [refusal.sentence for refusal in move(order, Move.CLOSE, BY).refusals] == [
        "Safe-state board: piston stop: in.",
        "Safe-state board: magneto: loose.",
    ]
    for item in (SafeItem.PISTON_STOP, SafeItem.MAGNETO):
        order = replace(order, board=with_state(order.board, item, LATER, is_normal=True))
    assert move(order, Move.CLOSE, BY).order.state is OrderState.CLOSED


def test_that_a_card_is_submitted_only_when_it_was_checked_and_nothing_stops_it() -> None:
    order = order_in(OrderState.IN_WORK)
    assert move(order, Move.SUBMIT, BY, card=1, stops=(STOP, STOP)) == Moved(order, (STOP, STOP))
    with pytest.raises(ValueError, match="not checked"):
        move(order, Move.SUBMIT, BY, card=1)


def test_that_a_card_is_shown_as_its_order_ended() -> None:
    order = order_in(OrderState.APPROVED)
    assert order.state_of(order.cards[0]) is OrderState.APPROVED
    assert order_in(OrderState.IN_WORK).state_of(card(1, OrderState.IN_WORK)) is OrderState.IN_WORK


def test_that_the_table_in_words_has_a_row_for_each_move() -> None:
    lines = states_table().splitlines()
    assert lines[0] == "| move | of | from | to | who | asks for |"
    assert [row.move for row in MOVES] == list(Move)
    for row, line in zip(MOVES, lines[2:], strict=True):
        cells = [cell.strip() for cell in line.strip("|").split("|")]
        assert cells == [
            row.move, row.of, ", ".join(row.sources), row.target, ", ".join(row.who), row.asks or ""
        ]  # fmt: skip


def test_that_every_state_is_reached_and_every_state_but_the_last_is_left() -> None:
    assert {row.target for row in MOVES} | {OrderState.OPEN} == set(OrderState)
    left = {state for row in MOVES for state in row.sources}
    assert set(OrderState) - left == {OrderState.CLOSED, OrderState.VOID}


class AnyMoves(RuleBasedStateMachine):
    """Any moves in any order, on an order whose board people set as they like."""

    def __init__(self) -> None:
        super().__init__()
        self.order = EMPTY
        self.made = 0

    @rule(
        wanted=st.sampled_from(Move),
        number=st.integers(0, 3),
        reason=st.sampled_from(["", "why"]),
        stops=st.sampled_from([(), (STOP,)]),
    )
    def anything(self, wanted: Move, number: int, reason: str, stops: tuple[MoveRefusal, ...]) -> None:
        before, row = self.order, row_of(wanted)
        after = move(before, wanted, BY, card=number, reason=reason, new=NEW, stops=stops)
        held = before.card(number)
        state = before.state if row.of == "order" else before.state_of(held) if held else None
        is_allowed = state in row.sources and not (
            (row.asks is Asks.REASON and not reason)
            or (row.asks is Asks.NOTHING_STOPS and stops)
            or (row.asks is Asks.BOARD_NORMAL and not_normal(before.board))
        )
        assert bool(after.refusals) is not is_allowed
        assert is_allowed or after.order is before
        self.made += is_allowed
        self.order = after.order

    @rule(item=st.sampled_from(SafeItem), is_normal=st.booleans())
    def set_board(self, item: SafeItem, is_normal: bool) -> None:
        self.order = replace(self.order, board=with_state(self.order.board, item, BY, is_normal=is_normal))

    @invariant()
    def stands_in_the_table(self) -> None:
        assert self.order.state in OrderState
        assert all(one.state in CARD_STATES for one in self.order.cards)
        assert self.order.state in ENDINGS or self.order.state is least(one.state for one in self.order.cards)
        assert len(self.order.passages) == self.made


TestAnyMoves = AnyMoves.TestCase
TestAnyMoves.settings = settings(max_examples=150, stateful_step_count=30)
