"""The demo's shop: always the same, whole, signed, with an order in every state; nothing is ever written over."""

import re
import shutil
from collections.abc import Iterator
from dataclasses import replace
from datetime import date, datetime, timedelta
from fractions import Fraction
from pathlib import Path

import pytest
from pypdf import PdfReader

from desktop import shop_assembly
from desktop.core.errors import Refusal
from desktop.core.records.record import RecordKind
from desktop.core.records.sealed.canonical import read_record
from desktop.core.shop.aircraft.aircraft import EnginePosition
from desktop.core.shop.aircraft.directives import Subject
from desktop.core.shop.orders.order_states import Move, OrderState
from desktop.core.shop.orders.visits import history_of
from desktop.core.shop.tools import Care
from desktop.core.timing.drift import Drift
from desktop.core.timing.readings import Side
from desktop.core.words import day_words
from desktop.demo import papers as demo_papers
from desktop.demo import shop as demo_building
from desktop.demo.fixed import DemoClock
from desktop.demo.shop import build_shop
from desktop.files.demo_shop import demo_shop
from desktop.storage.database import rows
from desktop.storage.shop_store import ShopFile
from desktop.usecases.papers.kinds import BLANK_CARD, KINDS, PaperKind
from desktop.usecases.records.keys.people_ports import FOR_DEMO
from desktop.usecases.records.keys.secrets import hand_of
from desktop.usecases.shop.cards.card_look import CardLook, look_at_card
from desktop.usecases.shop.lists.look_back import coming, visits_back
from desktop.usecases.shop.lists.look_up import see_order
from desktop.usecases.shop.ports import Shop
from tests.demo.built import TwoShops, build_twice, everything_in

LAST_DAY = date(2026, 10, 12)
DEMO = demo_shop()


@pytest.fixture(scope="module")
def two(tmp_path_factory: pytest.TempPathFactory) -> TwoShops:
    return build_twice(tmp_path_factory.mktemp("demo"))


@pytest.fixture
def shop(two: TwoShops, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Shop]:
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path / "state"))
    place = Path(shutil.copy(two.first, tmp_path / "demo.shop"))
    with shop_assembly.shop_at(place) as opened:
        yield opened


def file_of(shop: Shop) -> ShopFile:
    assert isinstance(shop.store, ShopFile)
    return shop.store


def looks(shop: Shop) -> Iterator[CardLook]:
    for number in range(1, shop.store.orders(limit=1)[0].number + 1):
        order = see_order(shop.store, number)
        for card in order.cards:
            yield look_at_card(shop, shop.store, order, card, LAST_DAY)


def order_that_shows(two: TwoShops, words: str) -> int:
    line = next(line for line in two.printed.splitlines() if words in line)
    return int(line.split(":")[0].strip().removeprefix("W-"))


def test_that_two_shops_built_are_the_same_to_the_last_row(two: TwoShops) -> None:
    assert everything_in(two.first) == everything_in(two.again)
    assert f"record seal {two.seal}." in two.printed


def test_that_the_records_are_sound(two: TwoShops) -> None:
    found = shop_assembly.check_shop(two.first, two.seal)
    assert (found.problems, found.is_sound) == ((), True)
    assert f"{found.count} signed records" in two.printed


def test_that_no_window_is_opened_and_no_qt_loaded(two: TwoShops) -> None:
    assert two.printed.splitlines()[-1] == "no Qt is loaded"


def test_that_every_state_is_there(shop: Shop) -> None:
    assert {line.state for line in shop.store.orders(limit=500)} == set(OrderState)


def test_that_the_people_are_there_and_their_secrets_sign(shop: Shop, two: TwoShops) -> None:
    desk = shop_assembly.signing_desk(replace(shop, clock=DemoClock(date(2026, 10, 13))), FOR_DEMO)
    people = {person.id: person for person in shop.store.people()}
    assert len(people) >= 5
    for person in DEMO.person:
        assert f"{person.id}  {person.name}" in two.printed
        assert DEMO.secrets[person.id] in two.printed
        if person.id == DEMO.left.person:
            with pytest.raises(Refusal, match="withdrawn"):
                hand_of(desk, person.id, DEMO.secrets[person.id])
        else:
            hand_of(desk, person.id, DEMO.secrets[person.id]).key.close()
    assert people[DEMO.left.person].until == DEMO.left.until
    assert "These are no secrets" in two.printed


