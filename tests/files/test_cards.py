"""Cards from files: what is read, what is refused and with which place, and what every shipped card keeps to."""

import re
from collections.abc import Callable
from itertools import combinations

import pytest

from desktop.core.errors import Refusal
from desktop.core.shop.cards.task_card import Box, BoxKind, Say, Step, TaskCard, holds
from desktop.files.cards import builtin_cards, load_card, sentences

GOOD = """
id = "X1"
revision = 2
title = "Check the lamp"
scheme = "WARNING: injury or death."
applies = "Everywhere."

[[step]]
id = "first"
instruction = "Take the lamp off the shelf."
capture = "tool"

[[step]]
id = "second"
only = ["disc", "not zeroed"]
instruction = "Turn the lamp to No. 1 and hold it."
description = "It is heavy."
capture = "confirm"
initials = true
inspector = true

[[step.box]]
kind = "warning"
hazard = "hot-lamp"
text = "A hot lamp burns. Wear gloves. A burn can kill."

[[step.box]]
kind = "note"
hazard = "weight"
text = "The lamp weighs two kilograms."
only = ["left"]
"""
CARDS = builtin_cards()
TEXTS = [
    (f"{card.id} {step.id}", text)
    for card in CARDS
    for step in card.steps
    for text in (step.description, *(say.text for say in step.says), *(box.text for box in step.boxes))
    if text
]
ORDERS = {
    "Take",
    "Turn",
    "Keep",
    "Stay",
    "Set",
    "Use",
    "Clear",
    "Prove",
    "Look",
    "Write",
    "Never",
    "Do",
    "Make",
    "Pass",
}


def _refused(text: str) -> str:
    with pytest.raises(Refusal) as caught:
        load_card(text.encode("utf-8"), "shop.toml")
    return caught.value.sentence


def _edited(old: str, new: str) -> str:
    assert GOOD.count(old) == 1, old
    return GOOD.replace(old, new)


def test_that_a_good_card_is_read_whole() -> None:
    boxes = (
        Box(BoxKind.WARNING, "hot-lamp", "A hot lamp burns. Wear gloves. A burn can kill."),
        Box(BoxKind.NOTE, "weight", "The lamp weighs two kilograms.", ("left",)),
    )
    first = Step("first", (), (), "Take the lamp off the shelf.", "", "tool", initials=False, inspector=False)
    second = Step(
        id="second",
        only=("disc", "not zeroed"),
        boxes=boxes,
        instruction="Turn the lamp to No. 1 and hold it.",
        description="It is heavy.",
        capture="confirm",
        initials=True,
        inspector=True,
    )
    expected = TaskCard("X1", 2, "Check the lamp", "WARNING: injury or death.", "Everywhere.", (first, second))
    assert load_card(GOOD.encode("utf-8"), "shop.toml") == expected


SECOND = "shop.toml: step 2 (second)"


