"""Who may sign what, and with which key: what could not be signed so is said, and nothing else is."""

from collections.abc import Callable
from dataclasses import replace
from datetime import timedelta

import pytest

from desktop.core.records.keys.enrolment import person_section, signer_of
from desktop.core.records.record import About, PersonKey, RecordKind
from desktop.core.records.sealed.chain import check_chain
from desktop.core.records.subjects import order_subject, person_subject
from desktop.core.shop.people.people import Person, Right
from tests.core.records.pens import KEEP, MEANING, MECH, SHOP_ID, SINCE, Pen, RealVerifier, SignedShop, names_of

REAL = RealVerifier()


def said(shop: SignedShop) -> list[tuple[int, str]]:
    return [(problem.number, problem.sentence) for problem in check_chain(shop.rows, SHOP_ID, REAL).problems]


def refused(words: str, act: Callable[[SignedShop], object], *, people: bool = True) -> None:
    """Check that what somebody signed is in no order, and that nothing else is."""
    shop = SignedShop().with_people() if people else SignedShop()
    act(shop)
    found = said(shop)
    assert [number for number, sentence in found if words in sentence] == [len(shop.envelopes)], found


PRE = Pen(MECH, "never enrolled")
NEW = Pen(MECH, "new")
TOM = Person("TOM", "Tom Rill", (Right.RECORDS,), SINCE)


def replace_key(shop: SignedShop, *pens: str | Pen) -> None:
    shop.sign(RecordKind.KEY_REPLACED, person_subject("MECH"), *pens, keys=(NEW.key,))


def after_new_key(shop: SignedShop) -> None:
    replace_key(shop, NEW, "KEEP")
    shop.submit()


def withdraw(shop: SignedShop, person: Person = MECH) -> None:
    section = person_section(replace(person, until=SINCE + timedelta(days=900)))
    shop.sign(RecordKind.PERSON_WITHDRAWN, person_subject(person.id), "KEEP", sections=(section,))


def after_withdrawal(shop: SignedShop) -> None:
    withdraw(shop)
    shop.submit()


def strange_key(shop: SignedShop) -> None:
    shop.pens["MECH"] = PRE
    shop.submit()


def other_name(shop: SignedShop) -> None:
    better = replace(signer_of(MECH, MEANING), name="Mel Chan-Grand")
    shop.sign(RecordKind.CARD_SUBMITTED, "order 1 card 1", "MECH", change=lambda one: replace(one, signer=better))


def other_day(shop: SignedShop) -> None:
    shop.sign(
        RecordKind.CARD_SUBMITTED,
        "order 1 card 1",
        "MECH",
        change=lambda one: replace(one, at="2029-12-31T12:00:00+01:00"),
    )


def other_shop(shop: SignedShop) -> None:
    shop.sign(RecordKind.TOOL_RECORD, "tool W-3", "KEEP", change=lambda one: replace(one, shop_id="other"))


def no_right(shop: SignedShop) -> None:
    shop.submit()
    shop.sign(RecordKind.CARD_ACCEPTED, order_subject(1, 1), "INSP", about=(5,))
    shop.sign(RecordKind.APPROVED, order_subject(1), "INSP", about=(6,))


def countersigned_only(shop: SignedShop) -> None:
    shop.sign(RecordKind.TOOL_RECORD, "tool W-3", "MECH", "KEEP")


def about_nothing(shop: SignedShop) -> None:
    shop.sign(RecordKind.CORRECTION, "order 1", "MECH", about=(4,), change=lambda one: replace(one, about=names_of(4)))


def about_itself(shop: SignedShop) -> None:
    shop.sign(
        RecordKind.CORRECTION,
        "order 1",
        "MECH",
        about=(4,),
        change=lambda one: replace(one, about=(About(9, shop.envelopes[3].digest),)),
    )


def answers_nothing(shop: SignedShop) -> None:
    shop.sign(RecordKind.CARD_ACCEPTED, order_subject(1, 1), "INSP")


def answers_another_card(shop: SignedShop) -> None:
    shop.submit()
    shop.sign(RecordKind.CARD_ACCEPTED, order_subject(1, 2), "INSP", about=(5,))