def test_that_twin_radial_and_geared_are_among_the_aircraft() -> None:
    engines = [engine for one in DEMO.aircraft for engine in one.engine]
    assert len(DEMO.aircraft) >= 5
    assert {EnginePosition.LEFT, EnginePosition.RIGHT} < {engine.position for engine in engines}
    assert {"Bracken Seven", "Marrow Six G"} < {engine.type for engine in engines}


def test_that_every_sheet_says_that_it_is_invented_and_was_compared_by_another_person(shop: Shop) -> None:
    lives = shop.store.sheet_lives()
    assert {life.sheet.id for life in lives} >= {"marrow-six", "marrow-four", "bracken-seven", "marrow-six-g"}
    for life in lives:
        assert life.sheet.invented
        assert life.sheet.transcribed_by is not None
        assert life.sheet.compared_by is not None
        assert life.sheet.transcribed_by.person != life.sheet.compared_by.person
    assert {life.sheet.revision for life in lives} == {1, 2}


def test_that_every_step_of_a_submitted_card_was_confirmed_on_its_own(shop: Shop) -> None:
    submitted = 0
    for look in looks(shop):
        if look.card.state not in (OrderState.FOR_INSPECTION, OrderState.ACCEPTED):
            continue
        submitted += 1
        assert [step.id for step in look.steps if step.initials and look.card.done(step.id) is None] == []
        times = [done.by.at for done in look.card.steps]
        assert len(set(times)) == len(times)
    assert submitted > 20


def test_that_each_entry_made_a_version_with_its_line(shop: Shop) -> None:
    for line in shop.store.orders(limit=500):
        changes = shop.store.changes_since(line.number, 0)
        assert [change.version for change in changes] == list(range(1, line.version + 1))
        confirmed = sum(" is confirmed" in words for change in changes for words in change.said)
        order = see_order(shop.store, line.number)
        assert confirmed == sum(len(card.steps) + len(card.earlier) for card in order.cards)


def test_that_nothing_stops_a_card_that_was_submitted(shop: Shop) -> None:
    for look in looks(shop):
        if look.card.state in (OrderState.FOR_INSPECTION, OrderState.ACCEPTED):
            # A sheet may have been revised since; what the card was issued with stays.
            unexplained = [one.rule for one in look.unexplained if one.rule != "sheet-superseded"]
            assert (look.faults, look.stopping, unexplained) == ((), (), [])


@pytest.mark.parametrize(
    ("words", "rule"), [("the disc moved", "disc-moved"), ("came against rotation", "against-rotation")]
)
def test_that_what_stops_is_in_work(shop: Shop, two: TwoShops, words: str, rule: str) -> None:
    order = see_order(shop.store, order_that_shows(two, words))
    assert order.state is OrderState.IN_WORK
    look = look_at_card(shop, shop.store, order, order.cards[0], LAST_DAY)
    assert rule in {finding.rule for finding in look.stopping}


def test_that_a_card_came_back_with_a_reason(shop: Shop, two: TwoShops) -> None:
    order = see_order(shop.store, order_that_shows(two, "returned by the inspector"))
    assert order.state is OrderState.IN_WORK
    reasons = [one.reason for one in order.passages if one.move is Move.RETURN]
    assert reasons == [
        "The right magneto has no clamp washer on the lower nut. Fit it, tighten, and read as left again."
    ]


def test_that_the_one_not_approved_has_its_list(shop: Shop, two: TwoShops) -> None:
    number = order_that_shows(two, "not approved")
    order = see_order(shop.store, number)
    assert order.state is OrderState.NOT_APPROVED
    assert order.discrepancies[0].word == "declined"
    kinds = [one.kind for one in file_of(shop).records().lines() if one.subject == f"order {number}"]
    assert kinds == [RecordKind.NOT_APPROVED]


def test_that_one_magneto_drifts_late_and_one_stands(shop: Shop) -> None:
    def drift_of(serial: str) -> tuple[int, Drift]:
        history = history_of(serial, [visit for visit in visits_back(shop.store, shop.rulebook, serial) if visit])
        assert history.drift is not None
        return len(history.visits), history.drift

    visits, late = drift_of("7741")
    assert visits >= 4
    assert late.per_hour < 0
    assert late.hours_to_limit is not None
    assert drift_of("7796")[1].per_hour == 0
    assert all(drift_of(serial)[0] >= 3 for serial in ("7741", "7796", "2206", "2207", "5010", "5011"))


