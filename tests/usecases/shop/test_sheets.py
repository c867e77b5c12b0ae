"""Limits sheets in a shop: drafts are kept as typed, two people stand behind each revision, nothing is written over."""

from collections.abc import Callable
from dataclasses import replace
from datetime import date

import pytest

from desktop.core.errors import NotReady, Refusal
from desktop.core.shop.orders.who_may import Deed
from desktop.core.shop.people.people import Person, Right
from desktop.core.shop.sheets.sheet_choices import SheetKind
from desktop.core.shop.sheets.sheet_life import Difference, SheetLife, SheetState
from desktop.core.shop.sheets.sheet_paths import sheet_groups
from desktop.core.shop.sheets.sheet_pin import SheetPin
from desktop.core.shop.sheets.sheets import EngineSheet, Sheet
from desktop.usecases.shop.lists.sheets import (
    SheetLine,
    compare_sheet,
    current_pin,
    faults_of,
    finish_sheet,
    import_sheet,
    list_sheets,
    revise_sheet,
    see_sheet,
    write_sheet,
)
from desktop.usecases.shop.ports import Answer, Request
from tests.core.shop.sheets.sheet_cases import FULL_ENGINE, FULL_MAGNETO, changed
from tests.usecases.shop.shop_floor import Floor

ID = FULL_ENGINE.id
NOT_ALLOWED = r"may not do this|not with the shop|not on the roster"
REASON = "Nobody else works here."
ALL = tuple(name for name, _ in sheet_groups(FULL_ENGINE))


class Desk(Floor):
    """A shop whose people keep limits sheets."""

    def as_seen(self, person: str) -> Request:
        """Return a request of a person who sees the sheet as it is now."""
        life = self.store.sheet_life(ID)
        return Request(f"s{next(self.ids)}", person, life.version if life else 0)

    def life(self) -> SheetLife:
        return see_sheet(self.store, ID)

    def write(self, sheet: Sheet = FULL_ENGINE, person: str = "KEEP") -> Answer:
        return write_sheet(self.shop, self.as_seen(person), sheet)

    def finish(self, person: str = "KEEP") -> Answer:
        return finish_sheet(self.shop, self.as_seen(person), ID)

    def compare(self, person: str = "INSP", **outcome: object) -> Answer:
        given = {"confirmed": ALL, **outcome}
        return compare_sheet(self.shop, self.as_seen(person), ID, **given)  # type: ignore[arg-type]  # a test's own

    def compared(self) -> "Desk":
        self.write()
        self.finish()
        self.compare()
        return self

    def only(self, *people: str) -> "Desk":
        """Let everybody else leave the shop."""
        for one in self.store.people():
            if one.id not in people:
                self.store.file.put_person(replace(one, until=date(2030, 6, 1)))
        return self


@pytest.fixture
def desk() -> Desk:
    return Desk()


def test_that_a_sheet_is_entered_finished_and_compared_by_a_second_person(desk: Desk) -> None:
    assert desk.write() == Answer(Deed.WRITE_SHEET, ID, 1)
    assert desk.finish() == Answer(Deed.WRITE_SHEET, ID, 2)
    assert desk.compare() == Answer(Deed.COMPARE_SHEET, ID, 3)
    sheet = desk.life().sheet
    assert sheet.transcribed_by is not None
    assert sheet.compared_by is not None
    assert (sheet.transcribed_by.person, sheet.compared_by.person, sheet.recheck_reason) == ("KEEP", "INSP", "")
    pin = current_pin(desk.store, ID)
    assert (pin.sheet, pin.revision, len(pin.digest)) == (ID, 1, 64)
    assert desk.store.pinned_sheet(pin) == desk.store.newest_sheet(ID) == sheet


