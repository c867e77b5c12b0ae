"""A mechanic fills a card: readings, confirmations, remarks."""

from collections.abc import Callable
from dataclasses import replace

import pytest

from desktop.core.errors import Refusal
from desktop.core.shop.orders.order_card import ReadingTaken
from desktop.core.shop.orders.order_moves import NewCard
from desktop.core.shop.orders.order_states import Move, OrderState
from desktop.core.shop.orders.safe_state import SafeItem, not_normal
from desktop.core.timing.readings import Side
from desktop.core.timing.typed_card import TypedMagneto
from desktop.core.timing.typed_paths import value_at
from desktop.usecases.fill_card import empty_card
from desktop.usecases.shop.cards.confirm_step import confirm_step, take_back_step
from desktop.usecases.shop.cards.issue_card import issue_card
from desktop.usecases.shop.cards.submit_card import submit_card
from desktop.usecases.shop.cards.take_reading import put_magneto, take_reading
from desktop.usecases.shop.cards.write_remark import write_remark
from desktop.usecases.shop.ports import Answer
from tests.usecases.shop.shop_floor import SOUND, TIMING, Floor

LIGHT = "left.approach[1].light"


def test_that_the_first_reading_begins_the_card() -> None:
    floor = Floor().with_card(empty_card())
    answer = take_reading(floor.shop, floor.by("MECH"), 1, 1, (LIGHT, "338 ½"), ("left.approach[1].when", "as found"))
    assert answer.version == 3
    assert floor.order().state is OrderState.IN_WORK
    assert floor.order().passages[-1].move is Move.BEGIN
    assert value_at(floor.card().readings, LIGHT) == "338 ½"
    assert value_at(floor.card().readings, "left.approach[1].when") == "as found"
    assert [taken.path for taken in floor.card().taken] == [LIGHT, "left.approach[1].when"]


def test_that_who_took_a_reading_stands_beside_it_with_the_tool() -> None:
    floor = Floor().with_card(empty_card())
    take_reading(floor.shop, floor.by("MECH"), 1, 1, (LIGHT, "338"), tool="L-1")
    take_reading(floor.shop, floor.by("HELP"), 1, 1, ("left.approach[1].back", "336"), tool="L-1")
    taken = floor.card().taken
    assert [(one.path, one.by.person, one.by.under, one.tool) for one in taken] == [
        (LIGHT, "MECH", "", "L-1"),
        ("left.approach[1].back", "HELP", "MECH", "L-1"),
    ]
    take_reading(floor.shop, floor.by("HELP"), 1, 1, (LIGHT, "338"), tool="W-3")
    assert floor.card().taken_at(LIGHT) == ReadingTaken(LIGHT, floor.card().taken[0].by, "W-3")
    assert floor.card().taken[0].by.person == "HELP"
    assert floor.store.changes_since(1, 4)[0].said == ("card 1: who took a reading, or with which tool",)


def test_that_the_same_value_again_changes_nothing() -> None:
    floor = Floor().with_card(empty_card())
    take_reading(floor.shop, floor.by("MECH"), 1, 1, (LIGHT, "338"), tool="L-1")
    before = floor.order()
    for tool in ("", "L-1"):
        assert take_reading(floor.shop, floor.by("HELP"), 1, 1, (LIGHT, "338"), tool=tool).version == before.version
    assert floor.order() == before


def test_that_looking_at_an_issued_card_does_not_begin_it() -> None:
    floor = Floor().with_card(empty_card())
    take_reading(floor.shop, floor.by("MECH"), 1, 1, (LIGHT, ""))
    put_magneto(floor.shop, floor.by("MECH"), 1, 1, Side.LEFT, TypedMagneto())
    take_back_step(floor.shop, floor.by("MECH"), 1, 1, "switch-off")
    assert (floor.order().version, floor.order().state) == (2, OrderState.ISSUED)