@pytest.mark.parametrize(
    ("old", "new", "begins", "holds"),
    [
        ('id = "X1"\n', "", "shop.toml: id: ", "missing"),
        ('id = "X1"\n', 'id = "X1"\nshape = 1\n', 'shop.toml: "shape": ', "not known"),
        ('id = "X1"', 'id = "X123456789012345678901234567890"', "shop.toml: id: ", "20 is the most"),
        ('title = "Check the lamp"', 'title = " "', "shop.toml: title: ", "nothing is written"),
        ('title = "Check the lamp"', f'title = "{"a" * 121}"', "shop.toml: title: ", "120 is the most"),
        ("revision = 2", "revision = 0", "shop.toml: revision: ", "1 or more"),
        ("revision = 2", 'revision = "2"', "shop.toml: revision: ", "expected a whole number, found text in quotes"),
        ("revision = 2", "revision = ", "shop.toml: ", "not valid TOML"),
        ("initials = true", "initials = 1", f"{SECOND}: initials: ", "expected true or false, found a whole number"),
        ('id = "second"\n', "", "shop.toml: step 2: id: ", "missing"),
        ('id = "second"', 'id = "Second"', "shop.toml: step 2: id: ", "no id"),
        ('id = "second"', f'id = "{"s" * 41}"', "shop.toml: step 2: id: ", "no id"),
        ('id = "second"', 'id = "first"', "shop.toml: step 2 (first): id: ", "step 1 has this id already"),
        ('"not zeroed"', '"diesel"', f'{SECOND}: only: "diesel" ', "not known"),
        ('"not zeroed"', '"not disc"', f'{SECOND}: only: "disc" ', "never applies"),
        ('"not zeroed"', "4", f"{SECOND}: only 2: ", "expected text in quotes, found a whole number"),
        ('capture = "confirm"', 'capture = "photo"', f'{SECOND}: capture: "photo" ', "not known"),
        ('capture = "confirm"', "", f"{SECOND}: capture: ", "missing"),
        ("initials = true", 'initials = true\nboard = "door open"', f'{SECOND}: board: "door open" ', "not known"),
        ("and hold it.", "and hold it. Put it down.", f"{SECOND}: instruction: ", "more than one sentence"),
        ("and hold it.", "x " * 15, f"{SECOND}: instruction: ", "21 words, and 20"),
        ("and hold it.", "WARNING", f"{SECOND}: instruction: ", "box before the step"),
        ("and hold it.", "Caution: hot", f"{SECOND}: instruction: ", "box before the step"),
        ("It is heavy.", "Beware of it.", f"{SECOND}: description: ", "box before the step"),
        ("It is heavy.", "NOTE it is heavy.", f"{SECOND}: description: ", "box before the step"),
        ("It is heavy.", "It is heavy. " * 7, f"{SECOND}: description: ", "7 sentences, and 6"),
        ("It is heavy.", f"It is. {'x ' * 26}", f"{SECOND}: description: ", "26 words, and 25"),
        ("It is heavy.", "x" * 601, f"{SECOND}: description: ", "600 is the most"),
        ("It is heavy.", "It is\\nheavy.", f"{SECOND}: description: ", "invisible"),
        ("It is heavy.", "It is\u202eheavy.", f"{SECOND}: description: ", "invisible"),
        ('id = "X1"', 'id = "X 1"', 'shop.toml: id: "X 1" ', "no id of a card"),
        ('scheme = "WARNING: injury or death."\n', "", "shop.toml: scheme: ", "nothing is written"),
        ("initials = true\n", "", f"{SECOND}: inspector: ", "asks for initials"),
        ("initials = true\ninspector = true", "second = true", f"{SECOND}: second: ", "asks for initials"),
        ("initials = true\ninspector = true", "may_skip = true", f"{SECOND}: may_skip: ", "asks for initials"),
        ("initials = true\ninspector = true", 'board = "plugs in"', f"{SECOND}: board: ", "asks for initials"),
        ('capture = "confirm"', 'capture = "choice"', f"{SECOND}: choices: ", "0 answers"),
        ('capture = "confirm"', 'capture = "choice"\nchoices = ["a"]', f"{SECOND}: choices: ", "1 answers"),
        (
            'capture = "confirm"',
            f'capture = "choice"\nchoices = {list("abcdefghi")}',
            f"{SECOND}: choices: ",
            "9 answers",
        ),
        ('capture = "confirm"', 'capture = "choice"\nchoices = ["a", "a"]', f"{SECOND}: choices: ", "twice"),
        ('capture = "confirm"', 'capture = "choice"\nchoices = ["a", " "]', f"{SECOND}: choices 2: ", "nothing"),
        ('capture = "confirm"', f'capture = "choice"\nchoices = ["a", "{"b" * 61}"]', f"{SECOND}: choices 2: ", "60"),
        ('capture = "confirm"', 'capture = "confirm"\nchoices = ["a", "b"]', f"{SECOND}: choices: ", "only a capture"),
        (
            'capture = "confirm"',
            'capture = "choice"\nchoices = ["a", "b"]\nstops = ["c"]',
            f"{SECOND}: stops: ",
            "one of the choices",
        ),
        (
            'capture = "confirm"',
            'capture = "choice"\nchoices = ["a", "b"]\nstops = ["a", "b"]',
            f"{SECOND}: stops: ",
            "every answer",
        ),
        ('capture = "confirm"', 'capture = "reading"', f"{SECOND}: unit: ", "a unit, or a limit"),
        ('capture = "confirm"', 'capture = "reading"\nunit = "miles"', f'{SECOND}: unit: "miles" ', "not known"),
        ('capture = "confirm"', 'capture = "reading"\nlimit = "fuel"', f'{SECOND}: limit: "fuel" ', "not known"),
        ('capture = "confirm"', 'capture = "confirm"\nunit = "mm"', f"{SECOND}: unit: ", "only a capture"),
        ('capture = "confirm"', 'capture = "confirm"\nlimit = "e-gap"', f"{SECOND}: limit: ", "only a capture"),
        ('capture = "confirm"', 'capture = "confirm"\nside = "up"', f'{SECOND}: side: "up" ', "not known"),
        ('capture = "confirm"', 'capture = "confirm"\nsection = "A b"', f"{SECOND}: section: ", "no id"),
        ('capture = "confirm"', 'capture = "confirm"\neach = "wing"', f'{SECOND}: each: "wing" ', "not known"),
        ('capture = "confirm"', 'capture = "confirm"\neach = "side"\nside = "left"', f"{SECOND}: side: ", "both sides"),
        ("It is heavy.", "The {side} one.", f"{SECOND}: each: ", 'each = "side"'),
        ("The lamp weighs", "The {magneto} weighs", f"{SECOND}: each: ", 'each = "magneto"'),
        (
            '[[step.box]]\nkind = "warning"',
            '[[step.say]]\ntext = "x"\n\n[[step.box]]\nkind = "warning"',
            f"{SECOND}: say 1: only: ",
            "missing",
        ),
        (
            '[[step.box]]\nkind = "warning"',
            '[[step.say]]\ntext = "x"\nonly = ["up"]\n\n[[step.box]]\nkind = "warning"',
            f'{SECOND}: say 1: only: "up" ',
            "not known",
        ),
        (
            '[[step.box]]\nkind = "warning"',
            '[[step.say]]\ntext = "Beware"\nonly = []\n\n[[step.box]]\nkind = "warning"',
            f"{SECOND}: say 1: text: ",
            "box before",
        ),
        ('kind = "warning"', 'kind = "danger"', f'{SECOND}: box 1: kind: "danger" ', "not known"),
        ('hazard = "weight"', 'hazard = "a weight"', f"{SECOND}: box 2: hazard: ", "no id"),
        ('kind = "warning"', 'kind = "note"\nsize = 2', f'{SECOND}: box 1: "size": ', "not known"),
        ('hazard = "weight"\n', "", f"{SECOND}: box 2: hazard: ", "missing"),
        ('only = ["left"]', 'only = ["lefts"]', f'{SECOND}: box 2: only: "lefts" ', "not known"),
        ("Wear gloves.", "x " * 26, f"{SECOND}: box 1: text: ", "words, and 25"),
        ("The lamp weighs two kilograms.", "", f"{SECOND}: box 2: text: ", "nothing is written"),
    ],
)
def test_that_a_fault_is_named_with_file_step_and_key(old: str, new: str, begins: str, holds: str) -> None:
    said = _refused(_edited(old, new))
    assert said.startswith(begins), said
    assert holds in said
    assert said.isprintable()