def test_that_a_draft_keeps_what_was_typed_faults_and_all(desk: Desk) -> None:
    typed = changed(EngineSheet(ID), ("limits.left_btdc", "about 22"), ("engine.cylinders", "many"))
    desk.write(typed)
    assert desk.life().sheet == typed
    assert {"limits.left_btdc", "engine.cylinders", "turning"} <= {fault.where for fault in faults_of(desk.life())}
    with pytest.raises(NotReady) as refused:
        desk.finish()
    assert len(refused.value.reasons) == len(faults_of(desk.life()))
    desk.write(changed(typed, ("limits.left_btdc", "22 1/2")))
    assert "limits.left_btdc" not in {fault.where for fault in faults_of(desk.life())}


def test_that_revision_and_signatures_come_from_the_shop_alone(desk: Desk) -> None:
    signed = desk.compared().life().sheet
    other = Desk()
    other.write(replace(signed, revision=9))
    assert other.life().sheet == FULL_ENGINE


def test_that_the_same_request_does_nothing_twice(desk: Desk) -> None:
    first, done = desk.as_seen("KEEP"), Answer(Deed.WRITE_SHEET, ID, 1)
    for _ in range(2):
        assert write_sheet(desk.shop, first, FULL_ENGINE) == done
    assert import_sheet(desk.shop, first, FULL_ENGINE) == done
    for verb in (finish_sheet, revise_sheet):
        assert verb(desk.shop, first, ID) == done
    assert desk.life().version == 1
    desk.finish()
    second = desk.as_seen("INSP")
    for _ in range(2):
        assert compare_sheet(desk.shop, second, ID, ALL).version == 3
    assert len(desk.store.sheet_pins(ID)) == 1


def test_that_two_windows_never_lose_what_was_typed(desk: Desk) -> None:
    seen = desk.as_seen("KEEP")
    desk.write()
    for verb in (write_sheet, import_sheet):
        with pytest.raises(Refusal, match="is not as you saw it"):
            verb(desk.shop, replace(seen, request_id=f"late {verb.__name__}"), FULL_ENGINE)
    old = desk.as_seen("KEEP")
    desk.write(changed(FULL_ENGINE, ("limits.left_btdc", "21")))
    with pytest.raises(Refusal, match="is not as you saw it"):
        write_sheet(desk.shop, replace(old, request_id="late"), FULL_ENGINE)
    for other in (finish_sheet, revise_sheet):
        with pytest.raises(Refusal, match="is not as you saw it"):
            other(desk.shop, replace(old, request_id=f"late {other.__name__}"), ID)
    with pytest.raises(Refusal, match="is not as you saw it"):
        compare_sheet(desk.shop, replace(old, request_id="late compare", person_id="INSP"), ID, ALL)
    assert desk.life().sheet == changed(FULL_ENGINE, ("limits.left_btdc", "21"))
    with pytest.raises(Refusal, match="is not as you saw it"):
        write_sheet(desk.shop, Request("far", "KEEP", 4), replace(FULL_ENGINE, id="another"))


@pytest.mark.parametrize("person", ["DESK", "MECH", "INSP", "HELP", "GONE", "NOBODY"])
def test_that_only_who_keeps_the_records_writes_sheets(desk: Desk, person: str) -> None:
    for verb in (write_sheet, import_sheet):
        with pytest.raises(Refusal, match=NOT_ALLOWED):
            verb(desk.shop, desk.as_seen(person), FULL_ENGINE)
    assert list_sheets(desk.store) == ()
    desk.compared()
    with pytest.raises(Refusal, match=NOT_ALLOWED):
        revise_sheet(desk.shop, desk.as_seen(person), ID)


@pytest.mark.parametrize(("person", "may"), [("MECH", True), ("INSP", True), ("DESK", False), ("HELP", False)])
def test_that_a_comparison_takes_a_right(desk: Desk, person: str, may: bool) -> None:
    desk.write()
    desk.finish()
    if may:
        assert desk.compare(person).version == 3
    else:
        with pytest.raises(Refusal, match="may not do this: compare a limits sheet"):
            desk.compare(person)


