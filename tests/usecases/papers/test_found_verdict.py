"""The timing as found on a card that takes no other: large words, its dial, and a ruler that reaches so far."""

from dataclasses import replace

import pytest

from desktop.core.shop.cards.task_card import TaskCard
from desktop.core.shop.sheets.sheet_set import SheetSet
from desktop.core.timing.results import Worked
from desktop.files.cards import builtin_cards
from desktop.files.readings import read_readings
from desktop.usecases.check_readings import check_readings
from desktop.usecases.papers.cards.found_verdict import found_block
from desktop.usecases.papers.cards.order_card import CardPaper, order_card_paper
from reports.document import Document, Result, RingShape
from reports.drawing import Drawing
from tests.door import RULEBOOK
from tests.toml_card import changed, sound_card, text_of
from tests.usecases.papers.pages import inside, pages, words
from tests.usecases.records.sections.whole_card import CARD, said

FOUND_CARD: TaskCard = next(card for card in builtin_cards() if card.id == "T3")


def worked(light: str, *, began: str = "310") -> Worked:
    """Work out the sound card, nominal 22, of which only one approach as found was taken; 338 reads 22."""
    found = [{"when": "as found", "from": began, "light": light, "back": str(int(light) - 2)}]
    card = changed(sound_card(), {"left.approach": found, "right.approach": found})
    return check_readings(read_readings(text_of(card).encode()), RULEBOOK).worked


def block(light: str, *, began: str = "310") -> object:
    one = worked(light, began=began)
    assert one.left is not None
    return found_block(one, one.left)


def paper(light: str, task: TaskCard = FOUND_CARD) -> Document:
    told = said()
    checked = told.state.checked
    assert checked is not None
    state = replace(told.state, checked=replace(checked, worked=worked(light)))
    card = replace(CARD, task=task, sheets=(), steps=())
    return order_card_paper(
        CardPaper(replace(told, card=card, state=state, steps=(), sheets=()), "Mill", SheetSet()), blank=False
    )


@pytest.mark.parametrize(
    ("light", "began", "verdict", "shape"),
    [
        ("338", "310", "Left magneto. As found: 22° BTDC, within limits", "closed"),
        ("337", "310", "Left magneto. As found: 23° BTDC, within limits", "closed"),
        ("344", "310", "Left magneto. As found: 16° BTDC, OUT OF LIMITS", "half"),
        ("330", "300", "Left magneto. As found: 30° BTDC, OUT OF LIMITS", "half"),
        ("338", "345", "Left magneto. As found: not established", "crossed"),
    ],
)
def test_that_the_large_words_say_what_was_found(light: str, began: str, verdict: str, shape: RingShape) -> None:
    (result,) = inside(block(light, began=began), Result)
    assert (result.verdict, result.shape) == (verdict, shape)


def test_that_the_deviation_and_the_limits_stand_below() -> None:
    assert "6° retarded; limits 21° to 23° BTDC." in words(block("344"))
    assert "No approach as found counts. The row of each says why." in words(block("338", began="345"))


@pytest.mark.parametrize(("light", "number"), [("344", "16"), ("330", "30"), ("338", "22")])
def test_that_the_ruler_reaches_what_was_found(light: str, number: str) -> None:
    said_there = [one.says for one in inside(block(light), Drawing)]
    assert any(f"The light came at {number} degrees BTDC" in one for one in said_there)


def test_that_a_card_of_the_timing_as_found_is_not_called_not_established() -> None:
    found = paper("344")
    assert [one.verdict for one in inside(found, Result)] == [
        "Left magneto. As found: 16° BTDC, OUT OF LIMITS",
        "Right magneto. As found: 16° BTDC, OUT OF LIMITS",
    ]
    text = " ".join(pages(found))
    assert "As found: 16° BTDC, OUT OF LIMITS" in text
    assert "Not established" not in text
    timing = next(card for card in builtin_cards() if card.id == "T4")
    assert "Not established" in words(paper("344", timing))
