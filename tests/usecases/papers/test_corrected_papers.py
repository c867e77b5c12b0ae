"""Corrections on later prints: every print that rests on a corrected record says so, also of a corrected correction."""

import pytest

from desktop.core.errors import Refusal
from desktop.usecases.papers import kinds
from desktop.usecases.papers.asked import Asked, PaperDesk
from desktop.usecases.papers.from_shop import paper_of
from desktop.usecases.papers.kinds import PaperKind
from desktop.usecases.papers.records import verified
from tests.usecases.papers.pages import words
from tests.usecases.papers.paper_floor import SIGNED, PaperFloor

PRINTS = {
    "the declaration": (kinds.DECLARATION, 0, "MECH", 2),
    "the roster": (kinds.ROSTER, 0, "", 2),
    "the work order": (kinds.WORK_ORDER, SIGNED, "", 5),
    "the summary": (kinds.SUMMARY, SIGNED, "", 5),
}


def printed(desk: PaperDesk, kind: PaperKind, order: int, of: str) -> str:
    return words(paper_of(desk, Asked(kind, order, of=of), ""))


@pytest.mark.parametrize(("kind", "order", "of", "record"), PRINTS.values(), ids=PRINTS)
def test_that_a_print_says_by_what_the_record_behind_it_was_corrected(
    own_floor: PaperFloor, monkeypatch: pytest.MonkeyPatch, kind: PaperKind, order: int, of: str, record: int
) -> None:
    desk = own_floor.paper_desk()
    try:
        before = printed(desk, kind, order, of)
    except Refusal as refusal:
        pytest.fail(refusal.sentence)
    own_floor.correct(record)
    number = len(desk.verified())
    said = printed(desk, kind, order, of)
    assert f"Corrected by record {number}" not in before
    assert f"record {number}" in said
    assert f"Correction: record {number}" in said
    # The control: a print that does not look for corrections says nothing of this one.
    monkeypatch.setattr(verified, "_corrections", lambda *_: ())
    assert f"Correction: record {number}" not in printed(desk, kind, order, of)


def test_that_a_correction_of_a_correction_stands_with_the_first_record(own_floor: PaperFloor) -> None:
    desk = own_floor.paper_desk()
    own_floor.correct(5)
    first = len(desk.verified())
    own_floor.correct(first)
    said = words(paper_of(desk, Asked(kinds.RECORD, SIGNED, of="5"), ""))
    assert f"Correction: record {first}" in said
    assert f"Correction: record {first + 1}" in said