def test_that_who_transcribed_does_not_compare_while_somebody_else_could(desk: Desk) -> None:
    desk.write()
    desk.finish()
    with pytest.raises(NotReady, match="Ask somebody else"):
        desk.compare("KEEP", reason=REASON)
    assert desk.life().state is SheetState.FOR_COMPARISON


@pytest.mark.parametrize("others", [(), ("DESK", "HELP")])
def test_that_a_person_alone_rechecks_with_a_reason(desk: Desk, others: tuple[str, ...]) -> None:
    desk.only("KEEP", *others)
    desk.write()
    desk.finish()
    with pytest.raises(NotReady, match="Write a sentence why"):
        desk.compare("KEEP")
    desk.compare("KEEP", reason=REASON)
    assert desk.life().sheet.recheck_reason == REASON
    kept = desk.store.newest_sheet(ID)
    assert kept is not None
    assert kept.recheck_reason == REASON


def test_that_two_keepers_who_both_typed_need_a_third(desk: Desk) -> None:
    desk.store.file.put_person(Person("KEE2", "Kay Two", (Right.RECORDS,), date(2030, 1, 1)))
    desk.write()
    desk.write(person="KEE2")
    desk.finish()
    for hand in ("KEEP", "KEE2"):
        with pytest.raises(NotReady, match="does not compare"):
            desk.compare(hand)
    assert desk.compare("MECH").version == 4


def test_that_a_group_that_was_not_compared_stops_the_comparison(desk: Desk) -> None:
    desk.write()
    desk.finish()
    with pytest.raises(NotReady, match=r"Not compared yet: limits, torque\."):
        desk.compare(confirmed=[name for name in ALL if name not in ("limits", "torque")])
    assert desk.store.sheet_pins(ID) == ()


def test_that_what_differs_sends_the_sheet_back_to_be_mended(desk: Desk) -> None:
    desk.write()
    desk.finish()
    desk.compare(confirmed=(), differs=(Difference("limits.left_btdc", "22"),))
    life = desk.life()
    assert (life.state, life.returned_for) == (SheetState.DRAFT, ("limits.left_btdc: the document says 22",))
    assert desk.store.sheet_pins(ID) == ()
    desk.write(changed(FULL_ENGINE, ("limits.left_btdc", "22")))
    desk.finish()
    desk.compare()
    kept = desk.store.newest_sheet(ID)
    assert isinstance(kept, EngineSheet)
    assert kept.limits is not None
    assert kept.limits.left_btdc == "22"


def test_that_a_compared_revision_never_changes_and_a_correction_is_the_next(desk: Desk) -> None:
    first = desk.compared().life().sheet
    with pytest.raises(Refusal, match=r"nothing more is typed into it\. Begin the next revision"):
        desk.write(changed(FULL_ENGINE, ("limits.left_btdc", "21")))
    revise_sheet(desk.shop, desk.as_seen("KEEP"), ID)
    [line] = list_sheets(desk.store)
    assert (line.revision, line.state, line.current) == (2, SheetState.DRAFT, 1)
    assert desk.store.newest_sheet(ID) == first
    with pytest.raises(Refusal, match="not compared yet"):
        revise_sheet(desk.shop, desk.as_seen("KEEP"), ID)
    desk.write(changed(FULL_ENGINE, ("limits.left_btdc", "21")))
    desk.finish()
    with pytest.raises(Refusal, match="Whoever compares it can send it back"):
        desk.write()
    desk.compare("MECH")
    assert [pin.revision for pin in desk.store.sheet_pins(ID)] == [1, 2]
    assert desk.store.pinned_sheet(desk.store.sheet_pins(ID)[0]) == first
    assert current_pin(desk.store, ID).revision == 2


