"""A law with two windows: nobody signs what they did not see, and nothing is edited after it was signed.

One window shows what is to be signed; another changes something; then the first one signs. Run more with
``SPARKWRIGHT_EXAMPLES=2000``.
"""

import os
import shutil
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pytestqt.qtbot import QtBot

from desktop.core.errors import Refusal
from desktop.core.records.record import Record, RecordKind
from desktop.core.records.said import said_lines
from desktop.core.records.sealed.canonical import read_record
from desktop.core.shop.aircraft.directives import Subject
from desktop.core.shop.orders.order import WorkOrder
from desktop.core.shop.orders.order_card import OrderCard, finding_key
from desktop.core.shop.orders.safe_state import SafeItem
from desktop.core.shop.shop_details import ShopDetails
from desktop.core.timing.readings import Side
from desktop.storage.shop_store import new_shop
from desktop.usecases.records.signing import acts, signed_acts
from desktop.usecases.records.signing.acts import Act, Drafted
from desktop.usecases.shop.book import book_time
from desktop.usecases.shop.cards.confirm_step import take_back_step
from desktop.usecases.shop.cards.leave_out import leave_out
from desktop.usecases.shop.cards.take_reading import take_reading
from desktop.usecases.shop.cards.write_remark import write_remark
from desktop.usecases.shop.lists.keep_lists import keep_tool
from desktop.usecases.shop.lists.keep_settings import keep_details
from desktop.usecases.shop.orders.discrepancies import add_discrepancy
from desktop.usecases.shop.orders.record_directive import record_search
from desktop.usecases.shop.orders.set_safe_state import set_safe_state
from desktop.viewmodels.pieces.bench import Signing
from desktop.viewmodels.signing.sign_session import ActPen, SignSession
from tests.storage.file_floor import QUIET, TEXT, opened
from tests.usecases.records.acting_floor import PHRASES, ActingFloor

EXAMPLES = int(os.environ.get("SPARKWRIGHT_EXAMPLES", "200"))
SUBMIT, ACCEPT = RecordKind.CARD_SUBMITTED, RecordKind.CARD_ACCEPTED
Edit = Callable[[ActingFloor], object]

PATHS = (
    "left.approach[3].back",
    "left.approach[3].from",
    "right.approach[3].back",
    "run_up.both_rpm",
    "torque[1].angle",
)


def _rename_tool(floor: ActingFloor) -> object:
    tool = next(one for one in floor.file.tools() if one.id == "L-1")
    return keep_tool(floor.shop, floor.by("KEEP", tool.version), replace(tool, name=f"{tool.name} of the hangar"))


def _rename_mechanic(floor: ActingFloor) -> None:
    floor.change("MECH", name="Melanie Chan")


CARD_EDITS: tuple[Edit, ...] = (
    *(lambda floor, path=path: take_reading(floor.shop, floor.on("MECH"), 1, 1, (path, "336.75")) for path in PATHS),
    lambda floor: take_reading(floor.shop, floor.on("MECH"), 1, 1, ("left.approach[3].light", "338"), tool="L-1"),
    lambda floor: write_remark(floor.shop, floor.on("MECH"), 1, 1, "The lamp was weak at first."),
    lambda floor: write_remark(floor.shop, floor.on("MECH"), 1, 1, "As it was.", about=finding_key("x", "left")),
    lambda floor: take_back_step(floor.shop, floor.on("MECH"), 1, 1, floor.order().cards[0].steps[0].step),
)
"""Changes that somebody may make to a card in work."""
ORDER_EDITS: tuple[Edit, ...] = (
    *(
        lambda floor, item=item: set_safe_state(floor.shop, floor.on("MECH"), 1, item, is_normal=False)
        for item in SafeItem
    ),
    lambda floor: add_discrepancy(floor.shop, floor.on("MECH"), 1, "The left clamp is worn."),
    lambda floor: book_time(floor.shop, floor.on("MECH"), 1, "MECH", 30, "timing"),
    lambda floor: record_search(floor.shop, floor.on("MECH"), 1, "the newer list", (Subject.SWITCH,)),
    lambda floor: leave_out(floor.shop, floor.on("MECH"), 1, Side.RIGHT, "It was overhauled last month."),
)
"""Changes around the cards."""
LIST_EDITS: tuple[Edit, ...] = (
    _rename_tool,
    _rename_mechanic,
    lambda floor: keep_details(floor.shop, floor.by("KEEP"), ShopDetails("Another Name")),
)
"""Changes of what a record says besides the order: names of tools and people. The shop's own name is in its file."""


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> dict[RecordKind, Path]:
    """Two closed shop files: a card ready to be submitted, and one ready to be accepted."""
    places = {}
    for kind in (SUBMIT, ACCEPT):
        place = tmp_path_factory.mktemp("law") / f"{kind.name.lower()}.shop"
        with new_shop(place, "Trial Works", TEXT, QUIET) as file:
            floor = ActingFloor(file, None).staffed().filled()
            if kind is ACCEPT:
                floor.act("MECH", SUBMIT)
        places[kind] = place
    return places


@contextmanager
def two_windows(made: Path) -> Iterator[tuple[ActingFloor, ActingFloor]]:
    """Open one shop file twice, as two windows do."""
    with TemporaryDirectory() as folder:
        place = Path(shutil.copy(made, Path(folder) / "trial.shop"))
        with opened(place) as first, opened(place) as second:
            yield ActingFloor(first, None), ActingFloor(second, None)


def asked(floor: ActingFloor, person: str, kind: RecordKind) -> SignSession:
    """Show what is to be signed."""
    signing = Signing(floor.desk, floor.file)
    return SignSession(signing, ActPen(signing, person, Act(kind, 1, 1)), lambda: floor.by(person).request_id)