def answers_another_order(shop: SignedShop) -> None:
    shop.submit()
    shop.sign(RecordKind.CARD_ACCEPTED, order_subject(1, 1), "INSP", about=(5,))
    shop.sign(RecordKind.APPROVED, order_subject(2), "AUTH", about=(6,))


def answers_another_kind(shop: SignedShop) -> None:
    shop.submit()
    shop.sign(RecordKind.APPROVED, order_subject(1), "AUTH", about=(5,))


def brings_key(shop: SignedShop) -> None:
    shop.sign(RecordKind.TOOL_RECORD, "tool W-3", "KEEP", keys=(NEW.key,))


def enrol(shop: SignedShop, person: Person, pen: Pen, *pens: str | Pen, subject: str | None = None) -> None:
    shop.sign(
        RecordKind.PERSON_ENROLLED,
        person_subject(subject or person.id),
        *pens,
        sections=(person_section(person),),
        keys=(pen.key,),
    )


def own_enrolment(shop: SignedShop) -> None:
    enrol(shop, TOM, Pen(TOM), Pen(TOM))


REFUSED: dict[str, tuple[str, Callable[[SignedShop], object]]] = {
    "a key that nobody enrolled": ("a key that was never enrolled for Mel Chan", strange_key),
    "a key after it was replaced": ("a key of Mel Chan that record 5 had ended", after_new_key),
    "a key after a withdrawal": ("a key of Mel Chan that record 5 had ended", after_withdrawal),
    "another printed name": ("says of MECH what is not what they were enrolled with", other_name),
    "a day outside of the time": ("who was not with the shop on that day", other_day),
    "another shop": ("was signed in another shop", other_shop),
    "no right": ("signed by nobody who had the right of authorised person at that time", no_right),
    "a right by the second only": ("signed by nobody who had the right of records keeper", countersigned_only),
    "about a seal that is not there": ("names record 4 by a record seal that no such record has", about_nothing),
    "about a number that is not there": ("names record 9 by a record seal that no such record has", about_itself),
    "an acceptance of nothing": ("answers no record of the kind that it must: card submitted", answers_nothing),
    "an acceptance of another card": ("answers no record of the kind that it must", answers_another_card),
    "an approval of another order": ("answers no record of the kind that it must", answers_another_order),
    "an approval of a submission": ("answers no record of the kind that it must: card accepted", answers_another_kind),
    "a key in another record": ("brings a key, and is no enrolment", brings_key),
    "an own enrolment": ("signed by nobody who had the right of records keeper", own_enrolment),
    "an enrolment by a mechanic": (
        "signed by nobody who had the right of records keeper",
        lambda shop: enrol(shop, TOM, Pen(TOM), "MECH"),
    ),
    "a second key by enrolment": (
        "brings a key for MECH without replacing the one they have",
        lambda shop: enrol(shop, MECH, NEW, "KEEP"),
    ),
    "somebody else's key": (
        "brings a key that was enrolled for somebody else",
        lambda shop: shop.sign(
            RecordKind.PERSON_ENROLLED,
            "person TOM",
            "KEEP",
            sections=(person_section(TOM),),
            keys=(PersonKey("TOM", shop.pens["MECH"].key.public_key_hex),),
        ),
    ),
    "a person who is not the one named": (
        "does not say whole who the person is",
        lambda shop: enrol(shop, TOM, Pen(TOM), "KEEP", subject="TIM"),
    ),
    "an enrolment without a person": (
        "does not say whole who the person is",
        lambda shop: shop.sign(RecordKind.PERSON_ENROLLED, "person TOM", "KEEP"),
    ),
    "a new key of nobody's": (
        "does not say whole who the person is",
        lambda shop: shop.sign(RecordKind.KEY_REPLACED, "person TOM", "KEEP", keys=(Pen(TOM).key,)),
    ),
    "a withdrawal of nobody": (
        "is about TOM, who was never enrolled",
        lambda shop: withdraw(shop, TOM),
    ),
    "a new key that is not there": (
        "replaces a key and brings none",
        lambda shop: shop.sign(RecordKind.KEY_REPLACED, "person MECH", "KEEP"),
    ),
    "a withdrawal that brings a key": (
        "withdraws a person and brings a key",
        lambda shop: shop.sign(
            RecordKind.PERSON_WITHDRAWN,
            "person MECH",
            "KEEP",
            sections=(person_section(MECH),),
            keys=(NEW.key,),
        ),
    ),
    "a new key by oneself": (
        "signed by nobody who had the right of records keeper",
        lambda shop: replace_key(shop, NEW),
    ),
}