def test_that_a_value_taken_away_takes_its_mark_along() -> None:
    floor = Floor().with_card(empty_card())
    take_reading(floor.shop, floor.by("MECH"), 1, 1, (LIGHT, "338"), ("right.approach[1].light", "337"))
    take_reading(floor.shop, floor.by("MECH"), 1, 1, (LIGHT, ""))
    assert [taken.path for taken in floor.card().taken] == ["right.approach[1].light"]
    magneto = floor.card().readings.right
    put_magneto(floor.shop, floor.by("MECH"), 1, 1, Side.RIGHT, None)
    assert floor.card().taken == ()
    assert floor.card().readings.right is None
    put_magneto(floor.shop, floor.by("HELP"), 1, 1, Side.RIGHT, magneto)
    assert floor.card().readings.right == magneto
    assert [(taken.path, taken.by.person) for taken in floor.card().taken] == [("right.approach[1].light", "HELP")]
    put_magneto(floor.shop, floor.by("MECH"), 1, 1, Side.RIGHT, TypedMagneto())
    put_magneto(floor.shop, floor.by("MECH"), 1, 1, Side.RIGHT, None)
    put_magneto(floor.shop, floor.by("MECH"), 1, 1, Side.RIGHT, TypedMagneto())
    assert floor.card().taken == ()


def test_that_who_took_a_reading_moves_up_when_an_entry_before_it_goes() -> None:
    floor = Floor().with_card(empty_card())
    for place, person in ((1, "MECH"), (2, "HELP"), (3, "MECH")):
        path = f"left.approach[{place}].light"
        take_reading(floor.shop, floor.by(person), 1, 1, (path, f"33{place}"), tool="L-1")
    take_reading(floor.shop, floor.by("MECH"), 1, 1, ("left.rotation", "right"), ("right.approach[2].light", "337"))
    before = floor.card().taken
    take_reading(floor.shop, floor.by("HELP"), 1, 1, ("left.approach[1].light", None))
    assert [(one.path, one.by) for one in floor.card().taken] == [
        ("left.approach[1].light", before[1].by),
        ("left.approach[2].light", before[2].by),
        ("left.rotation", before[3].by),
        ("right.approach[2].light", before[4].by),
    ]
    take_reading(floor.shop, floor.by("HELP"), 1, 1, ("left.approach[2].light", None))
    assert [one.path for one in floor.card().taken][:2] == ["left.approach[1].light", "left.rotation"]


@pytest.mark.parametrize("text", ["twenty-two", "22..5", "<max>", "=1+1"])
def test_that_text_that_cannot_be_read_is_kept_as_it_was_typed(text: str) -> None:
    floor = Floor().with_card(empty_card())
    take_reading(floor.shop, floor.by("MECH"), 1, 1, ("limits.left_btdc", text))
    assert value_at(floor.card().readings, "limits.left_btdc") == text


@pytest.mark.parametrize(
    ("path", "value", "tool", "words"),
    [
        (LIGHT, "22", "L-7", 'There is no tool "L-7"'),
        ("left.approach[100].light", "22", "", "99 are the most"),
        ("left.approach[0].light", "22", "", "entries count from 1"),
        (LIGHT, "2" * 2001, "", "2001 signs"),
        (LIGHT, "22\u200b", "", r"invisible sign \(U\+200B\)"),
    ],
)
def test_that_what_cannot_be_kept_is_refused_and_nothing_changes(path: str, value: str, tool: str, words: str) -> None:
    floor = Floor().with_card(empty_card())
    before = floor.order()
    with pytest.raises(Refusal, match=words):
        take_reading(floor.shop, floor.by("MECH"), 1, 1, (path, value), tool=tool)
    assert floor.order() == before


def test_that_a_path_that_no_card_has_is_a_bug() -> None:
    floor = Floor().with_card(empty_card())
    with pytest.raises(KeyError):
        take_reading(floor.shop, floor.by("MECH"), 1, 1, ("left.colour", "red"))


def test_that_a_card_that_the_order_does_not_have_takes_no_reading() -> None:
    floor = Floor().with_card(empty_card())
    with pytest.raises(Refusal, match="Order 1 has no card 2"):
        take_reading(floor.shop, floor.by("MECH"), 1, 2, (LIGHT, "22"))


