"""One meaning has one form in bytes, and what is seen is what is signed."""

import json
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from desktop.core.records.record import SPLIT, Record, Row, Section
from desktop.core.records.said import INDENT, said_lines
from desktop.core.records.sealed.canonical import MOST_BYTES, NotARecord, canonical_bytes, framed, read_record, unframed
from tests.core.records.any_record import records
from tests.core.records.pens import SignedShop

SAMPLE = SignedShop().with_people().with_work().records[4]
FIXED = {
    "Record",
    "Shop",
    "The shop's own id",
    "Subject",
    "Time",
    "About record",
    "Its record seal",
    "Key of",
    "It is",
    "Signed by",
    "Countersigned by",
    "Name",
    "Certificate number",
    "Certificate kind",
    "Right",
    "Meaning",
}


def body_of(content: bytes) -> dict[str, Any]:
    """Return the body of a record as a stranger reads it, by the words of the form alone."""
    parts = []
    while content:
        length, _, rest = content.partition(b":")
        parts.append(rest[: int(length)])
        assert rest[int(length) : int(length) + 1] == b","
        content = rest[int(length) + 1 :]
    assert parts[0] == b"sparkwright record 1"
    body: dict[str, Any] = json.loads(parts[2])
    assert body["kind"].encode() == parts[1]
    return body


def leaves(value: object) -> list[str]:
    if isinstance(value, dict):
        return [leaf for key in value for leaf in leaves(value[key])]
    if isinstance(value, list):
        return [leaf for entry in value for leaf in leaves(entry)]
    return [str(value)] if value != "" else []


@given(records())
def test_that_a_record_comes_back_from_its_bytes(record: Record) -> None:
    content = canonical_bytes(record)
    assert read_record(content) == record
    assert canonical_bytes(read_record(content)) == content


@given(records(), records())
def test_that_two_records_never_have_the_same_bytes(one: Record, other: Record) -> None:
    assert (canonical_bytes(one) == canonical_bytes(other)) == (one == other)


@given(records())
def test_that_what_is_seen_is_what_is_signed(record: Record) -> None:
    seen = []
    for line in said_lines(record):
        label, split, text = line.removeprefix(INDENT).partition(SPLIT)
        is_own = line.startswith(INDENT) or not split
        assert is_own or label in FIXED
        seen += [label, text] if is_own and split else [label] if not split else [text]
    # Every leaf of the bytes stands in the lines, as often as it stands in the bytes, and nothing else does.
    assert sorted(seen) == sorted(leaves(body_of(canonical_bytes(record))))


@given(records(), records())
def test_that_two_records_that_look_the_same_are_the_same(one: Record, other: Record) -> None:
    assert (said_lines(one) == said_lines(other)) == (one == other)


def test_that_a_line_of_a_section_cannot_pass_for_a_signature() -> None:
    rows = (Row("Signed by", "AUTH"), Row("Meaning", "approved"))
    forged = Section("Signed by", rows)
    lines = said_lines(Record(SAMPLE.kind, "s", "S", SAMPLE.at, "x", SAMPLE.signer, sections=(forged,)))
    assert [line for line in lines if line.startswith("Signed by: ")] == ["Signed by: MECH"]
    assert "  Signed by: AUTH" in lines


@given(st.data())
def test_that_no_other_bytes_are_read_as_a_record(data: st.DataObject) -> None:
    content = canonical_bytes(SAMPLE)
    place = data.draw(st.integers(0, len(content) * 8 - 1))
    flipped = bytearray(content)
    flipped[place // 8] ^= 1 << place % 8
    try:
        other = read_record(bytes(flipped))
    except NotARecord:
        return
    assert other != SAMPLE
    assert canonical_bytes(other) == bytes(flipped)


def written(body: object, kind: str = "card submitted", form: bytes = b"sparkwright record 1", **how: Any) -> bytes:  # noqa: ANN401
    text = json.dumps(body, **{"sort_keys": True, "ensure_ascii": False, "separators": (",", ":"), **how})
    return framed(form, kind.encode(), text.encode("utf-8", "surrogatepass"))


def odd(**change: object) -> dict[str, Any]:
    return {**body_of(canonical_bytes(SAMPLE)), **change}


SIGNER = body_of(canonical_bytes(SAMPLE))["signer"]
OTHERS = {
    "spaces": written(odd(), separators=(", ", ": ")),
    "escapes": written(odd(), ensure_ascii=True),
    "another order of keys": written(dict(reversed(odd().items())), sort_keys=False),
    "another kind outside": written(odd(), kind="void"),
    "another form": written(odd(), form=b"sparkwright record 2"),
    "a kind that there is not": written(odd(kind="gift"), kind="gift"),
    "a number for a text": written(odd(shop_id=5)),
    "a float": written(odd(about=[{"number": 1.0, "digest": "a" * 64}])),
    "a number as text": written(odd(about=[{"number": "1", "digest": "a" * 64}])),
    "true for a number": written(odd(about=[{"number": True, "digest": "a" * 64}])),
    "nothing for a text": written(odd(subject=None)),
    "a list for a text": written(odd(subject=["x"])),
    "a table for a title": written(odd(sections=[{"title": {"a": "b"}, "rows": []}])),
    "a text for a list": written(odd(sections="")),
    "a text for the rights": written(odd(signer={**SIGNER, "rights": "mechanic"})),
    "a key too many": written(odd(extra="x")),
    "a key too few": written({key: value for key, value in odd().items() if key != "keys"}),
    "a decomposed sign": written(odd(shop_name="e\u0301")),
    "half a sign": written(odd(shop_name="\ud800")),
    "no table": written([]),
    "no JSON": framed(b"sparkwright record 1", b"void", b"{"),
    "deep JSON": framed(b"sparkwright record 1", b"void", b"[" * 100_000),
    "a long number": framed(b"sparkwright record 1", b"void", b"1" * 5_000),
    "a part too few": framed(b"sparkwright record 1", b"void"),
    "a part too many": canonical_bytes(SAMPLE) + b"0:,",
    "something behind": canonical_bytes(SAMPLE) + b" ",
    "a length with a zero": b"0" + canonical_bytes(SAMPLE),
    "a length too long": b"9" * 9 + b":x,",
    "no length": b":x,",
    "nothing": b"",
    "too much": b"x" * (MOST_BYTES + 1),
}


@pytest.mark.parametrize("content", OTHERS.values(), ids=OTHERS)
def test_that_another_form_is_refused(content: bytes) -> None:
    with pytest.raises(NotARecord):
        read_record(content)


def test_that_the_sample_itself_is_read() -> None:
    assert read_record(written(odd())) == SAMPLE


def test_that_a_record_has_a_most() -> None:
    rows = tuple(Row("x", "y" * 10_000) for _ in range(101))
    with pytest.raises(ValueError, match="is the most"):
        canonical_bytes(Record(SAMPLE.kind, "s", "S", SAMPLE.at, "x", SAMPLE.signer, sections=(Section("T", rows),)))


@given(st.lists(st.binary(max_size=30)))
def test_that_parts_come_back_from_their_frame(parts: list[bytes]) -> None:
    assert unframed(framed(*parts)) == tuple(parts)
