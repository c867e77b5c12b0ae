"""What can be signed: text that is seen as it is."""

import unicodedata
from dataclasses import replace
from datetime import UTC, datetime, timedelta, timezone
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from desktop.core.records.record import (
    MOST_SIGNS,
    About,
    PersonKey,
    Record,
    RecordKind,
    Row,
    Section,
    Signer,
    rows_of,
    text_trouble,
    texts_in,
    time_text,
    visible,
)

SIGNER = Signer("LO", "Lena Ode", "", "", ("mechanic",), "I did it.")
RECORD = Record(RecordKind.TOOL_RECORD, "shop", "Mill Shop", "2031-03-04T09:00:00+01:00", "tool W-3", SIGNER)


@pytest.mark.parametrize(
    "text",
    ["", " 5", "5 ", "a\nb", "a\u202eb", "zero\u200bwidth", "e\u0301", "\ud800", "a\u00a0b", "x" * (MOST_SIGNS + 1)],
)
def test_that_a_text_that_looks_like_another_cannot_be_signed(text: str) -> None:
    assert text_trouble(text)
    changes: tuple[dict[str, Any], ...] = (
        {"subject": text},
        {"shop_name": text},
        {"sections": (Section("T", (Row("label", text),)),)},
    )
    for change in changes:
        with pytest.raises(ValueError, match="text"):
            replace(RECORD, **change)
    assert text_trouble("24.5° BTDC, Ødegård") is None


@pytest.mark.parametrize("at", ["2031-03-04T09:00:00", "2031-03-04T09:00:00Z", "2031-03-04T09:00:00.5+01:00", "now"])
def test_that_a_time_says_its_zone_in_one_form(at: str) -> None:
    with pytest.raises(ValueError, match="no time in whole seconds"):
        replace(RECORD, at=at)


def test_that_a_moment_is_said_in_whole_seconds_with_its_offset() -> None:
    moment = datetime(2031, 3, 4, 9, 0, 5, 999, tzinfo=timezone(timedelta(hours=-5)))
    assert time_text(moment) == "2031-03-04T09:00:05-05:00"
    for odd in (moment.replace(tzinfo=None), moment.replace(tzinfo=timezone(timedelta(seconds=30)))):
        with pytest.raises(ValueError, match="offset"):
            time_text(odd)
    assert time_text(datetime(2031, 3, 4, tzinfo=UTC)).endswith("+00:00")


@pytest.mark.parametrize(
    ("number", "digest"), [(0, "a" * 64), (1, "a" * 63), (1, "A" * 64), (1, "g" * 64), (True, "a" * 64)]
)
def test_that_another_record_is_named_by_a_number_and_a_seal(number: int, digest: str) -> None:
    with pytest.raises(ValueError, match="64 hexadecimal"):
        About(number, digest)


def test_that_a_key_is_64_digits_and_nobody_signs_twice() -> None:
    with pytest.raises(ValueError, match="64 hexadecimal"):
        PersonKey("LO", "ab")
    with pytest.raises(ValueError, match="once"):
        replace(RECORD, countersigners=(SIGNER,))


@pytest.mark.parametrize("build", [lambda name: Row(name, "x"), lambda name: Section(name, ())])
def test_that_a_label_cannot_pass_for_a_label_with_its_text(build: Any) -> None:  # noqa: ANN401 - two kinds
    with pytest.raises(ValueError, match="label or title"):
        build("Limits: 20")
    build("10:30 reading")


@pytest.mark.parametrize("odd", [5, None, 1.5, ["a"], {"a": "b"}])
def test_that_only_text_can_stand_in_a_record(odd: Any) -> None:  # noqa: ANN401 - anything
    with pytest.raises(TypeError, match="neither text"):
        replace(RECORD, subject=odd)


def test_that_a_certificate_may_be_missing_and_a_name_not() -> None:
    assert "" not in tuple(texts_in(RECORD))
    with pytest.raises(ValueError, match="empty"):
        replace(RECORD, signer=replace(SIGNER, name=""))


@given(st.text())
def test_that_any_typed_text_can_be_said_and_nothing_of_it_hides(text: str) -> None:
    shown = visible(text)
    assert not shown or text_trouble(shown) is None
    assert visible(shown) == shown
    hidden = [sign for sign in unicodedata.normalize("NFC", text).strip() if not sign.isprintable()]
    assert all(f"[U+{ord(sign):04X}]" in shown for sign in hidden)
    rows = rows_of("Remark", text)
    assert rows
    assert all(text_trouble(row.text) is None for row in rows)


def test_that_lines_of_a_text_become_rows() -> None:
    said = [(row.label, row.text) for row in rows_of("Remark", "points pitted\n\n  dressed\t", blank="nothing")]
    assert said == [("Remark", "points pitted"), ("Remark, continued", "dressed")]
    assert rows_of("Remark", " \n") == (Row("Remark", "none"),)


def test_that_a_section_is_found_by_its_title() -> None:
    record = replace(RECORD, sections=(Section("A", ()), Section("B", (Row("x", "y"),))))
    assert record.section("B") == record.sections[1]
    assert record.section("C") is None
