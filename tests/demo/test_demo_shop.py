"""The demo's shop: always the same, whole, signed, with an order in every state; nothing is ever written over."""

import re
import shutil
from collections.abc import Iterator
from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest
from pypdf import PdfReader

from desktop import shop_assembly
from desktop.core.errors import Refusal
from desktop.core.records.record import RecordKind
from desktop.core.shop.aircraft.aircraft import EnginePosition
from desktop.core.shop.orders.order_states import Move, OrderState
from desktop.core.shop.orders.visits import history_of
from desktop.core.shop.tools import Care
from desktop.core.timing.drift import Drift
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
    lines = coming(shop.store, LAST_DAY, {})
    assert [(line.coming.due.what, line.coming.due.serial) for line in lines] == [("directive QV 28-11", "7741")]
    tools = shop.store.tools()
    assert {tool.care for tool in tools} == set(Care)
    assert [tool.id for tool in tools if tool.is_out_of_date(LAST_DAY)] == ["W-1"]


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