def law(made: Path, kind: RecordKind, edits: tuple[Edit, ...]) -> bool:
    """Look in one window, change in the other, sign in the first; tell whether something was signed.

    AssertionError when what was signed is not, word for word, what was shown.
    """
    person = {SUBMIT: "MECH", ACCEPT: "ROLF"}[kind]
    with two_windows(made) as (mine, theirs):
        session = asked(mine, person, kind)
        read = session.shown.lines
        before = len(tuple(mine.file.envelopes()))
        for edit in edits:
            try:
                edit(theirs)
            except Refusal:
                continue
        was_signed = session.sign(PHRASES[person])
        records = [read_record(one.content) for one in mine.file.envelopes()]
        assert len(records) == before + was_signed, "a signature that was refused left a record"
        if was_signed:
            assert said_lines(records[-1]) == read, "somebody signed what they did not see"
            now = asked_words(mine, records[-1])
            assert now == read, "what stands on the order is not what was signed"
        return was_signed


def asked_words(floor: ActingFloor, record: Record) -> tuple[str, ...]:
    """Return what the record would say if it were made now, from the order as it is now: the seal of the draft."""
    from desktop.core.records.sealed.draft_seal import LABEL, seal_row  # noqa: PLC0415 - only here

    seal = seal_row(floor.order().cards[0])
    return tuple(f"  {LABEL}: {seal.text}" if line.startswith(f"  {LABEL}: ") else line for line in said_lines(record))


@settings(max_examples=EXAMPLES)
@given(edits=st.lists(st.sampled_from([*CARD_EDITS, *ORDER_EDITS, *LIST_EDITS]), min_size=1, max_size=3))
def test_that_nobody_submits_what_they_did_not_see(
    made: dict[RecordKind, Path], edits: list[Edit], qapp: object
) -> None:
    law(made[SUBMIT], SUBMIT, tuple(edits))


@settings(max_examples=max(20, EXAMPLES // 4))
@given(edits=st.lists(st.sampled_from([*ORDER_EDITS, *LIST_EDITS]), min_size=1, max_size=2))
def test_that_nobody_accepts_what_they_did_not_see(
    made: dict[RecordKind, Path], edits: list[Edit], qapp: object
) -> None:
    law(made[ACCEPT], ACCEPT, tuple(edits))


@pytest.mark.parametrize("place", range(len(CARD_EDITS) + len(ORDER_EDITS)))
def test_that_every_change_of_the_order_alone_keeps_from_signing(
    made: dict[RecordKind, Path], place: int, qapp: object
) -> None:
    assert not law(made[SUBMIT], SUBMIT, ((*CARD_EDITS, *ORDER_EDITS)[place],))


def test_that_without_a_change_it_is_signed(made: dict[RecordKind, Path], qapp: object) -> None:
    assert law(made[SUBMIT], SUBMIT, ())
    assert law(made[ACCEPT], ACCEPT, ())


class Blind(Record):
    """A record that takes every other for itself."""

    __slots__ = ()

    def __eq__(self, other: object) -> bool:
        return True

    def __ne__(self, other: object) -> bool:
        return False

    __hash__ = None  # type: ignore[assignment]


def test_that_the_law_is_broken_where_nothing_is_compared(
    made: dict[RecordKind, Path], qapp: object, monkeypatch: pytest.MonkeyPatch
) -> None:
    whole = acts.draft_of

    def blind(*words: object) -> Drafted:
        drafted = whole(*words)  # type: ignore[arg-type]
        record = drafted.record
        return replace(drafted, record=Blind(*(getattr(record, name) for name in Record.__slots__)))

    monkeypatch.setattr(signed_acts, "draft_of", blind)
    monkeypatch.setattr(signed_acts, "refuse_old_view", lambda *_: None)
    monkeypatch.setattr("desktop.viewmodels.signing.sign_session.see_as_kept", lambda *_: None)
    with pytest.raises(AssertionError, match="somebody signed what they did not see"):
        law(made[SUBMIT], SUBMIT, (CARD_EDITS[0],))


@settings(max_examples=max(20, EXAMPLES // 4))
@given(edits=st.lists(st.sampled_from(CARD_EDITS), min_size=1, max_size=3))
def test_that_nothing_is_edited_after_it_was_signed(
    made: dict[RecordKind, Path], edits: list[Edit], qapp: object
) -> None:
    with two_windows(made[ACCEPT]) as (mine, theirs):
        card = mine.order().cards[0]
        records = tuple(mine.file.envelopes())
        for edit in edits:
            with pytest.raises(Refusal, match="nothing more is written on it"):
                edit(theirs)
        assert mine.order().cards[0] == card
        assert tuple(mine.file.envelopes()) == records


def _lets_through(card: OrderCard) -> Callable[..., tuple[WorkOrder, OrderCard]]:
    def card_in_work(order: WorkOrder, *_: object) -> tuple[WorkOrder, OrderCard]:
        return order, card

    return card_in_work


def test_that_an_edit_that_slips_through_breaks_the_law(
    made: dict[RecordKind, Path], qapp: object, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Negative control: where a card that is for inspection could be written on, the seal of the draft shows it."""
    with two_windows(made[ACCEPT]) as (mine, theirs):
        signed = read_record(list(mine.file.envelopes())[-1].content)
        before = asked_words(mine, signed)
        assert before == said_lines(signed)
        card = theirs.order().cards[0]
        monkeypatch.setattr("desktop.usecases.shop.cards.take_reading.card_in_work", _lets_through(card))
        CARD_EDITS[0](theirs)
        assert asked_words(mine, signed) != said_lines(signed)