def test_that_a_directive_is_coming_due_and_a_tool_is_out_of_date(shop: Shop) -> None:
    lines = coming(shop.store, LAST_DAY)
    directives = [line.coming.due for line in lines if not line.every]
    assert [(due.what, due.serial) for due in directives] == [("directive QV 28-11", "7741")]
    due = {(line.coming.due.what, line.coming.due.serial): line.coming for line in lines}
    # By hand: 503.6 h since overhaul at 1693.8 h, 500 h between inspections: 3.6 h over.
    assert due["inspection off the engine", "7741"].hours_left == Fraction("-3.6")
    # It was inspected on the bench at 2941.7 h; the twin came in last at 3102.5 h.
    assert due["inspection off the engine", "7805"].hours_left == Fraction("339.2")
    assert due["magneto timing to the engine", "M6-0118"].hours_left == 100
    tools = shop.store.tools()
    assert {tool.care for tool in tools} == set(Care)
    assert [tool.id for tool in tools if tool.is_out_of_date(LAST_DAY)] == ["W-1"]


def test_that_what_stands_at_a_step_was_read_before_it_was_confirmed_and_after_the_step_before(shop: Shop) -> None:
    looked_at = 0
    for look in looks(shop):
        before = None
        for step in look.steps:
            done = look.card.done(step.id)
            if done is None:
                continue
            times = [taken.by.at for taken in look.card.taken if taken.path in paths_at(look, step.capture)]
            looked_at += len(times)
            assert all(at <= done.by.at for at in times), (look.seen.order.number, step.id)
            assert before is None or all(at >= before for at in times), (look.seen.order.number, step.id)
            before = done.by.at
    assert looked_at > 100


def paths_at(look: CardLook, capture: str) -> list[str]:
    """Return the paths of the readings that the paper prints at a step."""
    when, _, side = capture.rpartition(" ")
    stops = {"stop pairs": "stop[1].with", "closing pair": "stop[2].with"}
    if capture in stops:
        return [stops[capture]]
    if side not in set(Side):
        return []
    magneto = getattr(look.card.readings, side)
    approaches = (magneto.approach if magneto else None) or ()
    return [f"{side}.approach[{at}].light" for at, one in enumerate(approaches, 1) if one.when == when]


def test_that_nobody_booked_more_time_than_the_aircraft_was_there(shop: Shop) -> None:
    booked = 0
    for line in shop.store.orders(limit=500):
        order = see_order(shop.store, line.number)
        for one in order.time:
            booked += 1
            there = one.by.at - order.opened.at
            assert timedelta(minutes=5) <= timedelta(minutes=one.minutes) <= there
    assert booked > 10


def test_that_tools_were_in_date_for_the_years_in_which_they_were_signed(shop: Shop) -> None:
    seen: dict[str, date] = {}
    records = file_of(shop).records()
    for line in records.lines():
        envelope = records.envelope(line.number)
        assert envelope is not None
        record = read_record(envelope.content)
        day = datetime.fromisoformat(record.at).date()
        if record.kind is RecordKind.TOOL_RECORD:
            rows = {row.label: row.text for row in record.sections[0].rows}
            if "Calibration holds until" in rows and rows["Number"] != "W-1":
                due = datetime.strptime(rows["Calibration holds until"], "%d %b %Y").date()  # noqa: DTZ007 - a day
                assert timedelta(0) < due - day <= timedelta(days=380), rows
                seen[rows["Number"]] = due
        elif record.kind is RecordKind.CARD_SUBMITTED:
            text = "\n".join(row.text for section in record.sections for row in section.rows)
            for number, due in seen.items():
                assert due >= day
                assert f"{number}, " not in text or f"until {day_words(due)}" in text
    assert seen == {"W-3": date(2027, 8, 31), "M-2": date(2027, 4, 30)}


def test_that_directives_were_searched_for_everything_that_the_ignition_has(shop: Shop) -> None:
    searches = [one for line in shop.store.orders(limit=500) for one in see_order(shop.store, line.number).searches]
    assert len(searches) > 10
    assert {one.subjects for one in searches} == {tuple(Subject)}


