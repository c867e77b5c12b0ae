"""An order as a whole: its one next action, what stands around the cards, and the forms that write it down."""

from collections.abc import Callable, Iterator
from datetime import date
from pathlib import Path

import pytest
from pytestqt.modeltest import ModelTester
from pytestqt.qtbot import QtBot

from desktop.core.errors import Refusal
from desktop.core.records.record import RecordKind
from desktop.core.shop.aircraft.aircraft import Aircraft, EngineFitted, EnginePosition
from desktop.core.shop.aircraft.customers import Customer
from desktop.core.shop.aircraft.directives import Subject
from desktop.core.shop.aircraft.intake import Intake, Plate
from desktop.core.shop.aircraft.parts import Way
from desktop.core.shop.orders.discrepancies import Outcome
from desktop.core.shop.orders.order_states import OrderState
from desktop.core.shop.orders.safe_state import SafeItem
from desktop.core.shop.sheets.sheet_paths import sheet_groups
from desktop.core.timing.readings import Hand, Side
from desktop.files.cards import builtin_cards
from desktop.files.jobs import builtin_jobs
from desktop.files.sheets import demo_sheets
from desktop.storage.shop_store import new_shop
from desktop.usecases.records.signing.acts import Act
from desktop.usecases.shop.lists.sheets import compare_sheet, finish_sheet, import_sheet, see_sheet
from desktop.usecases.shop.orders.discrepancies import add_discrepancy
from desktop.usecases.shop.orders.open_order import NewOrder, open_order
from desktop.usecases.shop.orders.set_safe_state import set_safe_state
from desktop.usecases.shop.ports import Shop
from desktop.viewmodels.orders.around_form import AroundForm
from desktop.viewmodels.orders.around_forms import LeaveOutForm, PartForm, TimeForm, VoidForm
from desktop.viewmodels.orders.directive_forms import DirectiveForm, SearchForm
from desktop.viewmodels.orders.discrepancy_forms import DiscrepancyForm, SettleForm
from desktop.viewmodels.orders.job_form import JobForm
from desktop.viewmodels.orders.next_act import NextKind
from desktop.viewmodels.orders.order_hub import OrderHub
from desktop.viewmodels.pieces.bench import Bench, Signing
from desktop.viewmodels.pieces.entry_form import EntryForm
from tests.storage.file_floor import QUIET, TEXT
from tests.usecases.records.acting_floor import ActingFloor
from tests.usecases.shop.shop_floor import Floor

SUBMIT, ACCEPT = RecordKind.CARD_SUBMITTED, RecordKind.CARD_ACCEPTED


@pytest.fixture
def floor(tmp_path: Path, qtbot: QtBot) -> Iterator[ActingFloor]:
    with new_shop(tmp_path / "trial.shop", "Trial Works", TEXT, QUIET) as file:
        yield ActingFloor(file, None).staffed().filled()


def hub_of(floor: ActingFloor, person: str, number: int = 1, shop: Shop | None = None) -> OrderHub:
    bench = Bench(builtin_cards(), Signing(floor.desk, floor.file))
    return OrderHub(shop or floor.shop, bench, number, lambda: person, lambda: floor.by(person).request_id)


def typed(form: EntryForm, **values: object) -> None:
    fields = {field.path: field for field in form.fields()}
    for path, value in values.items():
        form.commit(fields[path.replace("__", ".")], value)  # type: ignore[arg-type]


def kept(floor: ActingFloor, form: AroundForm, person: str = "MECH") -> OrderHub:
    assert form.try_it(), [fault.sentence for fault in form.faults()]
    hub = hub_of(floor, person)
    said: list[str] = []
    hub.refused.connect(said.append)
    assert hub.ask(form.words.title, lambda request: form.verb(floor.shop, request, 1), form.words.said), said
    return hub


def faults(form: EntryForm) -> dict[str, str]:
    form.try_it()
    return {fault.where: fault.expected for fault in form.faults()}


def test_that_the_next_action_is_that_of_whoever_looks(floor: ActingFloor) -> None:
    assert hub_of(floor, "MECH").next_act().words == "Open card 1"
    floor.act("MECH", SUBMIT)
    assert hub_of(floor, "ROLF").next_act().words == "Inspect card 1"
    floor.act("ROLF", ACCEPT)
    act = hub_of(floor, "ROLF").next_act()
    assert (act.kind, act.words) == (NextKind.APPROVE, "Approve…")
    floor.act("ROLF", RecordKind.APPROVED)
    hub = hub_of(floor, "DESK")
    assert (hub.next_act().words, hub.is_open, hub.remarks()) == ("Close the order", False, ())
    assert hub.close()
    assert hub.next_act().words == "Back to the work orders"
    assert hub.name == "W-0001, closed"


