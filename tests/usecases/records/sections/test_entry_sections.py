"""The maintenance entry as sections: everything in it is said, and read in the order of a log."""

from dataclasses import replace

import pytest

from desktop.core.records.entry.entry_parts import Entry, EntryKind
from desktop.core.records.entry.maintenance_entry import propose_entry
from desktop.core.records.record import Section
from desktop.usecases.records.sections.entry_sections import entry_sections, list_section
from tests.core.records.entry.entry_orders import INDEPENDENT, LIST, ORDER, source
from tests.core.shop.some_orders import EMPTY
from tests.usecases.records.walked import others, unsaid

KINDS = [(kind, approves) for kind in EntryKind for approves in (True, False)]


def _entry(kind: EntryKind, *, approves: bool) -> Entry:
    entry = propose_entry(source(kind, approves=approves))
    return replace(entry, wording=replace(entry.wording, remarks="The owner saw it."))


def _rows(sections: tuple[Section, ...], title: str) -> list[tuple[str, str]]:
    return [(row.label, row.text) for one in sections if one.title == title for row in one.rows]


@pytest.mark.parametrize(("kind", "approves"), KINDS)
def test_that_everything_in_an_entry_stands_in_its_sections(kind: EntryKind, *, approves: bool) -> None:
    entry = _entry(kind, approves=approves)
    # Whoever did not approve is "the approver" on the list: its test is below.
    assert unsaid(entry, entry_sections(entry)) == ([] if approves else ["facts.discrepancies.entries.1.source"])


@pytest.mark.parametrize(("kind", "approves"), KINDS)
def test_that_a_change_of_any_one_value_changes_the_sections(kind: EntryKind, *, approves: bool) -> None:
    entry = _entry(kind, approves=approves)
    sections = entry_sections(entry)
    unchanged = [".".join(place) for place, other in others(entry) if entry_sections(other) == sections]
    assert unchanged == []


@pytest.mark.parametrize(
    "title", ["Maintenance entry", "Work", "Timing", "Parts and directives", "Approval", "List of discrepancies"]
)
def test_that_a_section_left_out_is_noticed(title: str) -> None:
    entry = _entry(EntryKind.INSPECTION, approves=False)
    rest = tuple(one for one in entry_sections(entry) if one.title != title)
    assert len(rest) == len(entry_sections(entry)) - 1
    assert unsaid(entry, rest)


def test_that_an_approval_says_so_and_refers_to_no_list() -> None:
    approval = _rows(entry_sections(_entry(EntryKind.MAINTENANCE, approves=True)), "Approval")
    assert approval[0] == ("Approval", "Approved for return to service")
    assert "Discrepancies" not in dict(approval)


def test_that_an_order_not_approved_refers_to_the_dated_list_that_stands_below() -> None:
    sections = entry_sections(_entry(EntryKind.MAINTENANCE, approves=False))
    approval = dict(_rows(sections, "Approval"))
    assert approval["Approval"] == "Not approved for return to service"
    assert approval["Discrepancies"] == (
        "Listed in the list of discrepancies dated 5 Mar 2031, which goes to the owner."
    )
    assert sections[-1] == list_section(LIST)


def test_that_the_list_is_numbered_and_dated() -> None:
    rows = [(row.label, row.text) for row in list_section(LIST).rows]
    assert rows[3] == ("Dated", "5 Mar 2031")
    assert rows[4:6] == [
        ("1", "The magneto cannot be set within its slots."),
        ("1, from", "the approver"),
    ]
    assert rows[-2] == ("5", "The left magneto is 3° advanced.")


def test_that_a_station_and_an_independent_mechanic_are_named_as_what_they_are() -> None:
    station = dict(_rows(entry_sections(_entry(EntryKind.MAINTENANCE, approves=True)), "Maintenance entry"))
    assert station["Repair station"] == "Mill Magneto Works"
    assert station["Certificate number of the station"] == "ZZ9R001"
    alone = propose_entry(source(EntryKind.MAINTENANCE, approves=True, shop=INDEPENDENT))
    rows = dict(_rows(entry_sections(alone), "Maintenance entry"))
    assert rows["Shop"] == "Mel Chan, mechanic"
    assert "Certificate number of the station" not in rows


def test_that_an_entry_of_an_order_without_work_has_only_what_is_known() -> None:
    entry = propose_entry(replace(source(EntryKind.MAINTENANCE, approves=True), order=EMPTY))
    assert [one.title for one in entry_sections(entry)] == ["Maintenance entry", "Approval"]
    assert ORDER.number == EMPTY.number
