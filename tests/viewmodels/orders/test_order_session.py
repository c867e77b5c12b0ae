"""The card of an order as a view-model: what cannot be done is said once, and nothing is half done."""

from collections.abc import Iterator
from datetime import date
from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot

from desktop import assembly, shop_assembly
from desktop.core.errors import Refusal
from desktop.core.shop.orders.order_states import OrderState
from desktop.core.shop.people.people import Person, Right
from desktop.files.demo_jobs import demo_jobs
from desktop.usecases.shop.lists.keep_lists import keep_person
from desktop.usecases.shop.lists.look_up import see_order
from desktop.usecases.shop.ports import Request, Shop
from desktop.viewmodels.frame.shop_desk import ShopDesk
from desktop.viewmodels.orders.order_session import OrderSession
from desktop.viewmodels.pieces.fields import Field
from tests.commands.test_shop_commands import order_with


@pytest.fixture
def place(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path / "state"))
    made = tmp_path / "quarry-lane.shop"
    shop_assembly.make_shop(made, "Quarry Lane", "Lena Ode", "LO")
    return made


@pytest.fixture
def shop(place: Path) -> Iterator[Shop]:
    with shop_assembly.shop_at(place) as opened:
        yield opened


@pytest.fixture
def session(place: Path, shop: Shop, qtbot: QtBot) -> OrderSession:
    order_with(place, "XQ-TBK", demo_jobs()[1][1])
    return OrderSession(shop, "LO", (1, 1), shop_assembly.new_id)


def field(session: OrderSession, path: str) -> Field:
    return next(f for place in session.places for group in place.groups for f in group.fields if f.path == path)


def test_that_a_step_is_confirmed_and_taken_back(session: OrderSession) -> None:
    step = field(session, "@step.switch-off")
    assert session.value(step) is False
    session.commit(step, True)
    assert session.value(step) is True
    session.commit(step, False)
    assert session.value(step) is False


def test_that_the_board_is_set_and_says_what_is_not_as_it_flies(session: OrderSession) -> None:
    leads = field(session, "@safe.PLUG_LEADS")
    assert session.value(leads) == "on"
    session.commit(leads, "off")
    assert session.value(leads) == "off"
    assert session.not_normal() == ("plug leads off",)
    session.commit(leads, "on")
    assert session.not_normal() == ()


def test_that_a_reason_is_kept_with_its_finding(place: Path, shop: Shop, qtbot: QtBot) -> None:
    order_with(place, "XQ-TBK", demo_jobs()[0][1])
    session = OrderSession(shop, "LO", (1, 1), shop_assembly.new_id)
    session.commit(field(session, "stop[2].with"), "")
    session.commit(field(session, "stop[2].against"), "")
    reason = field(session, "@reason.no-closing-pair at stop")
    assert session.value(reason) is None
    session.commit(reason, "The disc was checked against the flange mark.")
    assert session.value(reason) == "The disc was checked against the flange mark."


def test_that_a_card_that_stops_is_not_submitted_and_says_why(session: OrderSession, qtbot: QtBot) -> None:
    session.commit(field(session, "run_up.both_rpm"), "1701")
    with qtbot.waitSignal(session.refused) as refused:
        assert not session.act()
    assert refused.args is not None
    assert "more, listed above." in refused.args[0]
    assert session.last_lines()[0] == "Before the card can be submitted:"
    assert session.last_act() == "Submit for inspection"


def test_that_nothing_is_returned_without_a_reason(
    place: Path, shop: Shop, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    order_with(place, "XQ-TBK", demo_jobs()[0][1])
    session = OrderSession(shop, "LO", (1, 1), shop_assembly.new_id)
    monkeypatch.setattr("desktop.usecases.shop.cards.submit_card.what_stops", lambda *_: ())
    session.commit(field(session, "run_up.both_rpm"), "1701")
    assert session.act()
    assert session.card.state is OrderState.FOR_INSPECTION
    assert session.last_act() == "Return to the mechanic"
    assert session.last_lines() == ("The card is for inspection. Give a reason to return it to the mechanic.",)
    with qtbot.waitSignal(session.refused):
        assert not session.act()
    session.commit(field(session, "@return"), "Read it again.")
    assert session.act()
    assert see_order(shop.store, 1).state is OrderState.IN_WORK


def test_that_a_person_without_the_right_is_refused_and_nothing_is_kept(session: OrderSession, shop: Shop) -> None:
    guest = Person("GD", "Gil Dow", (Right.FRONT_DESK,), date(2020, 1, 1))
    keep_person(shop, Request(shop_assembly.new_id(), "LO"), guest)
    session.person_id = "GD"
    said: list[str] = []
    session.refused.connect(said.append)
    session.commit(field(session, "engine.cylinders"), "6")
    assert len(said) == 1
    assert see_order(shop.store, 1).cards[0].readings == demo_jobs()[1][1]


def test_that_an_order_without_cards_has_no_session(place: Path, shop: Shop, qtbot: QtBot) -> None:
    order_with(place, "XQ-TBK", None)
    with pytest.raises(Refusal, match="Order 1 has no card 1"):
        OrderSession(shop, "LO", (1, 1), shop_assembly.new_id)


def test_that_the_desk_says_what_was_refused(place: Path, shop: Shop, qtbot: QtBot) -> None:
    order_with(place, "XQ-TBK", None)
    desk = ShopDesk(shop, assembly.timing_card(), shop_assembly.new_id)
    assert desk.hub(1) is not None
    with qtbot.waitSignal(desk.refused):
        assert desk.hub(2) is None
    with qtbot.waitSignal(desk.refused):
        assert desk.order(2) is None
    with pytest.raises(Refusal, match="no card 1"):
        desk.card_session(1, 1)


def test_that_a_store_that_does_not_answer_loses_nothing_that_was_typed(
    session: OrderSession, shop: Shop, monkeypatch: pytest.MonkeyPatch
) -> None:
    said: list[str] = []
    session.refused.connect(said.append)

    def refuse(_number: int) -> int:
        raise Refusal("The shop file does not answer.")

    one = field(session, "engine.cylinders")
    with monkeypatch.context() as patch:
        patch.setattr(shop.store, "version", refuse)
        session.commit(one, "6")
    assert said == ["The shop file does not answer."]
    assert (session.value(one), session.trouble_at(one)) == ("6", "This was not kept. Press Enter to try again.")
    session.commit(one, "6")
    assert (session.value(one), session.trouble_at(one)) == ("6", "")
