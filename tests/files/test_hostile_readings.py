"""Readings files from strangers: whatever stands in one, a result or one line with the key's path, and soon."""

import datetime as dt
import os
import signal
import sys
import time
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from subprocess import Popen, TimeoutExpired
from typing import Any

import pytest

from desktop.core.errors import Refusal
from desktop.files.readings import read_readings
from tests.door import check, faults
from tests.simulation.cards import direct_card
from tests.toml_card import Changes, changed, fault_of, sound_card, text_of

MOST_BYTES = 256 * 1024
SOUND = text_of(sound_card())
A_DAY = dt.date(2026, 1, 2)
WRONG_FOR = {
    str: [22, -1, 22.5, True, ["22"], [], {"a": 1}, A_DAY, dt.datetime(2026, 1, 2, tzinfo=dt.UTC), dt.time(1, 2)],
    int: [22.5, True, [2], [], {"a": 1}, A_DAY, 10**19, -(10**19), float("inf"), float("nan"), 6.0],
    bool: [1, 0, 1.0, "true", "", [], [True], {"a": True}, A_DAY],
    list: [1, "1", True, {"a": 1}, 1.5, A_DAY],
    dict: [1, "1", True, [], [1], 1.5, A_DAY],
}


def keys_of(value: object, path: str = "") -> Iterator[tuple[str, type]]:
    """Every key of a card, with entries counted from 1, and the type of its value."""
    if path:
        yield path, type(value)
    if isinstance(value, dict):
        for key, inner in value.items():
            yield from keys_of(inner, f"{path}.{key}" if path else key)
    elif isinstance(value, list):
        for place, inner in enumerate(value, 1):
            yield from keys_of(inner, f"{path}[{place}]")


ALL_KEYS = list(keys_of(direct_card()))


def test_that_the_card_behind_these_tests_is_read() -> None:
    assert fault_of(direct_card()) is None
    assert len(ALL_KEYS) > 100
    assert faults(SOUND) is None


@pytest.mark.parametrize(("path", "kind"), ALL_KEYS, ids=[path for path, _ in ALL_KEYS])
def test_that_a_wrong_type_is_refused_at_its_key(path: str, kind: type) -> None:
    for wrong in WRONG_FOR[kind]:
        if isinstance(wrong, int) and not isinstance(wrong, bool) and wrong > 0 and path.endswith("teeth"):
            continue  # a gear has no most teeth
        said = fault_of(direct_card(), {path: wrong})
        assert said is not None, wrong
        # A stranger's key inside, or an entry that is no table, is named with its own place below.
        starts = (f"{path}:", f"{path}.a:", f"{path}[1]:")
        assert said.startswith((*starts, "engine.firing_order:") if "firing_order" in path else starts), said
        assert "\n" not in said
        assert len(said) < 400


TABLES = ["", "engine", "limits", "measure", "stop[1]", "stop[3]", "magnetos", "left", "left.approach[2]", "right",
          "right.approach[1]", "run_up", "torque[2]"]  # fmt: skip
ODD_KEYS = [
    ("with_rotation", "with_rotation"),
    ("Light", "Light"),
    ("cilinders", "cilinders"),
    ("a b", "a b"),
    ("a\nb", "a\\nb"),
    ("a\rb\tc", "a\\rb\\tc"),
    ("\u001b[31m", "\\x1b[31m"),
    ("\u2028", "\\u2028"),
    ("ключ", "\\u"),
    ("\u202e", "\\u202e"),
]


@pytest.mark.parametrize("table", TABLES)
@pytest.mark.parametrize(("key", "shown"), ODD_KEYS)
def test_that_an_unknown_key_is_refused_in_every_table_by_its_path(table: str, key: str, shown: str) -> None:
    card = direct_card()
    place: Any = card
    for step in table.replace("]", "").replace("[", ".").split(".") if table else []:
        place = place[int(step) - 1] if step.isdigit() else place[step]
    place[key] = "1"
    said = faults(text_of(card))
    assert said is not None
    path = f"{table}.{shown}" if table else shown
    assert said.startswith(path if shown == "\\u" else f"{path}:"), said
    assert said.isprintable()
    assert said.isascii() or "·" in said


def test_that_a_key_as_long_as_the_file_is_told_briefly() -> None:
    said = faults(SOUND + f"{'x' * 200_000} = 1\n")
    assert said is not None
    assert len(said) < 500


@pytest.mark.parametrize("path", ["stop", "left.approach", "right.approach", "torque", "engine.firing_order"])
def test_that_an_empty_list_is_refused(path: str) -> None:
    said = fault_of(direct_card(), {path: []})
    assert said is not None
    assert said.startswith(f"{path}:")