def test_that_20_words_of_an_instruction_and_25_of_a_sentence_are_read() -> None:
    text = _edited("and hold it.", "x " * 14).replace("It is heavy.", f"It is. {'x ' * 25}")
    second = load_card(text.encode("utf-8"), "shop.toml").steps[1]
    assert (len(second.instruction.split()), len(second.description.split())) == (20, 27)


@pytest.mark.parametrize(("first", "second"), [("note", "warning"), ("note", "caution"), ("caution", "warning")])
def test_that_boxes_out_of_order_are_refused(first: str, second: str) -> None:
    text = GOOD.replace('kind = "note"', f'kind = "{second}"').replace('kind = "warning"', f'kind = "{first}"', 1)
    assert _refused(text).startswith(f"{SECOND}: box 2: kind: a {second} stands before any {first}")


@pytest.mark.parametrize(("first", "second"), [("warning", "warning"), ("warning", "caution"), ("caution", "note")])
def test_that_boxes_in_order_are_read(first: str, second: str) -> None:
    text = GOOD.replace('kind = "warning"', f'kind = "{first}"').replace('kind = "note"', f'kind = "{second}"')
    assert [box.kind for box in load_card(text.encode("utf-8"), "shop.toml").steps[1].boxes] == [first, second]


@pytest.mark.parametrize(
    ("steps", "expected"),
    [
        ("step = []", "shop.toml: step: a card has at least one step."),
        ("step = [3]", "shop.toml: step 1: expected a table, found a whole number."),
        ('step = "none"', "shop.toml: step: expected a list, found text in quotes."),
        ("", "shop.toml: step: a card has at least one step."),
    ],
)
def test_that_a_card_without_steps_is_refused(steps: str, expected: str) -> None:
    assert _refused(GOOD.partition("[[step]]")[0] + steps) == expected


@pytest.mark.parametrize("key", ["x - at `$.step[999]", "x` - at `$.step[7]`", "\\u202e", "a\\nb", "é" * 400])
def test_that_a_hostile_key_is_shown_in_one_short_visible_line(key: str) -> None:
    said = _refused(f'"{key}" = 1\n{GOOD}')
    assert said.startswith("shop.toml: ")
    assert said.isprintable()
    assert len(said) < 200


@pytest.mark.parametrize(
    ("make", "holds"),
    [
        (lambda: b"\xff\xfe", "UTF-8"),
        (lambda: GOOD.encode("utf-8") + b"#" * 300_000, "larger"),
        (lambda: b"a = " + b"[" * 50 + b"]" * 50, "deep"),
    ],
    ids=["not UTF-8", "too large", "too deep"],
)
def test_that_what_is_no_toml_for_this_program_is_refused_with_the_name_of_the_file(
    make: Callable[[], bytes], holds: str
) -> None:
    with pytest.raises(Refusal) as caught:
        load_card(make(), "shop.toml")
    assert caught.value.sentence.startswith("shop.toml: ")
    assert holds in caught.value.sentence