@pytest.mark.parametrize(("words", "act"), REFUSED.values(), ids=REFUSED)
def test_that_what_could_not_be_signed_so_is_said(words: str, act: Callable[[SignedShop], object]) -> None:
    refused(words, act)


def first_is_no_keeper(shop: SignedShop) -> None:
    shop.enrol(MECH, "MECH")


def first_enrols_another(shop: SignedShop) -> None:
    shop.enrol(KEEP, "MECH")


@pytest.mark.parametrize("act", [first_is_no_keeper, first_enrols_another])
def test_that_only_a_records_keeper_enrols_themselves_first(act: Callable[[SignedShop], None]) -> None:
    refused("signed by nobody who had the right of records keeper", act, people=False)


def keeper_replaces(shop: SignedShop, *pens: str | Pen) -> None:
    shop.sign(RecordKind.KEY_REPLACED, person_subject("KEEP"), *pens, keys=(Pen(KEEP, "new").key,))


def second_keeper(shop: SignedShop) -> None:
    shop.pens["TOM"] = Pen(TOM)
    shop.enrol(TOM, "KEEP", "TOM")


def two_keepers_one_alone(shop: SignedShop) -> None:
    second_keeper(shop)
    keeper_replaces(shop, "KEEP")


def two_keepers_one_withdrawn(shop: SignedShop) -> None:
    second_keeper(shop)
    withdraw(shop, TOM)


def enrolled_again(shop: SignedShop) -> None:
    withdraw(shop)
    shop.enrol(MECH, "KEEP", "MECH")


def old_key_again(shop: SignedShop) -> None:
    old = shop.pens["MECH"]
    replace_key(shop, NEW, "KEEP")
    shop.sign(RecordKind.KEY_REPLACED, person_subject("MECH"), old, "KEEP", keys=(old.key,))


SET_ASIDE: dict[str, tuple[str, Callable[[SignedShop], object]]] = {
    "a new key by the old one alone": (
        "signed by nobody who had the right of records keeper",
        lambda shop: replace_key(shop, "MECH"),
    ),
    "a records keeper's new key without the other one": (
        "is countersigned by no records keeper, and there was Tom Rill",
        two_keepers_one_alone,
    ),
    "a withdrawn person with the same key": ("brings a key that MECH had before, and every key is new", enrolled_again),
    "a key that comes back": ("brings a key that MECH had before, and every key is new", old_key_again),
    "the only records keeper withdrawn": (
        "leaves nobody who can sign and keeps the records",
        lambda shop: withdraw(shop, KEEP),
    ),
}


@pytest.mark.parametrize(("words", "act"), SET_ASIDE.values(), ids=SET_ASIDE)
def test_that_what_the_program_refuses_is_also_said_of_who_signed_without_it(
    words: str, act: Callable[[SignedShop], object]
) -> None:
    refused(words, act)


ALLOWED: dict[str, Callable[[SignedShop], object]] = {
    "a new key of the only records keeper": lambda shop: keeper_replaces(shop, "KEEP"),
    "a records keeper withdrawn while there is another": two_keepers_one_withdrawn,
    "a new key with a records keeper": lambda shop: replace_key(shop, NEW, "KEEP"),
    "new rights without a new key": lambda shop: shop.sign(
        RecordKind.PERSON_ENROLLED,
        "person MECH",
        "KEEP",
        sections=(person_section(replace(MECH, rights=(Right.MECHANIC, Right.INSPECTOR))),),
    ),
    "not approved before a card was accepted": lambda shop: shop.sign(RecordKind.NOT_APPROVED, "order 1", "AUTH"),
    "a void by the front desk": lambda shop: shop.sign(RecordKind.VOID, "order 1", "AUTH"),
    "a restore": lambda shop: shop.sign(RecordKind.RESTORE, "shop", "KEEP"),
}


@pytest.mark.parametrize("act", ALLOWED.values(), ids=ALLOWED)
def test_that_what_may_be_signed_is_no_problem(act: Callable[[SignedShop], object]) -> None:
    shop = SignedShop().with_people()
    act(shop)
    assert said(shop) == []