NUMBERS = [
    "9" * 100, "1e999", "1E5", "nan", "NaN", "inf", "-inf", "Infinity", "\uff11\uff12", "\u0663", "1_000", "0x16",
    "1/0", "1//2", "9" * 200_000, "0." + "1" * 200_000, "1\u0000", "\u00bd", "22\u200b", "²", "1,2,3", "1.2.3",
    "\u22125", "5-", "$5", "{5}", "%s", "\u202e22", "22\n23",
]  # fmt: skip


@pytest.mark.parametrize("written", NUMBERS, ids=[f"{number[:12]!a}" for number in NUMBERS])
@pytest.mark.parametrize(
    "path",
    ["limits.advanced_most", "measure.read_to", "stop[1].with", "left.approach[2].light", "engine.stroke_mm",
     "engine.propeller_turns_per_crank_turn", "run_up.both_rpm", "torque[1].angle", "left.e_gap"],
)  # fmt: skip
def test_that_a_number_in_a_strange_form_is_refused_briefly_in_one_line(path: str, written: str) -> None:
    said = fault_of(direct_card(), {path: written})
    assert said is not None
    assert said.startswith(f"{path}: expected ")
    assert len(said) < 300
    assert said.isprintable()


HUGE = [
    "1" + "0" * 5000, "0x" + "f" * 100_000, "0b" + "1" * 100_000, "-" + "9" * 4000, "9223372036854775808", "1e999",
    "-1e999", "nan", "inf", "1_0", "0o17", "1.5",
]  # fmt: skip


@pytest.mark.parametrize("written", HUGE, ids=[number[:8] for number in HUGE])
@pytest.mark.parametrize(
    ("line", "path"),
    [("cylinders = 6", "engine.cylinders"), ("format = 1", "format"), ("poles = 2", "left.poles")],
)
def test_that_a_bare_number_that_fits_no_key_is_refused(line: str, path: str, written: str) -> None:
    assert line in SOUND
    said = faults(SOUND.replace(line, f"{line.partition('=')[0]}= {written}", 1))
    assert said is not None
    assert len(said) < 300
    assert said.startswith((f"{path}:", "engine.firing_order:", "the file is not valid TOML"))


BROKEN = {
    "an open string": SOUND + 'what = "never closed',
    "an open long string": SOUND + 'what = """never closed',
    "an open literal": SOUND + "what = 'never closed",
    "an open list": SOUND + "what = [1, 2",
    "an open table": SOUND + "[what",
    "an open inline table": SOUND + "what = {a = 1",
    "a key without a value": SOUND + "what =",
    "a value without a key": SOUND + "= 1",
    "a key twice": SOUND + "[engine]\n",
    "a table over a value": SOUND.replace("format = 1", "format = 1\nformat.x = 1"),
    "an escape that is none": SOUND + 'what = "\\q"',
    "half a surrogate": SOUND + 'what = "\\ud800"',
    "a bare control sign": SOUND + "what = '\u0000'",
    "a lone carriage return": SOUND + "what = 1\rother = 2",
    "two marks of byte order": "\ufeff\ufeff" + SOUND,
    "JSON": '{"format": 1}',
    "words": "the left one was about 22",
}


@pytest.mark.parametrize("name", BROKEN)
def test_that_what_is_not_toml_is_refused_in_one_line(name: str) -> None:
    said = faults(BROKEN[name])
    assert said is not None
    assert said.startswith("the file is not valid TOML")
    assert "\n" not in said


DEEP = {
    "a key of nine names": "a.b.c.d.e.f.g.h.i = 1",
    "a table of nine names": "[a.b.c.d.e.f.g.h.i]",
    "quoted names": '"a"."b"."c".\'d\'."e"."f"."g"."h"."i" = 1',
    "names with blanks between": "a . b . c . d . e . f . g . h . i = 1",
    "nine brackets": "a = [[[[[[[[[1]]]]]]]]]",
    "nine inline tables": "a = {a={a={a={a={a={a={a={a={}}}}}}}}}",
    "brackets over lines": "a = [\n" * 9 + "]" * 9,
    "a hundred thousand names": "a." * 100_000 + "a = 1",
    "a hundred thousand brackets": "a = " + "[" * 100_000,
    "a hundred thousand tables": "a = " + "{a = " * 40_000,
    "a string before": 'a = "x" # "\n' + "b." * 9 + "b = 1",
    "a long string before": 'a = """\n"\n"""\n' + "b." * 9 + "b = 1",
}


@pytest.mark.parametrize("name", DEEP)
def test_that_keys_deeper_than_eight_are_refused_before_they_are_parsed(name: str) -> None:
    started = time.monotonic()
    said = faults(DEEP[name])
    assert said is not None
    assert "more than 8 deep" in said
    assert time.monotonic() - started < 2