def test_that_the_point_of_a_number_ends_no_sentence() -> None:
    assert sentences("Cylinder No. 1 fires. Is it hot? Yes") == ("Cylinder No. 1 fires", "Is it hot", "Yes")


def test_that_the_card_for_timing_magnetos_is_shipped_once_and_ids_of_cards_are_their_own() -> None:
    assert [card.title for card in CARDS if card.id == "T4"] == ["Time the magnetos to the engine"]
    assert len({card.id for card in CARDS}) == len(CARDS)


def test_that_the_scheme_of_each_card_explains_the_three_signal_words() -> None:
    for card in CARDS:
        assert re.search(r"WARNING: injury or death\. CAUTION: damage to equipment\. NOTE: helps", card.scheme)


def test_that_a_step_takes_every_key_of_its_form() -> None:
    keys = """capture = "reading"
unit = "mm"
limit = "contact gap"
side = "left"
section = "gap"
second = true
may_skip = true

[[step.say]]
only = ["left"]
text = "By the gauge."
"""
    text = GOOD.replace("inspector = true\n", "").replace(
        'capture = "confirm"\ninitials = true\n', f"initials = true\n{keys}"
    )
    step = load_card(text.encode("utf-8"), "shop.toml").steps[1]
    assert (step.capture, step.unit, step.limit, step.side) == ("reading", "mm", "contact gap", "left")
    assert (step.section, step.second, step.may_skip) == ("gap", True, True)
    assert step.says == (Say("By the gauge.", ("left",)),)


def test_that_a_choice_holds_its_answers_and_a_reading_may_take_the_unit_of_its_limit() -> None:
    text = GOOD.replace('capture = "confirm"', 'capture = "choice"\nchoices = ["yes", "no"]')
    assert load_card(text.encode("utf-8"), "shop.toml").steps[1].choices == ("yes", "no")
    text = GOOD.replace('capture = "confirm"', 'capture = "reading"\nlimit = "e-gap"')
    assert load_card(text.encode("utf-8"), "shop.toml").steps[1].limit == "e-gap"


def test_that_every_shipped_instruction_is_one_sentence_of_at_most_20_words() -> None:
    for step in (step for card in CARDS for step in card.steps):
        assert len(step.instruction.split()) <= 20, step.id
        assert step.instruction[0].isupper()
        assert step.instruction.endswith(".")
        assert step.instruction.removesuffix(".").replace("No. ", "").count(".") == 0


@pytest.mark.parametrize(("where", "text"), TEXTS, ids=[where for where, _ in TEXTS])
def test_that_every_shipped_sentence_has_at_most_25_words_and_an_end(where: str, text: str) -> None:
    assert text.endswith(".")
    assert max(len(sentence.split()) for sentence in re.split(r"(?<=[.!?]) (?=[A-Z])", text)) <= 25


def test_that_sentences_of_a_shipped_safety_box_keep_to_the_20_words_of_an_instruction() -> None:
    boxes = [box for card in CARDS for step in card.steps for box in step.boxes if box.kind is not BoxKind.NOTE]
    long = {box.hazard for box in boxes for said in sentences(box.text) if len(said.split()) > 20}
    assert long == set()


def test_that_a_shipped_note_informs_and_never_instructs() -> None:
    notes = [box for card in CARDS for step in card.steps for box in step.boxes if box.kind is BoxKind.NOTE]
    assert [note.hazard for note in notes for said in sentences(note.text) if said.split()[0] in ORDERS] == []


def test_that_shipped_boxes_stand_in_the_order_warning_caution_note() -> None:
    rank = {kind: place for place, kind in enumerate(("warning", "caution", "note"))}
    for step in (step for card in CARDS for step in card.steps):
        ranks = [rank[box.kind.value] for box in step.boxes]
        assert ranks == sorted(ranks), step.id


def test_that_the_cards_of_the_trade_are_all_there() -> None:
    assert {card.id for card in CARDS} == {
        *("S1", "R1", "T2", "T3", "T4", "T5", "B1", "B2", "I1", "G1", "H1", "P1", "C1", "R2"),
    }


def test_that_a_description_has_at_most_six_sentences_in_every_job() -> None:
    for card in CARDS:
        for step in card.steps:
            most = len(sentences(step.description)) + sum(len(sentences(say.text)) for say in step.says)
            assert most <= 6 or _exclusive(step), (card.id, step.id)


def _exclusive(step: Step) -> bool:
    """Tell whether parts that exclude one another keep the description of each job at six sentences."""
    facts = {one.removeprefix("not ") for say in step.says for one in say.only}
    return all(
        len(sentences(" ".join((step.description, *(say.text for say in step.says if holds(say.only, held)))))) <= 6
        for size in range(len(facts) + 1)
        for held in map(frozenset, combinations(sorted(facts), size))
    )
