"""Which secrets may be chosen, how waits grow, and that setting a count or a clock back gains nothing."""

from datetime import UTC, datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from desktop.core.shop.people.secrets import (
    MOST_TRIES,
    Tries,
    is_clock_back,
    is_set_back,
    joined,
    seconds_to_wait,
    secret_bytes,
    secret_troubles,
)
from desktop.files.bad_secrets import bad_choices

BAD = bad_choices()
NAMES = ("Mel Chan-Ruiz", "MCR", "Mill Shop 2")
NOON = datetime(2031, 3, 4, 12, 0, tzinfo=UTC)


def said(secret: str) -> str:
    return " ".join(secret_troubles(secret, NAMES, BAD))


@pytest.mark.parametrize(
    "secret",
    [
        "tansy ladder 7 oboe",
        "ofhwqzkm",
        "Zwölf Eulen",
        "mill by the river",
        "9381-4471x",
        "a1-2-3-4-5",
        "hi93814471",
        "chan plays the oboe",
        "password of the blue whale",
        "🦉🦉🛠🛠🌲🌲🎺🎺",
        "x" + "ab" * 3 + "q",
        "q" * 3 + "z7k" * 80,
    ],
)
def test_that_any_other_secret_of_eight_characters_may_be_chosen(secret: str) -> None:
    assert said(secret) == ""


@pytest.mark.parametrize("secret", ["", "ofhwqzk", "a\u0301" * 7])
def test_that_a_short_secret_is_refused_by_its_composed_characters(secret: str) -> None:
    assert "Choose one of at least 8" in said(secret)


def test_that_eight_composed_characters_are_enough_and_more_than_the_most_are_not() -> None:
    assert said("o\u0308fhwqzkm") == ""
    assert said("a7" * 128 + "k") == "The secret has more than 256 characters. Choose a shorter one."
    assert said("ofhwqzkm" * 31 + "12345678") == ""


@pytest.mark.parametrize("secret", ["ofhw\u200bqzkm", "ofhwqzkm\n", "ofhwqzk\ud800", "ofhw\tqzkm"])
def test_that_a_sign_that_nobody_sees_is_refused(secret: str) -> None:
    assert "An invisible sign" in said(secret)


@pytest.mark.parametrize(
    "secret",
    [
        "password",
        "PassWord1",
        "password2031!",
        "passwordpassword",
        "Password1Password1",
        "pass word",
        "p.a.s.s.w.o.r.d",
        "2031magneto",
        "magneto-magneto",
        "torquewrench9",
        "aaaaaaaa",
        "abcabcabc",
        "abababab7",
        "12345678",
        "87654321",
        "20312031",
        "abcdefgh",
        "hgfedcba",
        "abcdefgh1",
        "1q2w3e4r",
        "________",
        "January2031",
    ],
)
def test_that_a_secret_that_is_tried_first_is_refused_in_its_usual_dresses(secret: str) -> None:
    assert "tried first" in said(secret)


@pytest.mark.parametrize(
    "secret",
    [
        "Mel Chan-Ruiz",
        "melchanruiz",
        "ruizchanmel",
        "MEL 2031!",
        "chan1985",
        "mcrmcrmcr",
        "MCR12345",
        "Mill Shop 2",
        "millshop",
        "shopshop",
    ],
)
def test_that_a_name_that_everybody_knows_is_refused(secret: str) -> None:
    assert "a name that everybody here knows" in said(secret)


def test_that_a_name_without_letters_refuses_nothing() -> None:
    assert secret_troubles("9381-4471x", ("", "-", "7"), BAD) == ()


def test_that_the_list_and_the_names_are_what_refuses() -> None:
    assert secret_troubles("password2031!", (), frozenset()) == ()
    assert secret_troubles("melchanruiz", (), BAD) == ()


@given(st.text())
def test_that_no_text_raises_and_no_sentence_repeats_it(secret: str) -> None:
    assert secret_bytes(secret) is not None
    for sentence in secret_troubles(secret, NAMES, BAD):
        assert sentence.endswith(".")
        assert len(secret) < 8 or secret not in sentence


