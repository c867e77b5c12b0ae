"""What the shop file keeps, as text: exact, whole, and refused when it is not what was written."""

import json
from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from desktop.core.errors import Refusal
from desktop.core.shop.orders.order import WorkOrder
from desktop.core.shop.people.people import Person
from desktop.core.shop.tools import Tool
from desktop.files.shop_json import ShopJson, digest_of
from desktop.usecases.shop.ports import Answer, Change, OrderText, ShopText
from tests.core.shop.some_orders import EMPTY, card, order_in
from tests.files.shop_values import any_of, orders

TEXT: ShopText = ShopJson()
WITH_CARDS = replace(EMPTY, cards=(card(1), card(2)))


def read(text: OrderText) -> WorkOrder:
    return TEXT.read_order(text.text, dict(text.cards).__getitem__)


@given(orders())
@settings(max_examples=60)
def test_that_an_order_comes_back_from_its_text_and_the_text_from_the_order(order: WorkOrder) -> None:
    text = TEXT.write_order(order)
    assert read(text) == order
    assert TEXT.write_order(read(text)) == text
    for old, new in zip(order.cards, read(text).cards, strict=True):
        assert new.issued.at.utcoffset() == old.issued.at.utcoffset()


@given(st.one_of([any_of(kind) for kind in (Person, Tool, Change, Answer)]))
def test_that_every_other_value_comes_back_from_its_text(value: Person | Tool | Change | Answer) -> None:
    text = TEXT.write(value)
    assert TEXT.read(text, type(value)) == value
    assert TEXT.write(TEXT.read(text, type(value))) == text


def test_that_a_task_card_is_kept_once_beside_the_orders_that_use_it() -> None:
    text = TEXT.write_order(WITH_CARDS)
    assert len(text.cards) == 1
    assert text.cards == TEXT.write_order(order_in(card().state)).cards
    assert [one["task"] for one in json.loads(text.text)["cards"]] == [text.cards[0][0]] * 2
    assert digest_of(text.cards[0][1]) == text.cards[0][0]
    assert "Do first." not in text.text


def test_that_readings_stand_in_the_text_as_they_were_typed() -> None:
    assert card().readings.format == 1
    typed = replace(card(), readings=replace(card().readings, left=None))
    assert json.loads(TEXT.write_order(replace(EMPTY, cards=(typed,))).text)["cards"][0]["readings"] == {"format": 1}


def changed(change: Callable[[dict[str, Any]], object]) -> str:
    table = json.loads(TEXT.write_order(WITH_CARDS).text)
    change(table)
    return json.dumps(table)


DAMAGED = {
    "a strange key": (changed(lambda table: table.update(colour="red")), "colour: this key is not known"),
    "a strange key deep inside": (
        changed(lambda table: table["cards"][1]["readings"].update(left={"approach": [{}, {"lamp": "1"}]})),
        "cards[2].readings.left.approach[2].lamp: this key is not known",
    ),
    "a key too few": (changed(lambda table: table.pop("customer")), "missing required field `customer`"),
    "a number for a text": (changed(lambda table: table["customer"].update(name=5)), "Expected `str`"),
    "a number for a table": (changed(lambda table: table.update(customer=5)), "Expected `object`"),
    "a state that there is not": (changed(lambda table: table.update(ending="lost")), "Invalid enum value"),
    "values that contradict": (changed(lambda table: table.update(ending="approved")), "all its cards are accepted"),
    "a time without offset": (
        changed(lambda table: table["opened"].update(at="2031-03-04T09:30:00")),
        "offset from UTC",
    ),
    "a newer form": (changed(lambda table: table.update(format=2)), "its form is 2"),
    "no form": (changed(lambda table: table.pop("format")), "its form is None"),
    "cards that are no list": (changed(lambda table: table.update(cards={})), "cards: not a list"),
    "a card that is no table": (changed(lambda table: table.update(cards=[5])), "cards[1].task: not the digest"),
    "a card without a task": (changed(lambda table: table["cards"][1].pop("task")), "cards[2].task: not the digest"),
    "half a text": (changed(lambda _table: None)[:-9], "no JSON text"),
    "a list": ("[]", "no JSON object"),
    "a text of brackets": ("[" * 100_000, "no JSON text"),
    "deep inside a key": ('{"format":1,"customer":' + "[" * 900 + "]" * 900 + "}", "Expected `object`"),
}


@pytest.mark.parametrize(("text", "words"), DAMAGED.values(), ids=DAMAGED)
def test_that_a_text_that_was_not_written_so_is_refused(text: str, words: str) -> None:
    cards = dict(TEXT.write_order(WITH_CARDS).cards)
    with pytest.raises(Refusal) as refused:
        TEXT.read_order(text, cards.__getitem__)
    assert refused.value.sentence.startswith("The shop file holds a damaged order: ")
    assert words in refused.value.sentence


def test_that_a_task_card_that_is_not_the_one_issued_is_refused() -> None:
    text = TEXT.write_order(WITH_CARDS)
    with pytest.raises(Refusal, match="a damaged task card: it is not the one that was issued"):
        TEXT.read_order(text.text, lambda digest: dict(text.cards)[digest].replace("Do first", "Skip first"))
    other = '{"format":1,"id":"T0"}'
    with pytest.raises(Refusal, match="a damaged task card: Object missing required field"):
        TEXT.read_order(text.text.replace(text.cards[0][0], digest_of(other)), lambda _digest: other)


def test_that_a_damaged_person_is_refused_by_name() -> None:
    with pytest.raises(Refusal, match="a damaged person: Object missing required field"):
        TEXT.read("{}", Person)
    with pytest.raises(Refusal, match="a damaged tool: secret: this key is not known"):
        TEXT.read('{"secret":1}', Tool)


def test_that_a_column_that_holds_nothing_is_a_damaged_text() -> None:
    with pytest.raises(Refusal, match="damaged person"):
        ShopJson().read(None, Person)  # type: ignore[arg-type]  # as a damaged file gives it
