"""Cards that use sections of other cards, and steps that are made into one for each magneto."""

import pytest

from desktop.core.errors import Refusal
from desktop.core.shop.cards.task_card import Box, BoxKind, Say, TaskCard
from desktop.files.card_steps import MOST_STEPS
from desktop.files.cards import load_card, load_cards

HEAD = 'id = "{id}"\nrevision = 1\ntitle = "Try {id}"\nscheme = "The scheme of {id}."\napplies = "Everywhere."\n'
BARE = HEAD.replace('scheme = "The scheme of {id}."\n', "")
STEP = '\n[[step]]\nid = "{0}"\ninstruction = "Do {0}."\ncapture = "confirm"\ninitials = true\n{1}'


def _head(card_id: str) -> str:
    return HEAD.replace("{id}", card_id)


def _step(step_id: str, more: str = "") -> str:
    return STEP.replace("{0}", step_id).replace("{1}", more)


def _use(card: str, sections: str, more: str = "") -> str:
    return f'\n[[use]]\ncard = "{card}"\nsections = {sections}\n{more}'


def _cards(*texts: str, known: tuple[TaskCard, ...] = ()) -> tuple[TaskCard, ...]:
    files = tuple((f"{number}.toml", text.encode("utf-8")) for number, text in enumerate(texts, 1))
    return load_cards(files, known)


def _refused(*texts: str, known: tuple[TaskCard, ...] = ()) -> str:
    with pytest.raises(Refusal) as caught:
        _cards(*texts, known=known)
    assert caught.value.sentence.isprintable()
    return caught.value.sentence


def _ids(card: TaskCard) -> list[str]:
    return [step.id for step in card.steps]


LENT = (
    _head("L")
    + _step("one", 'section = "first"\n')
    + _step("two", 'section = "first"\nonly = ["not safe elsewhere", "disc"]\n')
    + _step("three", 'section = "last"\n')
    + _step("own")
)


def test_that_sections_stand_before_the_step_they_name_and_the_others_after_all() -> None:
    text = _head("U") + _step("a") + _step("b") + _use("L", '["last"]') + _use("L", '["first"]', 'before = "b"\n')
    _, user = _cards(LENT, text)
    assert _ids(user) == ["a", "one", "two", "b", "three"]
    assert [step.section for step in user.steps] == ["", "first", "first", "", "last"]


def test_that_sections_come_in_the_order_in_which_a_use_names_them() -> None:
    _, user = _cards(LENT, _head("U") + _use("L", '["last", "first"]'))
    assert _ids(user) == ["three", "one", "two"]


def test_that_a_use_asks_its_conditions_of_every_step_beside_their_own() -> None:
    _, user = _cards(LENT, _head("U") + _use("L", '["first"]', 'only = ["disc", "not marks"]\n'))
    assert [step.only for step in user.steps] == [("disc", "not marks"), ("not safe elsewhere", "disc", "not marks")]


def test_that_what_is_used_whole_asks_nothing_about_other_cards() -> None:
    boxes = """
[[step.say]]
only = ["safe elsewhere"]
text = "Only beside another card."

[[step.say]]
only = ["not safe elsewhere", "disc"]
text = "Alone."

[[step.box]]
kind = "note"
hazard = "beside"
text = "It helps beside another."
only = ["closed elsewhere"]

[[step.box]]
kind = "note"
hazard = "alone"
text = "It helps alone."
only = ["not closed elsewhere", "disc"]
"""
    lent = _head("L") + _step("one", f'section = "first"\nonly = ["not safe elsewhere", "disc"]\n{boxes}')
    _, user = _cards(lent, _head("U") + _use("L", '["first"]', "whole = true\n"))
    step = user.steps[0]
    assert step.only == ("disc",)
    assert step.says == (Say("Alone.", ("disc",)),)
    assert step.boxes == (Box(BoxKind.NOTE, "alone", "It helps alone.", ("disc",)),)


def test_that_a_card_may_use_one_that_uses_another_whatever_the_order_of_the_files() -> None:
    middle = _head("M") + _step("mine") + _use("L", '["first"]')
    user, _, _ = _cards(_head("U") + _use("M", '["first"]'), middle, LENT)
    assert _ids(user) == ["one", "two"]


def test_that_a_card_without_a_scheme_has_that_of_the_first_card_it_uses() -> None:
    _, user = _cards(LENT, BARE.replace("{id}", "U") + _use("L", '["last"]'))
    assert user.scheme == "The scheme of L."


def test_that_known_cards_are_used_and_their_ids_kept() -> None:
    known = _cards(LENT)
    assert _ids(load_card((_head("U") + _use("L", '["last"]')).encode("utf-8"), "u.toml", known)) == ["three"]
    assert _refused(LENT, known=known).startswith('1.toml: id: "L" is the id of a card of the program.')
    assert _refused(LENT.replace('"L"', '"l"'), known=known).startswith('1.toml: id: "l" is the id of a card')


def test_that_two_files_with_one_id_are_refused() -> None:
    assert _refused(LENT, LENT.replace('"L"', '"l"')).startswith('2.toml: id: "l" is the id of the card in 1.toml.')


