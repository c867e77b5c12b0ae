"""Settings, what is left out of a job, steps that are left out, and closing."""

from dataclasses import replace

import pytest

from desktop.core.errors import NotReady, Refusal
from desktop.core.shop.orders.order import LeftOut
from desktop.core.shop.orders.order_moves import NewCard
from desktop.core.shop.orders.order_states import OrderState
from desktop.core.shop.orders.safe_state import SafeItem
from desktop.core.shop.settings import ShopSettings
from desktop.core.shop.sheets.sheet_pin import SheetPin
from desktop.core.shop.shop_details import ShopDetails
from desktop.core.timing.readings import Side
from desktop.files.jobs import builtin_jobs
from desktop.files.sheets import demo_sheets
from desktop.usecases.shop.cards.card_look import look_at_card, order_findings
from desktop.usecases.shop.cards.confirm_step import confirm_step, take_back_step
from desktop.usecases.shop.cards.issue_card import issue_card
from desktop.usecases.shop.cards.leave_out import leave_out
from desktop.usecases.shop.cards.write_remark import write_remark
from desktop.usecases.shop.lists.keep_settings import keep_details, keep_settings
from desktop.usecases.shop.orders.close_order import close_order
from desktop.usecases.shop.orders.set_safe_state import set_safe_state
from tests.usecases.shop.shop_floor import SOUND, TIMING, Floor

NAMED = ShopDetails("Quarry Lane Aero Works", is_station=True, station_certificate="QL-31")


def test_that_a_records_keeper_keeps_what_the_shop_says_of_itself() -> None:
    floor = Floor()
    request = floor.new("KEEP")
    answer = keep_details(floor.shop, request, NAMED)
    assert keep_details(floor.shop, request, NAMED) == answer
    assert floor.store.shop_details() == NAMED
    with pytest.raises(NotReady, match="no name"):
        keep_details(floor.shop, floor.new("KEEP"), replace(NAMED, name=" "))
    with pytest.raises(NotReady, match="invisible sign"):
        keep_details(floor.shop, floor.new("KEEP"), replace(NAMED, address="one\u202etwo"))
    with pytest.raises(Refusal, match="records keeper"):
        keep_details(floor.shop, floor.new("MECH"), NAMED)


def test_that_settings_are_kept_unless_they_were_changed_since() -> None:
    floor = Floor()
    request = floor.new("KEEP")
    answer = keep_settings(floor.shop, request, ShopSettings(paper="a4"))
    assert keep_settings(floor.shop, request, ShopSettings(paper="a4")) == answer
    assert floor.store.settings() == ShopSettings(paper="a4", version=1)
    with pytest.raises(Refusal, match="not as you saw them"):
        keep_settings(floor.shop, floor.new("KEEP"), ShopSettings())


@pytest.mark.parametrize(
    "settings",
    [
        ShopSettings(decision="loose"),
        ShopSettings(paper="a5"),
        ShopSettings(units="cubits"),
        ShopSettings(idle_lock=0),
        ShopSettings(idle_lock=121),
    ],
)
def test_that_settings_outside_their_choices_are_refused(settings: ShopSettings) -> None:
    with pytest.raises(NotReady):
        keep_settings(Floor().shop, Floor().new("KEEP"), settings)


def test_that_a_magneto_is_left_out_for_a_reason() -> None:
    floor = Floor().with_order()
    with pytest.raises(Refusal, match="for a reason"):
        leave_out(floor.shop, floor.by("DESK"), 1, Side.LEFT, "n/a")
    leave_out(floor.shop, floor.by("DESK"), 1, Side.LEFT, "It is at its maker.")
    leave_out(floor.shop, floor.by("DESK"), 1, Side.LEFT, "It is away at its maker.")
    assert [(one.side, one.reason) for one in floor.order().left_out] == [(Side.LEFT, "It is away at its maker.")]
    with pytest.raises(ValueError, match="for a reason"):
        LeftOut(Side.LEFT, " ", floor.order().opened)


def test_that_an_order_closes_after_its_approval_with_the_board_normal() -> None:
    floor = Floor().with_card()
    with pytest.raises(NotReady, match="so this cannot be done: close"):
        close_order(floor.shop, floor.by("DESK"), 1)
    accepted = replace(floor.card(), state=OrderState.ACCEPTED)
    floor.store.file.orders[1] = replace(floor.order(), cards=(accepted,), ending=OrderState.APPROVED)
    set_safe_state(floor.shop, floor.by("MECH"), 1, SafeItem.PLUGS, is_normal=False)
    with pytest.raises(NotReady, match="plugs: out"):
        close_order(floor.shop, floor.by("DESK"), 1)
    set_safe_state(floor.shop, floor.by("MECH"), 1, SafeItem.PLUGS, is_normal=True)
    close_order(floor.shop, floor.by("DESK"), 1)
    assert floor.order().state is OrderState.CLOSED


