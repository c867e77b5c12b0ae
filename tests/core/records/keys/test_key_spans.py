"""Whose key counted from which record to which."""

from dataclasses import replace

from desktop.core.records.keys.enrolment import person_section
from desktop.core.records.keys.key_spans import KeySpan, key_spans
from desktop.core.records.record import RecordKind
from tests.core.records.pens import KEEP, MECH, Pen, SignedShop


def spans(shop: SignedShop) -> dict[str, list[tuple[int, int]]]:
    found: dict[str, list[tuple[int, int]]] = {}
    for span in key_spans(enumerate(shop.records, 1)):
        found.setdefault(span.person, []).append((span.since, span.until))
    return found


def test_that_each_key_has_its_span() -> None:
    shop = SignedShop().with_people().with_work()
    assert spans(shop) == {"KEEP": [(1, 0)], "MECH": [(2, 9), (9, 0)], "INSP": [(3, 12)], "AUTH": [(4, 0)]}
    assert key_spans([(1, shop.records[0])]) == (KeySpan("KEEP", "Kit Eeper", Pen(KEEP).public_key.hex(), 1),)


def test_that_who_changes_keeps_the_key_and_who_comes_back_begins_anew() -> None:
    shop = SignedShop().with_people()
    longer = replace(MECH, name="Mel Chan-Grand")
    shop.sign(RecordKind.PERSON_ENROLLED, "person MECH", "KEEP", sections=(person_section(longer),))
    assert spans(shop)["MECH"] == [(2, 0)]
    shop.sign(RecordKind.PERSON_WITHDRAWN, "person MECH", "KEEP", sections=(person_section(longer),))
    shop.enrol(MECH, "KEEP", "MECH")
    assert spans(shop)["MECH"] == [(2, 6), (7, 0)]


def test_that_a_record_that_says_nobody_whole_begins_and_ends_nothing() -> None:
    shop = SignedShop().with_people()
    before = spans(shop)
    shop.sign(RecordKind.PERSON_ENROLLED, "person TOM", "KEEP")
    shop.sign(RecordKind.PERSON_ENROLLED, "tool W-3", "KEEP")
    shop.sign(RecordKind.PERSON_WITHDRAWN, "person MECH", "KEEP")
    assert spans(shop) == before