@pytest.mark.parametrize(
    ("text", "said"),
    [
        (_use("X", '["first"]'), '2.toml: use 1: card: "X" is not known here.'),
        (_use("L", '["second"]'), '2.toml: use 1: sections: "second" is no section of L. It has: first, last.'),
        (_use("L", "[]"), "2.toml: use 1: sections: expected the name of at least one section."),
        (_use("L", '["last"]', 'before = "z"\n'), '2.toml: use 1: before: "z" is no step of this card.'),
        (_use("L", '["last"]', 'only = ["up"]\n'), '2.toml: use 1: only: "up" is not known here.'),
        (_use("L", '["first"]', 'only = ["not disc"]\n'), "2.toml: use 1: only: with the step two, "),
        (_use("L", '["last", "last"]'), "2.toml: use 1: sections: a section stands there twice."),
        (_step("three") + _use("L", '["last"]'), "2.toml: use 1: sections: the step three stands on the card already"),
        (_use("L", '["last"]') * 2, "2.toml: use 2: sections: the step three stands on the card already (use 1"),
        (_use("L", '["last"]', "size = 2\n"), '2.toml: use 1: "size": this key is not known here.'),
        (_use("L", '"last"'), "2.toml: use 1: sections: expected a list, found text in quotes."),
        (_use("U", '["last"]'), "2.toml: use 1: card: a circle: U uses U."),
    ],
)
def test_that_a_use_that_cannot_be_is_named_with_file_use_and_key(text: str, said: str) -> None:
    assert _refused(LENT, _head("U") + text).startswith(said)


def test_that_a_card_without_sections_says_that_it_has_none() -> None:
    assert _refused(_head("L") + _step("own"), _head("U") + _use("L", '["x"]')).endswith("It has: none.")


def test_that_cards_that_use_one_another_in_a_circle_are_refused() -> None:
    one = _head("A") + _step("a", 'section = "s"\n') + _use("B", '["s"]')
    other = _head("B") + _step("b", 'section = "s"\n') + _use("A", '["s"]')
    assert _refused(one, other).startswith("2.toml: use 1: card: a circle: A uses B uses A.")


def test_that_a_card_of_too_many_steps_is_refused() -> None:
    many = "".join(_step(f"s{number}") for number in range(MOST_STEPS))
    assert len(_cards(_head("A") + many)[0].steps) == MOST_STEPS
    assert f"more than {MOST_STEPS} steps" in _refused(_head("A") + many + _step("one-more"))


EACH = """
[[step]]
id = "look"
each = "magneto"
only = ["not {side} impulse"]
instruction = "Look at the {magneto}."
description = "Of the {magneto}."
capture = "confirm"
initials = true

[[step.say]]
only = ["{side} impulse"]
text = "The {magneto} snaps."

[[step.box]]
kind = "note"
hazard = "look"
text = "The {magneto} is heavy."
only = ["{side} impulse"]
"""
SIDED = EACH.replace('"magneto"', '"side"').replace("{magneto}", "{side} breaker").replace('id = "look"', 'id = "gap"')


def test_that_a_step_for_each_magneto_stands_for_left_right_and_the_one_housing() -> None:
    left, housing, right = _cards(_head("A") + EACH)[0].steps
    assert [one.id for one in (left, housing, right)] == ["look-left", "look-housing", "look-right"]
    assert [one.side for one in (left, housing, right)] == ["left", "", "right"]
    assert left.only == ("left", "not one housing", "not left impulse")
    assert housing.only == ("one housing", "not impulse")
    assert right.only == ("right", "not one housing", "not right impulse")
    assert (left.instruction, housing.instruction) == ("Look at the left magneto.", "Look at the housing.")
    assert right.description == "Of the right magneto."
    assert housing.says == (Say("The housing snaps.", ("impulse",)),)
    assert right.boxes == (Box(BoxKind.NOTE, "look", "The right magneto is heavy.", ("right impulse",)),)


def test_that_a_step_for_each_side_stands_for_both_breakers_of_one_housing() -> None:
    left, right = _cards(_head("A") + SIDED)[0].steps
    assert (left.id, left.only) == ("gap-left", ("left", "not left impulse"))
    assert (right.id, right.instruction) == ("gap-right", "Look at the right breaker.")


def test_that_a_run_is_worked_through_for_the_left_first_until_something_else_stands_between() -> None:
    again = SIDED.replace('id = "gap"', 'id = "shut"')
    run = ["look-left", "look-housing", "gap-left", "look-right", "gap-right"]
    card = _cards(_head("A") + EACH + SIDED + _step("between") + again)[0]
    assert _ids(card) == [*run, "between", "shut-left", "shut-right"]
    _, used = _cards(LENT, _head("A") + EACH + SIDED + again + _use("L", '["last"]', 'before = "shut"\n'))
    assert _ids(used) == [*run, "three", "shut-left", "shut-right"]


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ('id = "look"', f'id = "{"a" * 36}"', "made into"),
        ('"not {side} impulse"', '"not left"', "asked for and excluded"),
        ('"not {side} impulse"', '"one housing"', "asked for and excluded"),
        ("Look at the", "Look " * 17 + "at the", "21 words, and 20 is the most"),
    ],
)
def test_that_a_step_that_is_wrong_for_one_magneto_is_refused_with_its_place(old: str, new: str, said: str) -> None:
    told = _refused(_head("A") + EACH.replace(old, new))
    assert told.startswith("1.toml: step 1 (")
    assert said in told


def test_that_a_condition_that_is_none_for_a_side_is_refused() -> None:
    told = _refused(_head("A") + EACH.replace('"not {side} impulse"', '"{side} wing"'))
    assert told.startswith('1.toml: step 1 (look): only: "left wing" is not known here.')