def test_that_a_later_print_of_a_corrected_record_says_by_which_it_was_corrected(two: TwoShops, shop: Shop) -> None:
    lines = file_of(shop).records().lines()
    [correction] = [line for line in lines if line.kind == RecordKind.CORRECTION]
    order = correction.order
    [approval] = [line for line in lines if line.kind == RecordKind.APPROVED and line.order == order]
    name = f"W-{order:04d}-record-{approval.number:04d}-approved-for-return-to-service.pdf"
    for printed in (name, f"W-{order:04d}-entry.pdf"):
        for page in PdfReader(two.papers / printed).pages:
            assert f"Corrected by record {correction.number}" in page.extract_text()
    text = " ".join(page.extract_text() for page in PdfReader(two.papers / name).pages)
    assert "Tachometer, hours: 1103.7" in text
    labels = PdfReader(two.papers / f"W-{order:04d}-entry-labels.pdf").pages[0].extract_text()
    assert f"Corrected by record {correction.number}" in labels
    other = PdfReader(two.papers / "W-0014-entry.pdf").pages[0].extract_text()
    assert "orrected by" not in other


def test_that_every_page_of_its_papers_says_that_it_is_invented(two: TwoShops) -> None:
    seen = set()
    for place in sorted(two.papers.iterdir()):
        # The pages that look alike are read once an order and kind; every kind is among them.
        kind = re.sub(r"-[0-9]+", "", place.stem).removeprefix("W")
        if kind not in seen:
            seen.add(kind)
            for page in PdfReader(place).pages:
                assert "invented data" in page.extract_text().casefold(), place.name
    assert len(seen) > len(KINDS)


def test_that_the_folder_has_every_kind_of_paper_on_letter(two: TwoShops) -> None:
    names = sorted(place.stem for place in two.papers.iterdir())
    assert f"{len(names)} papers:" in two.printed
    assert "Of the records only the approvals are printed" in two.printed
    for kind in KINDS:
        assert any(f"-{_in_a_name(kind)}" in name for name in names), kind.name
    assert {f"shop-{name}" for name in ("roster", "due", "order-list", "tool-list", "restore", "drift-7741")} < set(
        names
    )
    assert sum(name.startswith("shop-sheet-") for name in names) == 2
    records = [name for name in names if "-record-" in name]
    assert records
    assert all(name.endswith(("-approved-for-return-to-service", "-not-approved")) for name in records)
    page = PdfReader(two.papers / "shop-restore.pdf").pages[0]
    assert (float(page.mediabox.width), float(page.mediabox.height)) == (612, 792)


def _in_a_name(kind: PaperKind) -> str:
    """Return what stands in the names of the papers of a kind."""
    return "blank" if kind is BLANK_CARD else kind.name


def test_that_a_file_is_never_written_over(tmp_path: Path) -> None:
    place = tmp_path / "mine.shop"
    place.write_bytes(b"mine")
    with pytest.raises(Refusal, match="nothing is written over"):
        build_shop(place)
    assert place.read_bytes() == b"mine"


def test_that_papers_go_into_an_empty_folder_only(tmp_path: Path) -> None:
    place, folder = tmp_path / "demo.shop", tmp_path / "papers"
    folder.mkdir()
    (folder / "mine.pdf").write_bytes(b"mine")
    with pytest.raises(Refusal, match="Name a new folder"):
        build_shop(place, folder)
    assert not place.exists()
    with pytest.raises(Refusal, match="Name a new folder"):
        demo_papers.refuse_full_folder(folder / "mine.pdf")


def test_that_what_could_not_be_built_is_removed(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def fails(*_: object) -> None:
        raise Refusal("The disk is full.")

    monkeypatch.setattr(demo_building, "live_through", fails)
    with pytest.raises(Refusal, match="full"):
        build_shop(tmp_path / "demo.shop")
    assert list(tmp_path.iterdir()) == []


def test_that_each_entry_waits_for_the_disk_again_afterwards(shop: Shop) -> None:
    store = file_of(shop)
    with store.not_waiting_for_the_disk():
        assert rows(store._db, "PRAGMA synchronous") == [(0,)]  # noqa: SLF001 - nothing else shows it
    assert rows(store._db, "PRAGMA synchronous") == [(3,)]  # noqa: SLF001 - the same
