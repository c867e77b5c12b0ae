"""Whatever is typed, wherever: a readings file is read, or refused in one line that names the place; nothing raises."""

import json
import math
import re
from datetime import date, datetime, time
from random import Random
from typing import Any

import pytest
from hypothesis import assume, example, given
from hypothesis import strategies as st

from tests.door import check, faults
from tests.simulation.cards import (
    Card,
    Make,
    Path,
    as_text,
    changed,
    direct_card,
    geared_card,
    leaves,
    marks_card,
    path_text,
    split_card,
    without,
    zeroed_card,
)
from tests.simulation.jobs import PATIENCE

NUMBER = re.compile(r"-?[0-9]{1,6}([.,][0-9]{1,8})?", re.ASCII)
CARDS = (direct_card, zeroed_card, split_card, marks_card, geared_card)
WORDS = (
    *("clockwise", "counter-clockwise", "right", "left", "up", "down", "full", "split", "disc", "gauge", "marks"),
    *("back", "drive", "as left", "as found", "setting", "compression", "simple", "guarded", "magneto", "crankshaft"),
    *("propeller", "in-lb", "ft-lb", "N·m"),
)
EDGES = (
    *("0", "-0", "-0.00000000", "0,5", "00", "000000", "1", "90", "180", "180 before", "180 after", "0 after", "360"),
    *("359.99999999", "360.00000001", "999999", "999999.99999999", "-999999.99999999", "0.00000001", "-0.00000001"),
    *(
        "22 before",
        "22  before",
        " 22 before",
        "22 Before",
        "22before",
        "22 after ",
        "before",
        "22,5 after",
        "-22 after",
    ),
    *(
        "22\n",
        "22\r",
        "\u0662\u0662",
        "\uff12\uff12",
        "2\u00b2",
        "1e3",
        "+5",
        ".5",
        "5.",
        "1_000",
        "nan",
        "inf",
        "Infinity",
    ),
    *(
        "77/120",
        "0/1",
        "1/0",
        "2/3/4",
        "-2/3",
        "2/-3",
        "77 / 120",
        "1.5/2",
        "999999/1",
        "1/999999",
        "",
        " ",
        "\u200b22",
    ),
)
TYPED = st.one_of(
    st.text(max_size=40),
    st.sampled_from(EDGES),
    st.sampled_from(WORDS),
    st.from_regex(NUMBER, fullmatch=True, alphabet=st.sampled_from("-0123456789.,")),
    st.from_regex(
        r"-?[0-9]{1,8}([.,][0-9]{1,10})?( (before|after))?", fullmatch=True, alphabet=st.characters(codec="ascii")
    ),
)
VALUES = st.one_of(
    st.integers(-(2**63), 2**63 - 1),
    st.booleans(),
    st.floats(),
    st.just([]),
    st.lists(st.integers(0, 9), max_size=4),
    st.just({}),
    st.dictionaries(st.sampled_from(("with", "light", "x")), st.text(max_size=3), max_size=2),
    st.sampled_from((date(2020, 2, 29), datetime(2020, 2, 29, 1, 2), time(1, 2))),  # noqa: DTZ001
)


def verdict_on(card: Card | str) -> str | None:
    """The fault of a file, or None after its answer was found whole: JSON without a number that is none."""
    text = card if isinstance(card, str) else as_text(card)
    fault = faults(text)
    if fault is None:
        said = check(text)
        assert json.loads(json.dumps(said, allow_nan=False)) == said
        assert said["nothing_stops"] is all(finding["severity"] != "stops" for finding in said["findings"])
        assert all(finding["severity"] in {"stops", "explain", "note"} for finding in said["findings"])
        assert all(finding["sentence"].strip() for finding in said["findings"])
        return None
    assert fault.strip()
    assert len(fault.splitlines()) == 1, fault
    assert fault.isprintable(), fault
    return fault


def strings_of(card: Card) -> list[Path]:
    return [path for path, value in leaves(card) if isinstance(value, str)]


@st.composite
def one_place(draw: st.DrawFn) -> tuple[Card, Path]:
    card = draw(st.sampled_from(CARDS))()
    return card, draw(st.sampled_from(strings_of(card)))


@given(one_place(), TYPED)
@PATIENCE
def test_that_no_typed_text_in_one_place_makes_anything_raise(at: tuple[Card, Path], typed: str) -> None:
    card, path = at
    verdict_on(changed(card, path, typed))


@pytest.mark.parametrize("make", CARDS)
def test_that_no_edge_of_a_number_in_any_place_makes_anything_raise(make: Make) -> None:
    for path in strings_of(make()):
        for typed in EDGES:
            fault = verdict_on(changed(make(), path, typed))
            if path[-1] != "what" and not re.fullmatch(r"[0-9.,/ -]+(before|after)?", typed, re.ASCII):
                assert fault is not None, f"{path_text(path)} took {typed!r}"
                assert path_text(path) in fault