@pytest.mark.parametrize(
    "harmless",
    [
        "# a.b.c.d.e.f.g.h.i.j.k [[[[[[[[[[[[[ {{{{{{{{{{{{",
        'what = "a.b.c.d.e.f.g.h.i.j.k [[[[[[[[[[[["',
        "what = 'a.b.c.d.e.f.g.h.i.j.k [[[[[[[[[[[['",
        'what = "\\"a.b.c.d.e.f.g.h.i.j.k"',
        'what = """a.b.c.d.e.f.g.h.i.j.k\n[[[[[[[[[[[["""',
    ],
)
def test_that_dots_and_brackets_in_strings_and_comments_are_not_depth(harmless: str) -> None:
    fastener = '\n[[torque]]\nrequired = "60"\nunit = "in-lb"\nwrench = "10"\nextension = "4"\n'
    what = "" if "what" in harmless else 'what = "nut"\n'
    assert faults(f"{SOUND}{fastener}{what}{harmless}\n") is None


def test_that_eight_deep_is_parsed_and_the_unknown_key_named() -> None:
    said = faults(f"a.b.c.d.e.f.g.h = 1\n{SOUND}")
    assert said is not None
    assert said.startswith("a: this key is not known")


def test_that_a_mark_of_byte_order_and_other_line_ends_change_nothing() -> None:
    assert check("\ufeff" + SOUND) == check(SOUND)
    assert check(SOUND.replace("\n", "\r\n")) == check(SOUND)


@pytest.mark.parametrize(
    "data",
    [
        SOUND.encode("utf-16"),
        SOUND.encode("utf-32"),
        SOUND.encode() + "# ein Schräglauf".encode("latin-1"),
        b"\xff\xfe",
        SOUND.encode() + b"# \x80\n",
        SOUND.encode() + b"# \xed\xa0\x80\n",
        SOUND.encode() + b"# \xf8\x88\x80\x80\x80\n",
        SOUND.encode()[:-1] + b"\xc3",
    ],
)
def test_that_bytes_that_are_not_utf8_are_refused(data: bytes) -> None:
    with pytest.raises(Refusal) as caught:
        read_readings(data)
    assert "UTF-8" in caught.value.sentence


def test_that_a_file_of_256_kib_is_read_and_one_byte_more_is_not() -> None:
    data = SOUND.encode()
    full = data + b"#" * (MOST_BYTES - len(data))
    assert read_readings(full) == read_readings(data)
    with pytest.raises(Refusal) as caught:
        read_readings(full + b"#")
    assert "256 KiB" in caught.value.sentence


@dataclass(frozen=True, slots=True)
class Ran:
    """How one run of the program ended; memory in MB, ``status`` None when it had to be ended."""

    status: int | None
    out: str
    err: str
    seconds: float
    memory: float


# Starts the program from a small process, so that its peak of memory is its own and not that of the tests before it.
MEASURE = """
import resource, subprocess, sys
from pathlib import Path
status = subprocess.call([sys.executable, "-m", "desktop", *sys.argv[2:]])
Path(sys.argv[1]).write_text(str(resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss))
sys.exit(status)
"""


def run(arguments: list[str], folder: Path, patience: float = 20) -> Ran:
    """Start the program, and measure this one process."""
    out, err, peak = folder / "out.txt", folder / "err.txt", folder / "peak.txt"
    command = [sys.executable, "-c", MEASURE, str(peak), *arguments]
    with out.open("wb") as stdout, err.open("wb") as stderr:
        started = time.monotonic()
        process = Popen(command, stdout=stdout, stderr=stderr, start_new_session=True)
        try:
            status: int | None = process.wait(patience)
        except TimeoutExpired:
            os.killpg(process.pid, signal.SIGKILL)
            process.wait()
            status = None
        seconds = time.monotonic() - started
    memory = int(peak.read_text()) / 1024 if peak.exists() else 0.0
    return Ran(status, out.read_text("utf-8"), err.read_text("utf-8"), seconds, memory)


BAD_FILES = {
    "a hundred thousand names": ("a." * 100_000 + "a = 1").encode(),
    "a hundred thousand brackets": b"a = " + b"[" * 100_000,
    "ten megabytes of junk": os.urandom(1024) * 10_240,
    "ten megabytes of comment": b"#" * 10_485_760,
    "a number of 5000 digits": SOUND.replace("cylinders = 6", "cylinders = 1" + "0" * 5000).encode(),
    "a number of 100000 hexadecimal digits": SOUND.replace("cylinders = 6", "cylinders = 0x" + "f" * 100_000).encode(),
    "an infinite number": SOUND.replace("cylinders = 6", "cylinders = 1e999").encode(),
    "an open string": SOUND.encode() + b'x = "',
    "not UTF-8": b"\xff\xfe\x00",
    "nothing but zeros": bytes(1000),
    "a key with a line end": b'"a\\nb" = 1\n' + SOUND.encode(),
    "an unknown key": SOUND.replace("rotation", "rotaton", 1).encode(),
    "a wrong type": SOUND.replace('"22"', "22", 1).encode(),
    "nothing": b"",
}