def test_that_an_order_without_cards_asks_for_the_job_and_a_twin_names_its_engine(floor: ActingFloor) -> None:
    engines = tuple(EngineFitted(one, "Marrow Six", "M6") for one in (EnginePosition.LEFT, EnginePosition.RIGHT))
    aircraft = Aircraft("X-TWIN", "Twin 2", "A-9", engines)
    open_order(floor.shop, floor.by("DESK"), NewOrder(Customer("Ada Brook"), aircraft, EnginePosition.RIGHT))
    hub = hub_of(floor, "DESK", 2)
    assert hub.next_act().words == "Issue the cards of a job"
    assert (hub.position_words, hub.may_issue()) == ("RIGHT engine", False)
    assert hub_of(floor, "DESK").position_words == ""
    assert [label for label, _ in hub.head_lines()] == ["Customer", "Aircraft", "Engine"]


def test_that_what_stands_against_the_approval_is_said_and_goes_when_it_is_put_right(floor: ActingFloor) -> None:
    hub = hub_of(floor, "MECH")
    assert hub.set_board(2, is_normal=False)
    assert [one.rule for one in hub.remarks()] == ["safe-state-not-normal"]
    assert hub.set_board(2, is_normal=True)
    assert hub.remarks() == ()


def test_that_a_change_of_another_window_is_said_and_nothing_is_written_over(floor: ActingFloor) -> None:
    mine = hub_of(floor, "MECH")
    said: list[tuple[str, ...]] = []
    refused: list[str] = []
    mine.changed_elsewhere.connect(said.append)
    mine.refused.connect(refused.append)
    add_discrepancy(floor.shop, floor.on("MECH"), 1, "The left clamp is worn.")
    assert not mine.set_board(1, is_normal=False)
    assert refused == ["The order was changed in another window. Look at what changed, then do it again."]
    assert said == [("discrepancy 1 added",)]
    assert mine.set_board(1, is_normal=False)
    set_safe_state(floor.shop, floor.on("MECH"), 1, SafeItem.PLUGS, is_normal=False)
    mine.look()
    assert said[-1] == ("safe-state board: plugs is out",)
    mine.look()
    assert len(said) == 2


def test_that_a_store_that_does_not_answer_is_said_once(floor: ActingFloor, monkeypatch: pytest.MonkeyPatch) -> None:
    hub = hub_of(floor, "MECH")
    said: list[str] = []
    hub.refused.connect(said.append)

    def refuse(*_: object) -> int:
        raise Refusal("The shop file does not answer.")

    with monkeypatch.context() as patch:
        patch.setattr(floor.file, "version", refuse)
        hub.look()
        hub.look()
    assert said == ["The shop file does not answer."]
    with monkeypatch.context() as patch:
        patch.setattr(floor.file, "order", refuse)
        hub.reload()
    assert len(said) == 2


def test_that_what_may_not_be_done_is_refused_and_said(floor: ActingFloor) -> None:
    hub = hub_of(floor, "KEEP")
    said: list[str] = []
    hub.refused.connect(said.append)
    assert not hub.set_board(0, is_normal=False)
    assert not hub_of(floor, "DESK").close()
    assert "may not do this: set the safe-state board" in said[0]


def test_that_a_discrepancy_is_added_and_settled(floor: ActingFloor) -> None:
    form = DiscrepancyForm()
    assert faults(form) == {"found": "Nothing is written. Write what was found, and where."}
    typed(form, found="The left clamp is worn.")
    hub = kept(floor, form)
    line = hub.around.line(0)
    assert (line.kind, line.discrepancy, line.words) == ("Discrepancy 1", 1, "The left clamp is worn. (open)")
    settle = SettleForm(floor.order().discrepancies[0])
    assert set(faults(settle)) == {"outcome", "words"}
    typed(settle, outcome="declined", words="The owner fits it himself.")
    assert faults(settle) == {"who": "Only the customer declines. Write who said so."}
    typed(settle, who="Ada Brook", how_much="about 40")
    kept(floor, settle)
    settled = floor.order().discrepancies[0].settled
    assert settled is not None
    assert settled.outcome is Outcome.DECLINED
    assert settled.customer is not None
    assert (settled.customer.who, settled.customer.how_much) == ("Ada Brook", "about 40")
    other = SettleForm(floor.order().discrepancies[0])
    typed(other, outcome="closed", words="A new one was fitted.", how_much="40")
    assert faults(other) == {"who": "Write who spoke for the customer."}


