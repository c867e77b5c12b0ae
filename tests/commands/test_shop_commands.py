"""The commands of the shop file: what they print, and what they refuse in one line."""

import json
from pathlib import Path

import pytest

from desktop import assembly, shop_assembly
from desktop.core.shop.aircraft.aircraft import Aircraft, EngineFitted, EnginePosition, MagnetoFitted
from desktop.core.shop.aircraft.customers import Customer
from desktop.core.shop.orders.order_moves import NewCard
from desktop.core.timing.readings import Side
from desktop.core.timing.typed_card import TypedCard
from desktop.files.demo_jobs import demo_jobs
from desktop.usecases.fill_card import empty_card
from desktop.usecases.shop.cards.issue_card import issue_card
from desktop.usecases.shop.orders.open_order import NewOrder, open_order
from desktop.usecases.shop.ports import Request
from tests.commands.test_commands import Runner, run

__all__ = ["run"]


@pytest.fixture
def place(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path / "state"))
    made = tmp_path / "quarry-lane.shop"
    shop_assembly.make_shop(made, "Quarry Lane Aero Works", "Lena Ode", "LO")
    return made


def order_with(place: Path, registration: str, readings: TypedCard | None) -> int:
    """Put an order into a shop file, with a card where readings are given."""
    magneto = MagnetoFitted(Side.LEFT, "T2", "7741")
    engine = EngineFitted(EnginePosition.SINGLE, "Marrow Six", "M6-0118", (magneto,))
    new = NewOrder(
        Customer("Ada Brook"),
        Aircraft(registration, "Tarnbeck 4", "31", (engine,)),
        EnginePosition.SINGLE,
        "time both magnetos",
    )
    with shop_assembly.shop_at(place) as shop:
        opened = open_order(shop, Request(shop_assembly.new_id(), "LO"), new)
        if readings is not None:
            request = Request(shop_assembly.new_id(), "LO", opened.version)
            issue_card(shop, request, opened.number, NewCard(assembly.timing_card(), readings))
        return opened.number


def test_that_new_makes_a_shop_and_says_how_to_open_it(
    run: Runner, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path / "state"))
    ran = run("new", "mine.shop", "--person", "Tom Rill")
    assert (ran.status, ran.err) == (0, "")
    assert ran.out.startswith("The shop file mine.shop is made. Tom Rill (TR) keeps its records.")
    assert run("orders", "mine.shop") == (0, "", "There is no work order yet.\n")


def test_that_new_writes_over_nothing(run: Runner, place: Path) -> None:
    before = place.read_bytes()
    ran = run("new", place)
    assert ran.status == 2
    assert ran.err.count("\n") == 1
    assert place.read_bytes() == before


def test_that_orders_are_listed_newest_first_searched_and_filtered(run: Runner, place: Path) -> None:
    order_with(place, "XQ-TBK", None)
    order_with(place, "XQ-FEN", empty_card())
    assert run("orders", place).out.splitlines() == [
        "W-0002  issued  XQ-FEN Tarnbeck 4  Ada Brook  time both magnetos",
        "W-0001  open  XQ-TBK Tarnbeck 4  Ada Brook  time both magnetos",
    ]
    assert run("orders", place, "--find", "tbk").out.startswith("W-0001")
    assert run("orders", place, "--find", "7741 ada").out.count("\n") == 2
    found = run("orders", place, "--find", "nobody", "--state", "void")
    assert found == (0, "", 'Nothing found: there is no work order with "nobody" in the state "void".\n')
    assert run("orders", place, "--find", "tbk").err == ""
    assert run("orders", place, "--state", "issued").out.startswith("W-0002")
    assert run("orders", place, "--state", "lost").status == 2


def test_that_more_orders_than_a_page_are_all_listed(run: Runner, place: Path) -> None:
    for number in range(53):
        order_with(place, f"XQ-{number:03}", None)
    assert len(run("orders", place).out.splitlines()) == 53


def test_that_a_card_is_worked_out(run: Runner, place: Path) -> None:
    order_with(place, "XQ-TBK", demo_jobs()[0][1])
    ran = run("card", place, "W-0001", "--json")
    assert ran.status == 0
    assert json.loads(ran.out)["left"]["verdict"] == "within"
    order_with(place, "XQ-KIT", demo_jobs()[2][1])
    assert run("card", place, "2").status == 1


@pytest.mark.parametrize(
    ("order", "said"),
    [
        ("1", "W-0001 has no card yet. Issue one in the window."),
        ("2", "The card cannot be worked out yet. Engine, cylinders: expected"),
        ("3", "There is no order 3."),
        ("W-x", '"W-x" is no order number. Write it as W-0001 or 1.'),
        ("-1", "No such option"),
        ("1" * 12, "is no order number"),
    ],
)
def test_that_a_card_that_cannot_be_shown_is_refused_in_one_line(
    run: Runner, place: Path, order: str, said: str
) -> None:
    order_with(place, "XQ-TBK", None)
    order_with(place, "XQ-FEN", empty_card())
    ran = run("card", place, order)
    assert (ran.status, ran.out) == (2, "")
    assert said in ran.err
    assert ran.err.count("\n") == 1


@pytest.mark.parametrize("command", [("orders",), ("card",)])
def test_that_what_is_no_shop_file_is_refused(run: Runner, tmp_path: Path, command: tuple[str]) -> None:
    readings = tmp_path / "card.toml"
    readings.write_text("format = 1\n")
    rest = ("1",) if command == ("card",) else ()
    for place in (readings, tmp_path, tmp_path / "missing.shop"):
        ran = run(*command, place, *rest)
        assert (ran.status, ran.out) == (2, "")
        assert ran.err.count("\n") == 1


def test_that_a_failed_new_leaves_nothing_that_blocks_the_name(
    run: Runner, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path / "state"))
    assert run("new", "mine.shop", "--person", "   ", "--initials", "X").status == 2
    assert not (tmp_path / "mine.shop").exists()
    assert run("new", "mine.shop", "--person", "Tom Rill").status == 0


def test_that_an_order_is_found_by_its_number_as_it_is_read(run: Runner, place: Path) -> None:
    order_with(place, "XQ-TBK", None)
    for words in ("W-0001", "w0001", "0001", "1"):
        assert run("orders", place, "--find", words).out.startswith("W-0001"), words
