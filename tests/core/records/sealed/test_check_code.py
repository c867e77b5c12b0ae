"""The check code of a print: what it depends on, and how it is read back."""

import string

import pytest
from hypothesis import given
from hypothesis import strategies as st

from desktop.core.records.record import Row, Section
from desktop.core.records.sealed.check_code import ALPHABET, check_code, is_code, same_code, sections_code

TEXTS = st.lists(st.text(max_size=12), max_size=6)
CODE = check_code(["Work order W-0417", "22.5° BTDC"])


def test_that_the_alphabet_has_letters_and_digits_each_once_and_none_that_is_confused_with_another() -> None:
    assert len(set(ALPHABET)) == len(ALPHABET)
    assert set(ALPHABET) <= set(string.ascii_uppercase + string.digits)
    for alike in ("0O", "1IL", "2Z", "5S", "8B", "6G", "UV"):
        assert sum(sign in ALPHABET for sign in alike) <= 1, alike
    assert not set("0O1IL") & set(ALPHABET)


@given(TEXTS)
def test_that_a_code_is_eight_signs_of_the_alphabet_in_two_groups(texts: list[str]) -> None:
    code = check_code(texts)
    first, second = code.split("-")
    assert len(first) == len(second) == 4
    assert set(first + second) <= set(ALPHABET)
    assert is_code(code)


@given(TEXTS, TEXTS)
def test_that_two_prints_have_the_same_code_only_when_they_say_the_same(one: list[str], other: list[str]) -> None:
    assert (check_code(one) == check_code(other)) is (one == other)


@given(TEXTS.filter(any), st.data())
def test_that_one_changed_sign_gives_another_code(texts: list[str], data: st.DataObject) -> None:
    where = data.draw(st.sampled_from([place for place, text in enumerate(texts) if text]))
    at = data.draw(st.integers(0, len(texts[where]) - 1))
    sign = data.draw(st.characters(exclude_characters=texts[where][at], exclude_categories=["Cs"]))
    changed = [*texts]
    changed[where] = texts[where][:at] + sign + texts[where][at + 1 :]
    assert check_code(changed) != check_code(texts)


def test_that_the_same_signs_cut_in_another_way_give_another_code() -> None:
    assert len({check_code(["ab", "c"]), check_code(["a", "bc"]), check_code(["abc"]), check_code(["abc", ""])}) == 4


def test_that_a_code_stays_the_same_for_ever() -> None:
    # Worked out apart from the program, from SHA-256 and the form that its docstring states.
    assert CODE == "WQMU-UQRP"


@pytest.mark.parametrize(
    "say", [str, str.lower, lambda code: code.replace("-", ""), lambda code: f" {code[:4]} {code[5:]}\n"]
)
def test_that_small_letters_spaces_and_hyphens_make_no_difference(say: object) -> None:
    assert callable(say)
    assert same_code(say(CODE), CODE)
    assert is_code(say(CODE))
    assert same_code(CODE.replace("-", "\u2013"), CODE)


@given(st.integers(0, 7), st.sampled_from(ALPHABET))
def test_that_one_wrong_sign_is_another_code(place: int, sign: str) -> None:
    bare = CODE.replace("-", "")
    typed = bare[:place] + sign + bare[place + 1 :]
    assert same_code(typed, CODE) is (typed == bare)


@pytest.mark.parametrize("typed", ["", "ABC", "2222-222O", "2222-22222", "2222 222!"])
def test_that_what_can_be_no_code_is_known_as_such(typed: str) -> None:
    assert not is_code(typed)
    assert not same_code(typed, CODE)


def test_that_titles_labels_and_texts_of_sections_each_have_their_place() -> None:
    rows = (Row("Light", "338"), Row("Back", "336"))
    codes = {
        sections_code((Section("Left", rows),)),
        sections_code((Section("Right", rows),)),
        sections_code((Section("Left", rows[:1]), Section("Left", rows[1:]))),
        sections_code((Section("Left", rows[::-1]),)),
        sections_code((Section("Left", (Row("Light", "338"), Row("Back", "337"))),)),
        sections_code(()),
    }
    assert len(codes) == 6