def test_that_a_part_on_needs_its_paper(floor: ActingFloor) -> None:
    form = PartForm()
    assert set(faults(form)) == {"way", "number"}
    typed(form, way="on", number="GK-2", quantity="")
    assert set(faults(form)) == {"quantity", "paper"}
    typed(form, quantity="1", paper="release 4471", name="gasket")
    assert kept(floor, form).around.line(0).words == "part no. GK-2, gasket, quantity 1, paper release 4471"
    assert floor.order().parts[0].part.way is Way.ON


def test_that_a_search_and_a_directive_are_recorded(floor: ActingFloor) -> None:
    search = SearchForm()
    assert set(faults(search)) == {"looked_in", "for.engine"}
    typed(search, looked_in="the list of 2 March", for__harness=True, for__switch=True)
    kept(floor, search)
    assert floor.order().searches[-1].subjects == (Subject.HARNESS, Subject.SWITCH)
    form = DirectiveForm(date(2031, 3, 4))
    assert set(faults(form)) == {"number", "method"}
    typed(form, number="2030-11-02", method="visual check", next_due_hours="1834.5")
    assert set(faults(form)) == {"recurring"}
    assert form.is_filled_in(next(field for field in form.fields() if field.path == "next_due_on"))
    typed(form, recurring=True, dated="1 Nov 2030", done_on="")
    assert set(faults(form)) == {"done_on"}
    typed(form, done_on="3 Mar 2031", next_due_hours="soon")
    assert set(faults(form)) == {"next_due_hours"}
    typed(form, next_due_hours="1834.5")
    words = kept(floor, form).around.line(2).words
    assert words.startswith("2030-11-02, dated 1 Nov 2030, magneto, complied with on 3 Mar 2031 by visual check")


@pytest.mark.parametrize(
    ("text", "minutes"),
    [("90", 90), ("1:30", 90), ("0:05", 5), ("24:00", 1440), ("0", None), ("1:5", None), ("1:60", None), ("x", None)],
)
def test_that_time_is_read_in_minutes_or_hours_and_minutes(floor: ActingFloor, text: str, minutes: int | None) -> None:
    form = TimeForm(floor.file.people(), "MECH")
    typed(form, time=text)
    assert form.minutes() == minutes
    assert ("time" in faults(form)) is (minutes is None)


def test_that_time_is_booked_with_a_total(floor: ActingFloor) -> None:
    form = TimeForm(floor.file.people(), "MECH")
    typed(form, time="1:35", what="timing")
    field = next(one for one in form.fields() if one.path == "time")
    assert form.note_at(field) == "1 h 35 min"
    assert form.is_filled_in(next(form.fields()))
    hub = kept(floor, form)
    assert [hub.around.line(row).words for row in range(1, 3)] == ["MECH: 95 min, timing", "1 h 35 min"]
    nobody = TimeForm((), "")
    assert set(faults(nobody)) == {"person", "time"}


def test_that_a_magneto_is_left_out_for_a_reason(floor: ActingFloor) -> None:
    form = LeaveOutForm(floor.order())
    assert set(faults(form)) == {"side", "reason"}
    typed(form, side="right", reason="It was overhauled last month.")
    kept(floor, form)
    again = LeaveOutForm(floor.order())
    assert (again.text("side"), again.is_begun) == ("right", False)


def test_that_an_order_is_made_void_for_a_reason_and_signed_where_a_shop_signs(floor: ActingFloor) -> None:
    form = VoidForm("W-0001")
    assert set(faults(form)) == {"reason"}
    typed(form, reason="It was opened twice by mistake.")
    assert form.act(1) == Act(RecordKind.VOID, 1, reason="It was opened twice by mistake.")
    with pytest.raises(Refusal, match="signs its records"):
        form.verb(floor.shop, floor.on("DESK"), 1)
    assert floor.order().state.value != "void"


def test_that_a_shop_on_paper_voids_an_order_without_a_signature() -> None:
    floor = Floor().with_card()
    form = VoidForm("W-0001")
    typed(form, reason="It was opened twice by mistake.")
    form.verb(floor.shop, floor.by("DESK"), 1)
    assert (floor.order().state.value, form.words.said) == ("void", "W-0001 is void.")


