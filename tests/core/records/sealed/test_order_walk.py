"""What is signed about an order comes in the order of the work; the same without the fault is sound."""

from collections.abc import Callable
from dataclasses import replace

import pytest

from desktop.core.records.keys.enrolment import person_section
from desktop.core.records.record import RecordKind, Row, Section
from desktop.core.records.sealed.chain import check_chain
from desktop.core.records.subjects import order_subject, person_subject
from desktop.core.shop.people.people import Right
from tests.core.records.pens import KEEP, MECH, SHOP_ID, RealVerifier, SignedShop

CARD, OTHER, ORDER = order_subject(1, 1), order_subject(1, 2), order_subject(1)
REASON = (Section("Reason", (Row("Reason", "Nobody else works here today."),)),)


def said(shop: SignedShop) -> list[str]:
    return [problem.sentence for problem in check_chain(shop.rows, SHOP_ID, RealVerifier()).problems]


def accept(shop: SignedShop, about: int, who: str = "INSP", sections: tuple[Section, ...] = ()) -> None:
    subject = shop.records[about - 1].subject
    shop.sign(RecordKind.CARD_ACCEPTED, subject, who, about=(about,), sections=sections)


def give_back(shop: SignedShop, about: int) -> None:
    shop.sign(RecordKind.CARD_RETURNED, shop.records[about - 1].subject, "INSP", about=(about,))


def approve(shop: SignedShop, *about: int) -> None:
    shop.sign(RecordKind.APPROVED, ORDER, "AUTH", about=about)


def accepted() -> SignedShop:
    """Records 5 and 6: card 1 was submitted and accepted."""
    shop = SignedShop().with_people()
    shop.submit()
    accept(shop, 5)
    return shop


def twice_submitted(shop: SignedShop) -> None:
    shop.submit()


def returned_and_approved(shop: SignedShop) -> None:
    give_back(shop, 5)
    approve(shop, 6)


def on_an_old_acceptance(shop: SignedShop) -> None:
    give_back(shop, 5)
    shop.submit()
    accept(shop, 8)
    approve(shop, 6)


def one_card_left_out(shop: SignedShop) -> None:
    shop.submit(1, 2)
    accept(shop, 7)
    approve(shop, 6)


def one_card_for_inspection(shop: SignedShop) -> None:
    shop.submit(1, 2)
    approve(shop, 6)


def old_submission_accepted(shop: SignedShop) -> None:
    give_back(shop, 5)
    shop.submit()
    accept(shop, 5)


def approved_twice(shop: SignedShop) -> None:
    approve(shop, 6)
    approve(shop, 6)


def approved_after_void(shop: SignedShop) -> None:
    shop.sign(RecordKind.VOID, ORDER, "AUTH")
    approve(shop, 6)


def void_after_approval(shop: SignedShop) -> None:
    approve(shop, 6)
    shop.sign(RecordKind.VOID, ORDER, "AUTH")


def submitted_after_approval(shop: SignedShop) -> None:
    approve(shop, 6)
    shop.submit(1, 2)


OUT_OF_TURN: dict[str, tuple[str, Callable[[SignedShop], None]]] = {
    "a card submitted twice": ("submits a card that record 6 had not returned", twice_submitted),
    "a card returned, then approved": ("record 7 was the last word on card 1: card returned", returned_and_approved),
    "an approval on an old acceptance": ("does not answer record 9, with which card 1 was", on_an_old_acceptance),
    "an approval that leaves a card out": ("does not answer record 8, with which card 2 was", one_card_left_out),
    "an approval with a card for inspection": ("record 7 was the last word on card 2", one_card_for_inspection),
    "an old submission accepted": ("does not answer record 8, the last word on the card", old_submission_accepted),
    "a second approval": ("comes after record 7, with which the order had ended", approved_twice),
    "an approval after void": ("comes after record 7, with which the order had ended", approved_after_void),
    "a void after the approval": ("comes after record 7, with which the order had ended", void_after_approval),
    "a card after the approval": ("comes after record 7, with which the order had ended", submitted_after_approval),
}


@pytest.mark.parametrize(("words", "act"), OUT_OF_TURN.values(), ids=OUT_OF_TURN)
def test_that_a_record_that_comes_out_of_turn_is_named(words: str, act: Callable[[SignedShop], None]) -> None:
    shop = accepted()
    act(shop)
    [sentence] = [one for one in said(shop) if words in one]
    assert sentence.startswith(f"Record {len(shop.records)}, ")


def test_that_the_way_of_the_work_is_sound() -> None:
    shop = SignedShop().with_people()
    shop.submit()
    give_back(shop, 5)
    shop.submit()
    accept(shop, 7)
    shop.submit(1, 2)
    accept(shop, 9)
    shop.sign(RecordKind.CORRECTION, CARD, "MECH", about=(7,))
    approve(shop, 8, 10)
    shop.sign(RecordKind.CORRECTION, ORDER, "AUTH", about=(12,))
    shop.sign(RecordKind.NOT_APPROVED, order_subject(2), "AUTH")
    assert said(shop) == []


def inspects_too(*, alone: bool) -> SignedShop:
    """Record 5 or so: the mechanic inspects too; with ``alone`` everybody else left before."""
    shop = SignedShop()
    both = replace(MECH, rights=(Right.MECHANIC, Right.INSPECTOR, Right.RECORDS))
    keeper = replace(both, id="KEEP", name=KEEP.name)
    if alone:
        shop.pens["KEEP"].person = keeper
        shop.enrol(keeper, "KEEP")
        shop.pens["MECH"] = shop.pens["KEEP"]
        return shop
    shop.with_people()
    shop.sign(RecordKind.PERSON_ENROLLED, person_subject("MECH"), "KEEP", sections=(person_section(both),))
    shop.pens["MECH"].person = both
    return shop


def test_that_nobody_accepts_what_they_submitted_while_others_are_there() -> None:
    shop = inspects_too(alone=False)
    shop.submit()
    accept(shop, 6, "MECH", REASON)
    [sentence] = said(shop)
    assert "accepts what its signer had submitted, and nobody inspects their own work: there was Ada Uthor" in sentence


def test_that_a_shop_of_one_rechecks_with_a_reason() -> None:
    shop = inspects_too(alone=True)
    shop.submit()
    accept(shop, 2, "KEEP", REASON)
    assert said(shop) == []
    other = inspects_too(alone=True)
    other.submit()
    accept(other, 2, "KEEP")
    [sentence] = said(other)
    assert "accepts what its signer had submitted, without a reason for the recheck" in sentence
