"""What a card captures on its order: what another card of the order captures for it is not asked of it."""

from dataclasses import replace

from desktop.core.rules.rule import Severity
from desktop.core.rules.rulebook import SaidFinding
from desktop.core.shop.cards.card_scope import RUN_UP, RUN_UP_FOUND, TIMED, TORQUE, scoped
from desktop.core.shop.orders.card_facts import captures_among, captures_on, facts_of_typed
from desktop.core.timing.typed_card import TypedCard, TypedTorque
from desktop.files.cards import builtin_cards
from tests.core.shop.some_orders import EMPTY, card

CARDS = {one.id: one for one in builtin_cards()}


def test_that_the_run_up_belongs_to_the_card_that_takes_it() -> None:
    assert RUN_UP in captures_among(CARDS["T4"], ["T4"])
    assert RUN_UP not in captures_among(CARDS["T4"], ["T4", "R2"])
    assert RUN_UP in captures_among(CARDS["R2"], ["T4", "R2"])
    assert captures_among(CARDS["R1"], ["R1", "T4", "R2"]) & (TIMED | {RUN_UP, RUN_UP_FOUND}) == {RUN_UP_FOUND}


def test_that_fitting_a_magneto_takes_torques_and_no_timing() -> None:
    held = captures_among(CARDS["I1"], ["S1", "T3", "B1", "T2", "I1", "T4", "P1", "H1", "C1", "R2"])
    assert TORQUE in held
    assert not held & TIMED


def test_that_a_card_on_an_order_is_seen_with_the_others() -> None:
    first = replace(card(), task=CARDS["T4"])
    second = replace(card(), number=2, task=CARDS["R2"])
    alone = replace(EMPTY, cards=(first,))
    both = replace(EMPTY, cards=(first, second))
    assert RUN_UP in captures_on(alone, first)
    assert RUN_UP not in captures_on(both, first)
    # Another card of the same kind covers nothing.
    twice = replace(EMPTY, cards=(first, replace(first, number=2)))
    assert RUN_UP in captures_on(twice, first)


def test_that_a_torque_is_known_before_it_is_whole() -> None:
    assert "torque" in facts_of_typed(TypedCard(torque=(TypedTorque("clamp"),)))
    assert "torque" not in facts_of_typed(TypedCard())


def test_that_a_closing_pair_is_asked_for_where_one_is_taken() -> None:
    finding = SaidFinding("no-closing-pair", Severity.EXPLAIN, "stop", "None was taken.", "Practice.")
    assert scoped(frozenset({"stop pairs"}), [finding]) == ()
    assert scoped(frozenset({"stop pairs", "closing pair"}), [finding]) == (finding,)
    assert scoped(frozenset({"as left left"}), [finding]) == (finding,)