def with_sheets(floor: ActingFloor) -> Shop:
    """Compare the demo's sheets, and return a shop that has the shipped jobs."""
    shop = Shop(floor.file, floor.clock, floor.shop.rulebook, floor.shop.paperwork, builtin_jobs())
    for sheet in demo_sheets():
        import_sheet(shop, floor.by("KEEP"), sheet)
        finish_sheet(shop, floor.by("KEEP", see_sheet(floor.file, sheet.id).version), sheet.id)
        life = see_sheet(floor.file, sheet.id)
        groups = [name for name, _ in sheet_groups(life.sheet)]
        compare_sheet(shop, floor.by("MECH", life.version), sheet.id, groups)
    return shop


def order_on(floor: ActingFloor, engine: str, part_number: str, hand: Hand) -> int:
    plates = tuple(Plate(side, part_number, f"S-{side}", hand) for side in Side)
    fitted = EngineFitted(EnginePosition.SINGLE, engine, "M-1")
    new = NewOrder(
        Customer("Ada Brook"),
        Aircraft("X-MARR", "Trainer 3", "A-7", (fitted,)),
        EnginePosition.SINGLE,
        intake=Intake(plates=plates),
    )
    return open_order(floor.shop, floor.by("DESK"), new).number


def test_that_a_job_is_issued_with_the_sheets_that_fit_and_their_documents_confirmed(floor: ActingFloor) -> None:
    shop = with_sheets(floor)
    engine = next(sheet for sheet in demo_sheets() if sheet.id == "marrow-four")
    part = engine.eligible[0].part_number  # type: ignore[union-attr, index]
    assert part is not None
    magneto = next(one for one in demo_sheets() if part in (getattr(one, "part_numbers", None) or ()))
    hand = Hand(str(magneto.magneto.rotation))  # type: ignore[union-attr]
    number = order_on(floor, "Marrow Four", part, hand)
    hub = hub_of(floor, "DESK", number, shop)
    form = JobForm(shop, builtin_cards(), hub.order)
    assert form.values == {
        "sheet.engine": "marrow-four",
        "sheet.left": magneto.id,
        "sheet.right": magneto.id,
    }
    assert len(form.documents()) == 2
    assert set(faults(form)) == {"what", "is_current"}
    typed(form, what="job:periodic-timing", is_current=True, mechanic="MECH")
    assert faults(form) == {}
    refused: list[str] = []
    hub.refused.connect(refused.append)
    assert hub.ask("issue", lambda request: form.verb(shop, request, number), "Issued."), refused
    cards = hub.order.cards
    assert [card.task.id for card in cards] == ["R1", "S1", "T4", "G1", "P1", "H1", "C1", "R2"]
    assert {card.mechanic for card in cards} == {"MECH"}
    assert cards[2].data_confirmed is not None
    assert cards[2].readings.engine is not None
    assert hub.order.state is OrderState.ISSUED


def test_that_a_plate_that_does_not_fit_stops_the_issue(floor: ActingFloor) -> None:
    shop = with_sheets(floor)
    number = order_on(floor, "Marrow Four", "no-such-magneto", Hand.LEFT)
    hub = hub_of(floor, "DESK", number, shop)
    form = JobForm(shop, builtin_cards(), hub.order)
    typed(form, what="card:T4", is_current=True)
    refused: list[str] = []
    hub.refused.connect(refused.append)
    assert not hub.ask("issue", lambda request: form.verb(shop, request, number), "Issued.")
    assert "Data plate of the left magneto" in refused[0]
    assert hub.order.cards == ()


def test_that_without_sheets_no_document_is_asked_for(floor: ActingFloor) -> None:
    form = JobForm(floor.shop, builtin_cards(), floor.order())
    tick = next(field for field in form.fields() if field.path == "is_current")
    assert (form.documents(), form.is_filled_in(tick)) == ((), True)
    typed(form, what="card:T4")
    assert faults(form) == {}


@pytest.mark.parametrize("which", ["cards", "around"])
def test_that_the_lists_keep_the_rules_of_item_models(
    floor: ActingFloor, qtmodeltester: ModelTester, which: str
) -> None:
    add_discrepancy(floor.shop, floor.on("MECH"), 1, "The left clamp is worn.")
    hub = hub_of(floor, "MECH")
    qtmodeltester.check(getattr(hub, which))  # type: ignore[no-untyped-call]
    verb: Callable[[], bool] = lambda: hub.set_board(2, is_normal=False)  # noqa: E731 - while it is looked at
    assert verb()