def test_that_a_step_is_confirmed_by_whoever_did_it_and_taken_back() -> None:
    floor = Floor().with_card()
    confirm_step(floor.shop, floor.by("HELP"), 1, 1, "switch-off")
    confirm_step(floor.shop, floor.by("MECH"), 1, 1, "tools-ready", tools=("L-1", "W-3"))
    confirm_step(floor.shop, floor.by("MECH"), 1, 1, "data-current", text=" manual M-360, revision 9 ")
    assert floor.order().state is OrderState.IN_WORK
    done = {one.step: one for one in floor.card().steps}
    assert (done["switch-off"].by.person, done["switch-off"].by.under) == ("HELP", "MECH")
    assert done["tools-ready"].tools == ("L-1", "W-3")
    assert done["data-current"].text == "manual M-360, revision 9"
    confirm_step(floor.shop, floor.by("MECH"), 1, 1, "switch-off")
    again = floor.card().done("switch-off")
    assert again is not None
    assert again.by.person == "MECH"
    take_back_step(floor.shop, floor.by("MECH"), 1, 1, "switch-off")
    assert [one.step for one in floor.card().steps] == ["tools-ready", "data-current"]
    assert floor.store.changes_since(1, 6)[0].said == ("card 1: step 3 is not confirmed any more",)


@pytest.mark.parametrize(
    ("step", "tools", "words"),
    [
        ("dance", (), 'Card 1 has no step "dance"'),
        ("data-current", (), "asks for a text"),
        ("tools-ready", ("L-1", "X-1"), 'There is no tool "X-1"'),
    ],
)
def test_that_a_confirmation_that_says_nothing_is_refused(step: str, tools: tuple[str, ...], words: str) -> None:
    floor = Floor().with_card()
    with pytest.raises(Refusal, match=words):
        confirm_step(floor.shop, floor.by("MECH"), 1, 1, step, text=" ", tools=tools)
    assert floor.card().steps == ()


def test_that_a_remark_stands_on_the_card_with_what_it_is_about() -> None:
    floor = Floor().with_card()
    write_remark(floor.shop, floor.by("MECH"), 1, 1, " The stop was stiff. ")
    write_remark(floor.shop, floor.by("MECH"), 1, 1, "No second pair could be taken.", about="closing-pair at stop")
    assert [(one.text, one.about) for one in floor.card().remarks] == [
        ("The stop was stiff.", ""),
        ("No second pair could be taken.", "closing-pair at stop"),
    ]
    with pytest.raises(Refusal, match="Nothing is written"):
        write_remark(floor.shop, floor.by("MECH"), 1, 1, " \n")


def test_that_nothing_is_written_on_a_card_that_is_with_the_inspector() -> None:
    floor = Floor().with_card().with_initials()
    submit_card(floor.shop, floor.by("MECH"), 1, 1)
    before = floor.order()
    refused: list[Callable[[], Answer]] = [
        lambda: take_reading(floor.shop, floor.by("MECH"), 1, 1, (LIGHT, "22")),
        lambda: put_magneto(floor.shop, floor.by("MECH"), 1, 1, Side.RIGHT, None),
        lambda: confirm_step(floor.shop, floor.by("MECH"), 1, 1, "switch-off"),
        lambda: take_back_step(floor.shop, floor.by("MECH"), 1, 1, "switch-off"),
        lambda: write_remark(floor.shop, floor.by("MECH"), 1, 1, "late"),
    ]
    for act in refused:
        with pytest.raises(Refusal, match=r"Card 1 is for inspection.*Have it returned first"):
            act()
    assert floor.order() == before


def test_that_an_inspector_takes_no_reading() -> None:
    floor = Floor().with_card()
    with pytest.raises(Refusal, match="It takes the right of mechanic or helper"):
        take_reading(floor.shop, replace(floor.by("INSP")), 1, 1, (LIGHT, "22"))


def test_that_a_confirmed_step_sets_what_it_says_of_the_board() -> None:
    floor = Floor().with_order()
    leads = replace(TIMING.steps[2], id="leads-off", board="plug leads off")
    task = replace(TIMING, steps=(*TIMING.steps, leads))
    issue_card(floor.shop, floor.by("DESK"), 1, NewCard(task, SOUND))
    confirm_step(floor.shop, floor.by("MECH"), 1, 1, "switch-off")
    assert not_normal(floor.order().board) == ()
    confirm_step(floor.shop, floor.by("MECH"), 1, 1, "leads-off")
    (standing,) = not_normal(floor.order().board)
    assert (standing.item, standing.word, standing.by.person) == (SafeItem.PLUG_LEADS, "off", "MECH")