def test_that_a_sign_composed_in_two_ways_is_one_secret() -> None:
    # Unicode Standard Annex 15: U+00F6 and U+006F U+0308 are one text in NFC.
    assert secret_bytes("\u00f6") == secret_bytes("o\u0308") == b"\xc3\xb6"


def test_that_every_bad_choice_is_written_as_it_is_compared() -> None:
    assert len(BAD) > 200
    assert all(one == one.casefold().strip() and one.isprintable() for one in BAD)


def test_that_waits_grow_with_wrong_tries_and_run_out_with_time() -> None:
    waits = [seconds_to_wait(Tries(wrong, 0, NOON), NOON) for wrong in range(MOST_TRIES)]
    assert waits == [0, 1, 2, 4, 8, 16, 32, 64, 128, 256]
    nine = Tries(12, 3, NOON)
    left = [seconds_to_wait(nine, NOON + timedelta(seconds=passed)) for passed in (0, 0.5, 100, 255.9, 256, 10**6)]
    assert left == [256, 256, 156, 1, 0, 0]


@given(st.integers(0, 9), st.integers(0, 10**9))
def test_that_a_clock_set_back_never_shortens_a_wait(wrong: int, seconds: int) -> None:
    tries = Tries(wrong, 0, NOON)
    back = NOON - timedelta(seconds=seconds)
    assert seconds_to_wait(tries, back) == seconds_to_wait(tries, NOON)
    assert is_clock_back(tries, back) == (seconds > 60)


def test_that_nobody_waits_before_the_first_try_or_after_a_right_one() -> None:
    assert seconds_to_wait(Tries(), NOON) == 0
    assert seconds_to_wait(Tries(5, 5, NOON), NOON) == 0
    assert not is_clock_back(Tries(), NOON)


@pytest.mark.parametrize(("wrong", "locked"), [(9, False), (10, True), (11, True)])
def test_that_ten_wrong_tries_in_a_row_lock_a_key(wrong: int, locked: bool) -> None:
    assert Tries(wrong + 4, 4).is_locked is locked


@pytest.mark.parametrize(("begun", "forgiven"), [(1, 2), (0, -1), (-1, -1)])
def test_that_no_more_tries_can_be_forgiven_than_were_begun(begun: int, forgiven: int) -> None:
    with pytest.raises(ValueError, match="forgiven"):
        Tries(begun, forgiven)


@pytest.mark.parametrize(
    ("in_file", "on_machine", "wrong", "set_back"),
    [
        (Tries(7, 2), None, 5, False),
        (Tries(7, 2), Tries(7, 2), 5, False),
        (Tries(2, 2), Tries(7, 2), 5, True),  # an old file copied back
        (Tries(7, 7), Tries(7, 2), 5, True),  # forgiven in the file and not here
        (Tries(0, 0), Tries(12, 2), 10, True),
        (Tries(9, 2), Tries(7, 2), 7, False),  # the file was at another machine
        (Tries(9, 9), Tries(7, 2), 5, False),
        (Tries(7, 2), Tries(7, 7), 5, False),  # cut off between this machine and the file
    ],
)
def test_that_the_larger_of_both_counts_counts_and_a_count_set_back_is_noticed(
    in_file: Tries, on_machine: Tries | None, wrong: int, set_back: bool
) -> None:
    assert joined(in_file, on_machine).wrong == wrong
    assert is_set_back(in_file, on_machine) is set_back


_TRIES = st.tuples(st.integers(0, 20), st.integers(0, 20)).map(lambda two: Tries(max(two), min(two), NOON))


@given(_TRIES, _TRIES)
def test_that_joined_counts_never_hold_fewer_wrong_tries_than_either(one: Tries, other: Tries) -> None:
    both = joined(one, other)
    assert both.wrong >= max(one.wrong, other.wrong)
    assert both.begun >= max(one.begun, other.begun)
    assert joined(one, None) == one


def test_that_the_newest_time_of_both_counts_is_kept() -> None:
    early = NOON - timedelta(hours=1)
    assert joined(Tries(1, 0, early), Tries(1, 0, NOON)).last == NOON
    assert joined(Tries(), Tries(1, 0, early)).last == early
    assert joined(Tries(), Tries()).last is None