@given(one_place(), st.text(max_size=30))
@example((zeroed_card(), ("left", "approach", 0, "light")), "338\n")
@example((zeroed_card(), ("limits", "left_btdc")), "\u0662\u0662")
@PATIENCE
def test_that_text_that_is_no_value_is_refused_at_its_own_place(at: tuple[Card, Path], typed: str) -> None:
    card, path = at
    assume(path[-1] != "what")
    assume(typed not in WORDS)
    assume(not re.fullmatch(r"[-0-9.,/]+( before| after)?", typed, re.ASCII))
    fault = verdict_on(changed(card, path, typed))
    assert fault is not None, f"{path_text(path)} took {typed!r}"
    assert path_text(path) in fault


@given(st.sampled_from(CARDS), st.lists(TYPED, min_size=1, max_size=60), st.randoms(use_true_random=False))
@PATIENCE
def test_that_no_typed_text_in_many_places_makes_anything_raise(make: Make, typed: list[str], chance: Random) -> None:
    card = make()
    for text in typed:
        card = changed(card, chance.choice(strings_of(card)), text)
    verdict_on(card)


@given(
    st.sampled_from(CARDS),
    st.lists(st.from_regex(r"[0-9]{1,3}(\.[05])?", fullmatch=True), min_size=4, max_size=40),
    st.randoms(use_true_random=False),
)
@PATIENCE
def test_that_no_numbers_at_all_make_a_readable_card_raise(make: Make, typed: list[str], chance: Random) -> None:
    card = make()
    numbers = [path for path, value in leaves(card) if isinstance(value, str) and NUMBER.fullmatch(value.split(" ")[0])]
    for text in typed:
        path = chance.choice(numbers)
        side = " before" if card_value(card, path).endswith(("before", "after")) else ""
        card = changed(card, path, f"{text}{side}")
    verdict_on(card)


def card_value(card: Card, path: Path) -> str:
    """The value at a path."""
    inner: Any = card
    for step in path:
        inner = inner[step]
    return str(inner)


@given(st.sampled_from(CARDS), VALUES, st.data())
@PATIENCE
def test_that_a_value_of_another_kind_is_refused_at_its_place(make: Make, value: object, data: st.DataObject) -> None:
    card = make()
    path = data.draw(st.sampled_from([path for path, typed in leaves(card) if isinstance(typed, str)]))
    fault = verdict_on(changed(card, path, value))
    assert fault is not None
    assert path_text(path) in fault


@given(st.sampled_from(CARDS), VALUES, st.data())
@PATIENCE
def test_that_no_value_in_any_place_makes_anything_raise(make: Make, value: object, data: st.DataObject) -> None:
    card = make()
    path = data.draw(st.sampled_from([path for path, _ in leaves(card)]))
    path = path[: data.draw(st.integers(1, len(path)))]
    verdict_on(changed(card, path, value))


@given(st.sampled_from(CARDS), st.data())
@PATIENCE
def test_that_a_missing_key_is_refused_or_done_without(make: Make, data: st.DataObject) -> None:
    card = make()
    path = data.draw(st.sampled_from([path for path, _ in leaves(card)]))
    path = path[: data.draw(st.integers(1, len(path)))]
    verdict_on(without(card, path))


@given(st.sampled_from(CARDS), st.text(min_size=1, max_size=12), st.data())
@PATIENCE
def test_that_an_unknown_key_is_refused_anywhere(make: Make, key: str, data: st.DataObject) -> None:
    card = make()
    path = data.draw(st.sampled_from([path for path, _ in leaves(card) if not isinstance(path[-1], int)]))[:-1]
    assume(not re.fullmatch(r"[a-z_]+", key))
    assert verdict_on(changed(card, (*path, key), "1")) is not None


@given(st.one_of(st.text(max_size=200), st.text("[]={}\"'#.\n abc019-,_", max_size=120)))
@example("")
@example("\ufeffformat = 1")
@example("format = 1\nformat = 1")
@PATIENCE
def test_that_text_that_is_no_readings_file_is_refused_in_one_line(text: str) -> None:
    assert verdict_on(text) is not None


@pytest.mark.parametrize(
    "text",
    [
        "a = " + "[" * 100_000,
        "a = " + "{a=" * 5_000 + "1" + "}" * 5_000,
        ".".join("a" * 1 for _ in range(5_000)) + " = 1",
        "[" + ".".join("a" for _ in range(9)) + "]\nb = 1",
        "format = " + "9" * 10_000,
        "# " + "x" * (256 * 1024),
        "format = 1e999",
    ],
    ids=["brackets", "inline tables", "dotted key", "nine deep", "long number", "too long", "infinite"],
)
def test_that_a_file_made_to_hurt_is_refused_in_one_line(text: str) -> None:
    assert verdict_on(text) is not None


def test_that_a_comment_up_to_the_greatest_size_is_read_and_one_byte_more_is_not() -> None:
    text = as_text(zeroed_card())
    room = 256 * 1024 - len(text.encode()) - 2
    assert verdict_on(text + "#" + "x" * room + "\n") is None
    assert verdict_on(text + "#" + "x" * (room + 1) + "\n") is not None


def test_that_the_cards_that_are_fuzzed_are_themselves_read() -> None:
    for make in CARDS:
        assert verdict_on(make()) is None
        assert math.isfinite(check(as_text(make()))["left"]["btdc"])
