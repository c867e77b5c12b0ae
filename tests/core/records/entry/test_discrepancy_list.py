"""The dated list that goes to the owner with an order that is not approved."""

from dataclasses import replace

from desktop.core.records.entry.discrepancy_list import discrepancy_words, list_of_discrepancies
from desktop.core.rules.rule import Severity
from desktop.core.rules.rulebook import SaidFinding
from tests.core.records.entry.entry_orders import DAY, LIST, NOTES, ORDER, STOPS
from tests.core.shop.some_orders import EMPTY


def test_that_the_list_names_its_day_its_order_and_its_engine() -> None:
    assert (LIST.order, LIST.dated) == ("W-0007", DAY)
    assert LIST.aircraft == "X-ABCD, Twinwing 2, no. A-5"
    assert LIST.engine == "Fourbanger 360, no. E-77, left engine"


def test_that_the_reason_what_is_not_closed_and_what_stops_stand_on_it_numbered() -> None:
    assert [(one.number, one.text) for one in LIST.entries] == [
        (1, "The magneto cannot be set within its slots."),
        (2, "Oil on the harness (open)"),
        (3, "Worn plug (declined: next visit; Mr Owner spoke for the customer)"),
        (4, "Faded placard (deferred)"),
        (5, "The left magneto is 3° advanced."),
    ]


def test_that_each_entry_says_where_it_comes_from() -> None:
    assert [one.source for one in LIST.entries] == [
        "the words of whoever did not approve the work",
        "Discrepancy 1 of the order",
        "Discrepancy 2 of the order",
        "Discrepancy 4 of the order",
        "Finding advanced at left.approach[2]. Limits.",
    ]


def test_that_a_finding_that_only_repeats_a_discrepancy_is_not_listed_beside_it() -> None:
    repeats = SaidFinding("discrepancy-open", Severity.STOPS, "discrepancies[1]", "Discrepancy 1 is open.", "Shop.")
    assert list_of_discrepancies(ORDER, (repeats, NOTES), DAY).entries == list_of_discrepancies(ORDER, (), DAY).entries


def test_that_the_same_sentence_about_two_places_stands_twice_and_about_one_place_once() -> None:
    there = replace(STOPS, where="right.approach[1]")
    assert len(list_of_discrepancies(EMPTY, (STOPS, there, STOPS), DAY).entries) == 2


def test_that_an_order_with_nothing_against_it_gives_an_empty_list() -> None:
    assert list_of_discrepancies(EMPTY, (NOTES,), DAY, " ").entries == ()


def test_that_words_that_begin_with_the_outcome_do_not_say_it_twice() -> None:
    found = ORDER.discrepancies[3]
    assert found.settled is not None
    put_off = replace(found, settled=replace(found.settled, words="Deferred to the annual inspection"))
    assert discrepancy_words(put_off) == "Faded placard (Deferred to the annual inspection)"
    elsewhere = replace(found, settled=replace(found.settled, words="until the annual inspection"))
    assert discrepancy_words(elsewhere) == "Faded placard (deferred: until the annual inspection)"