def test_that_a_file_is_taken_in_as_a_draft_or_as_the_next_revision(desk: Desk) -> None:
    def take(sheet: Sheet) -> Answer:
        return import_sheet(desk.shop, desk.as_seen("KEEP"), sheet)

    assert take(FULL_ENGINE).version == 1
    assert desk.life().state is SheetState.DRAFT
    for finish in (False, True):
        if finish:
            desk.finish()
        with pytest.raises(Refusal, match="nothing is written over"):
            take(FULL_ENGINE)
    desk.compare()
    take(changed(FULL_ENGINE, ("limits.left_btdc", "21")))
    life = desk.life()
    assert (life.sheet.revision, life.state, life.written_by) == (2, SheetState.DRAFT, ("KEEP",))
    assert life.sheet == changed(replace(FULL_ENGINE, revision=2), ("limits.left_btdc", "21"))


def test_that_a_file_with_a_fault_is_refused_with_its_path(desk: Desk) -> None:
    with pytest.raises(Refusal, match=r"^sheet: limits\.left_btdc: expected a number such as 22 or 0\.5, 0 or more"):
        import_sheet(desk.shop, desk.as_seen("KEEP"), changed(FULL_ENGINE, ("limits.left_btdc", "x")))
    assert list_sheets(desk.store) == ()


def test_that_an_id_stays_with_what_its_sheet_is_about(desk: Desk) -> None:
    desk.write()
    with pytest.raises(Refusal, match="is about another thing here: engine"):
        desk.write(replace(FULL_MAGNETO, id=ID))
    desk.finish()
    desk.compare()
    with pytest.raises(Refusal, match="is about another thing here: engine"):
        import_sheet(desk.shop, desk.as_seen("KEEP"), replace(FULL_MAGNETO, id=ID))
    with pytest.raises(Refusal, match="up to 40 small letters"):
        write_sheet(desk.shop, desk.new("KEEP"), EngineSheet("Marrow Six"))


def test_that_texts_that_cannot_be_kept_are_refused(desk: Desk) -> None:
    with pytest.raises(Refusal, match="invisible sign"):
        desk.write(changed(FULL_ENGINE, ("turning.reason", "\u202epump")))
    desk.write()
    desk.finish()
    for outcome in ({"differs": (Difference("limits.left_btdc", "\u202e22"),)}, {"reason": "x\u202e y z and more"}):
        if "reason" in outcome:
            desk.only("KEEP")
        with pytest.raises(Refusal, match="invisible sign"):
            desk.compare("KEEP" if "reason" in outcome else "INSP", **outcome)
    assert desk.life().state is SheetState.FOR_COMPARISON


def test_that_the_list_says_how_far_each_sheet_is(desk: Desk) -> None:
    write_sheet(desk.shop, desk.new("KEEP"), FULL_MAGNETO)
    desk.compared()
    engine = SheetLine(
        ID, SheetKind.ENGINE, 1, SheetState.COMPARED, 1,
        "Marrow Six G maintenance handbook MM-6G, revision 4, 2025-09-15", invented=True,
    )  # fmt: skip
    first, second = list_sheets(desk.store)
    assert first == engine
    assert (second.id, second.kind, second.state, second.current) == (
        "ostrin-t2-l", SheetKind.MAGNETO, SheetState.DRAFT, 0,
    )  # fmt: skip


NOT_THERE: dict[str, Callable[[Desk], object]] = {
    "see": lambda desk: see_sheet(desk.store, "none"),
    "finish": lambda desk: finish_sheet(desk.shop, desk.new("KEEP"), "none"),
    "compare": lambda desk: compare_sheet(desk.shop, desk.new("INSP"), "none"),
    "revise": lambda desk: revise_sheet(desk.shop, desk.new("KEEP"), "none"),
    "current": lambda desk: current_pin(desk.store, "none"),
}


@pytest.mark.parametrize("ask", NOT_THERE.values(), ids=NOT_THERE)
def test_that_a_sheet_that_is_not_there_is_refused(desk: Desk, ask: Callable[[Desk], object]) -> None:
    with pytest.raises(Refusal, match=r"no sheet|no compared revision"):
        ask(desk)
    assert desk.store.newest_sheet("none") is None
    assert SheetPin("none", 1, "") not in desk.store.sheet_pins("none")
