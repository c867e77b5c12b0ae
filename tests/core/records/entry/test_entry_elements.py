"""Each element that the rules ask for, with its source, and that the removal of any one of them is noticed.

The table below is written from the rules and independent of the program's own: 14 CFR 43.9(a), 43.11(a) and (b), as
told in FAA-H-8083-30B pp. 2-16 and 2-17 (paragraph numbers but 43.9(a)(2) from memory), and 145.219.
"""

from dataclasses import fields, is_dataclass, replace
from typing import Any

import pytest

from desktop.core.records.entry.entry_elements import (
    ELEMENTS,
    missing,
    missing_elements,
    wording_troubles,
    wording_warnings,
)
from desktop.core.records.entry.entry_parts import Entry, EntryKind
from desktop.core.records.entry.maintenance_entry import propose_entry
from tests.core.records.entry.entry_orders import INDEPENDENT, source

KINDS = [(kind, approves) for kind in EntryKind for approves in (True, False)]


def _entry(kind: EntryKind, *, approves: bool) -> Entry:
    return propose_entry(source(kind, approves=approves))


def _put(value: Any, place: str, new: object) -> Any:  # noqa: ANN401 - any table of an entry
    name, _, rest = place.partition(".")
    return replace(value, **{name: _put(getattr(value, name), rest, new) if rest else new})


M, I = EntryKind.MAINTENANCE, EntryKind.INSPECTION  # noqa: E741 - the two kinds in a table
REQUIRED: list[tuple[EntryKind, bool, str, object, str]] = [
    (M, True, "wording.work", "", "43.9(a)(1)"),
    (M, True, "facts.completed", None, "43.9(a)(2)"),
    (M, True, "facts.done_by", (), "43.9(a)(3)"),
    (M, True, "facts.approver.name", "", "43.9(a)(4)"),
    (M, True, "facts.approver.certificate_number", "", "43.9(a)(4)"),
    (M, True, "facts.approver.certificate_kind", "", "43.9(a)(4)"),
    (M, True, "facts.only_work", "", "43.9, told in FAA-H-8083-30B p. 2-16"),
    (M, False, "facts.discrepancies", None, "43.11(b)"),
    (M, True, "facts.data", (), "43.13(a)"),
    (M, True, "facts.order", "", "145.219"),
    (M, True, "facts.shop.name", "", "145.219"),
    (M, True, "facts.shop.station_certificate", "", "145.219"),
    (M, True, "facts.aircraft.registration", "", "common practice"),
    (M, True, "facts.aircraft.engine_serial", "", "common practice"),
    (M, True, "facts.aircraft.engine_position", "", "common practice"),
    (M, True, "facts.aircraft.log", "", "common practice"),
    (M, True, "facts.aircraft.total_time", "", "common practice"),
    (I, True, "wording.work", " \n", "43.9(a)(1)"),
    (I, True, "wording.inspection_type", "", "43.11(a)(1)"),
    (I, True, "wording.extent", "", "43.11(a)(1)"),
    (I, True, "facts.completed", None, "43.11(a)(2)"),
    (I, True, "facts.aircraft.total_time", "", "43.11(a)(2)"),
    (I, False, "facts.approver.name", "", "43.11(a)(3)"),
    (I, False, "facts.approver.certificate_number", "", "43.11(a)(3)"),
    (I, False, "facts.approver.certificate_kind", "-", "43.11(a)(3)"),
    (I, True, "wording.statement", "", "43.11(a)(4)"),
    (I, False, "wording.statement", "...", "43.11(a)(5)"),
    (I, False, "facts.discrepancies", None, "43.11(b)"),
]


@pytest.mark.parametrize(("kind", "approves"), KINDS)
def test_that_a_whole_entry_misses_nothing(kind: EntryKind, *, approves: bool) -> None:
    assert missing_elements(_entry(kind, approves=approves)) == ()


@pytest.mark.parametrize(("kind", "approves", "place", "nothing", "rule"), REQUIRED)
def test_that_each_removal_is_noticed_with_its_source(
    kind: EntryKind, approves: bool, place: str, nothing: object, rule: str
) -> None:
    found = missing_elements(_put(_entry(kind, approves=approves), place, nothing))
    assert len(found) == 1, found
    assert rule in found[0]