def assert_refused(ran: Ran) -> None:
    assert ran.status == 2
    assert ran.out == ""
    assert ran.err.endswith("\n")
    assert len(ran.err.splitlines()) == 1
    assert "Traceback" not in ran.err
    assert ran.seconds < 2
    assert 0 < ran.memory < 300


@pytest.mark.parametrize("name", BAD_FILES)
def test_that_the_command_refuses_a_bad_file_in_one_line_soon_and_in_little_memory(name: str, tmp_path: Path) -> None:
    place = tmp_path / "card.toml"
    place.write_bytes(BAD_FILES[name])
    assert_refused(run(["check", str(place)], tmp_path))


def test_that_a_file_of_a_gigabyte_is_not_taken_into_memory(tmp_path: Path) -> None:
    place = tmp_path / "card.toml"
    place.touch()
    os.truncate(place, 2**30)
    assert_refused(run(["check", str(place)], tmp_path))


@pytest.mark.parametrize("command", ["check", "print"])
def test_that_the_command_refuses_what_is_no_file(command: str, tmp_path: Path) -> None:
    pipe = tmp_path / "pipe"
    os.mkfifo(pipe)
    more = ["-o", str(tmp_path / "card.pdf")] if command == "print" else []
    for place in (
        tmp_path,
        tmp_path / "missing.toml",
        pipe,
        Path("/dev/zero"),
        tmp_path / ("x" * 300),
        Path("/dev/null"),
    ):
        assert_refused(run([command, str(place), *more], tmp_path))
    assert not (tmp_path / "card.pdf").exists()


def test_that_the_command_ends_with_0_1_or_2(tmp_path: Path) -> None:
    place = tmp_path / "card.toml"
    place.write_text(SOUND, "utf-8")
    good = run(["check", str(place)], tmp_path)
    assert (good.status, good.err) == (0, "")
    assert '"nothing_stops": true' in good.out
    place.write_text(SOUND.replace('light = "338"', 'light = "330"'), "utf-8")
    stopped = run(["check", str(place)], tmp_path)
    assert (stopped.status, stopped.err) == (1, "")
    assert '"nothing_stops": false' in stopped.out
    assert_refused(run(["check"], tmp_path))


def test_that_the_largest_legal_file_is_worked_out_soon(tmp_path: Path) -> None:
    row = {"from": "310", "light": "338.12345678", "back": "336"}
    card = text_of(changed(sound_card(), {"left.approach": [row] * 4300}))
    assert MOST_BYTES * 0.9 < len(card.encode()) <= MOST_BYTES
    place = tmp_path / "card.toml"
    place.write_text(card, "utf-8")
    ran = run(["check", str(place)], tmp_path)
    assert (ran.status, ran.err) == (0, "")
    assert ran.seconds < 10
    assert ran.memory < 300


@pytest.mark.parametrize(
    "digits",
    [
        "9" * 4000,
        "0x" + "f" * 100_000,
    ],
    ids=["decimal", "hexadecimal"],
)
def test_that_a_gear_of_absurdly_many_teeth_is_refused_or_worked_out(digits: str) -> None:
    card = SOUND.replace("poles = 2", f"poles = 2\ndrive_gear_teeth = {digits}", 1).replace('"338"', '"337.5"')
    said = faults(card)
    assert said is None or said.startswith("left.drive_gear_teeth:")


def test_that_no_text_is_looked_through_again_and_again(tmp_path: Path) -> None:
    place = tmp_path / "card.toml"
    place.write_text('\\"""\n' * 52_000 + "\\", "utf-8")
    assert_refused(run(["check", str(place)], tmp_path, patience=4))


def test_that_structure_faults_name_their_path_with_entries_counted_from_1() -> None:
    cases: list[tuple[Changes, str]] = [
        ({"left.approach[1].light": 5}, "left.approach[1].light:"),
        ({"left.approach[2].light": "400"}, "left.approach[2].light:"),
        ({"stop[2].with": True}, "stop[2].with:"),
        ({"stop[1].against": "-5"}, "stop[1].against:"),
        ({"engine.firing_order": [1, "x", 2]}, "engine.firing_order"),
        ({"right.approach[2].odd": "1"}, "right.approach[2].odd:"),
    ]
    for changes, start in cases:
        said = fault_of(sound_card(), changes)
        assert said is not None
        assert said.startswith(start), said