CHOICE = replace(TIMING.steps[2], id="found", capture="choice", choices=("worn", "sound"), board="")
SKIPPED = replace(TIMING.steps[2], id="starter", capture="confirm", may_skip=True, board="switch OFF")
TASK = replace(TIMING, steps=(*TIMING.steps, CHOICE, SKIPPED))


def chosen() -> Floor:
    floor = Floor().with_order()
    issue_card(floor.shop, floor.by("DESK"), 1, NewCard(TASK, SOUND))
    return floor


def test_that_a_choice_is_one_of_its_words() -> None:
    floor = chosen()
    with pytest.raises(Refusal, match="asks for one of: worn, sound"):
        confirm_step(floor.shop, floor.by("MECH"), 1, 1, "found", text="so so")
    confirm_step(floor.shop, floor.by("MECH"), 1, 1, "found", text="worn")
    done = floor.card().done("found")
    assert done is not None
    assert done.text == "worn"


def test_that_a_step_is_left_out_only_where_the_card_allows_it_and_for_a_reason() -> None:
    floor = chosen()
    with pytest.raises(Refusal, match="may not be left out"):
        confirm_step(floor.shop, floor.by("MECH"), 1, 1, "found", text="it does not apply", skipped=True)
    with pytest.raises(Refusal, match="for a reason"):
        confirm_step(floor.shop, floor.by("MECH"), 1, 1, "starter", text="n/a", skipped=True)
    confirm_step(floor.shop, floor.by("MECH"), 1, 1, "starter", text="no starter is fitted", skipped=True)
    done = floor.card().done("starter")
    assert done is not None
    assert (done.skipped, done.text) == (True, "no starter is fitted")


def test_that_a_confirmation_taken_again_or_back_is_kept_as_an_earlier_one() -> None:
    floor = chosen()
    confirm_step(floor.shop, floor.by("MECH"), 1, 1, "found", text="worn")
    confirm_step(floor.shop, floor.by("MECH"), 1, 1, "found", text="sound")
    take_back_step(floor.shop, floor.by("MECH"), 1, 1, "found")
    before = floor.order()
    take_back_step(floor.shop, floor.by("MECH"), 1, 1, "found")
    assert floor.order() == before
    assert [done.text for done in floor.card().earlier] == ["worn", "sound"]
    assert floor.card().done("found") is None


def test_that_a_newer_revision_of_a_sheet_and_signs_that_paper_lacks_are_found() -> None:
    floor = Floor().with_order()
    sheet = next(one for one in demo_sheets() if one.id == "marrow-six")
    floor.store.file.sheets[("marrow-six", 1)] = sheet
    pin = SheetPin("marrow-six", 1, "0" * 64, "engine")
    issue_card(floor.shop, floor.by("DESK"), 1, NewCard(TIMING, SOUND, sheets=(pin,), documents=("MM-6",)))
    write_remark(floor.shop, floor.by("MECH"), 1, 1, "The lamp was 暗 at first.")
    shop = replace(floor.shop, missing_signs=lambda text: ("U+6697",) if "暗" in text else ())
    today = floor.order().opened.at.date()

    def rules() -> dict[str, str]:
        look = look_at_card(shop, floor.store, floor.order(), floor.card(), today)
        return {finding.rule: finding.where for finding in look.findings}

    assert rules()["sign-not-printable"] == "remarks[1].text"
    assert "sheet-superseded" not in rules()
    floor.store.file.sheets[("marrow-six", 2)] = replace(sheet, revision=2)
    assert rules()["sheet-superseded"] == "limits"


def test_that_a_run_up_is_due_when_the_job_of_a_card_says_so() -> None:
    floor = Floor().with_order()
    issue_card(floor.shop, floor.by("DESK"), 1, NewCard(TIMING, SOUND, job="periodic-timing"))
    shop = replace(floor.shop, jobs=builtin_jobs())
    today = floor.order().opened.at.date()
    order = replace(
        floor.order(), cards=tuple(replace(card, readings=replace(SOUND, run_up=None)) for card in floor.order().cards)
    )
    found = {finding.rule for finding in order_findings(shop, floor.store, order, today)}
    assert "run-up-missing" in found
    assert "run-up-missing" not in {one.rule for one in order_findings(floor.shop, floor.store, order, today)}