def test_that_what_stands_in_a_list_must_say_something_too() -> None:
    whole = _entry(M, approves=False)
    listed = whole.facts.discrepancies
    assert listed is not None
    first, *rest = listed.entries
    for place, nothing in (
        ("facts.discrepancies.entries", ()),
        ("facts.discrepancies.entries", (replace(first, text="-"), *rest)),
        ("facts.done_by", ("Mel Chan", " ")),
        ("facts.data", ("",)),
        ("facts.timing", (replace(whole.facts.timing[0], limits=""), *whole.facts.timing[1:])),
        ("facts.timing", (replace(whole.facts.timing[0], found=""), *whole.facts.timing[1:])),
        ("facts.timing", (replace(whole.facts.timing[0], left=""), *whole.facts.timing[1:])),
    ):
        assert len(missing_elements(_put(whole, place, nothing))) == 1, place


def test_that_every_element_of_the_program_is_removed_by_some_case() -> None:
    seen = set()
    for kind, approves, place, nothing, _ in REQUIRED:
        seen |= set(missing(_put(_entry(kind, approves=approves), place, nothing)))
    assert {one.place for one in set(ELEMENTS) - seen} == {"facts.timing"}  # removed in the test above


def test_that_every_number_of_a_paragraph_that_nobody_looked_up_is_marked() -> None:
    # facts: the numbering of the items is from memory except 43.9(a)(2), which was seen in a copy.
    numbered = [one.source for one in ELEMENTS if "43.9(a)(" in one.source or "43.11(" in one.source]
    assert {text for text in numbered if "from memory" not in text} == {"14 CFR 43.9(a)(2)"}


def test_that_an_independent_mechanic_needs_nothing_of_a_station() -> None:
    alone = propose_entry(source(M, approves=True, shop=INDEPENDENT))
    assert missing_elements(alone) == ()


def test_that_an_order_without_timing_asks_for_no_timing() -> None:
    assert missing_elements(_put(_entry(M, approves=True), "facts.timing", ())) == ()


def test_that_no_fact_is_without_a_place_that_is_looked_at_or_may_be_empty() -> None:
    may_be_empty = {
        "kind", "approves", "synchronisation", "run_up", "parts_off", "parts_on", "searches", "directives", "left_out",
        "deferred", "shop.is_station", "shop.address", "aircraft.type", "aircraft.serial", "aircraft.engine_type",
        "aircraft.tachometer",
    }  # fmt: skip
    held = {one.place.removeprefix("facts.") for one in ELEMENTS if one.place.startswith("facts.")}
    assert set(_leaves(_entry(M, approves=True).facts, "")) == may_be_empty | held


def _leaves(value: object, begin: str) -> list[str]:
    if not is_dataclass(value):
        return [begin.removesuffix(".")]
    return [leaf for one in fields(value) for leaf in _leaves(getattr(value, one.name), f"{begin}{one.name}.")]


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("Timed both magnetos.", []),
        ("Overhauled the magneto.", ["overhaul"]),
        ("Rebuilt; overhaul", ["overhaul", "rebuil"]),
    ],
)
def test_that_words_kept_for_more_than_a_timing_job_are_pointed_out(text: str, words: list[str]) -> None:
    # 14 CFR 43.2, told in FAA-H-8083-30B p. 2-14
    entry: Entry = _put(_entry(M, approves=True), "wording.remarks", text)
    warned = wording_warnings(entry)
    assert [word for word in ("overhaul", "rebuil") if any(f'"{word}' in one for one in warned)] == words


def test_that_a_wording_with_an_invisible_sign_or_too_many_signs_cannot_be_signed() -> None:
    wording = _entry(M, approves=True).wording
    assert wording_troubles(replace(wording, remarks="Two lines\nare legal.")) == ()
    assert "U+202E" in wording_troubles(replace(wording, remarks="right \u202e left"))[0]
    assert "2001 signs" in wording_troubles(replace(wording, work="x" * 2001))[0]
