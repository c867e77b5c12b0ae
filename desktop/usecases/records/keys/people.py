"""Who may sign: people are enrolled, their changes signed, their keys replaced, and they are withdrawn.

Each verb asks for the records keeper's secret and keeps its record in one transaction. The answer's version is the
number of the record.
"""

from collections.abc import Callable, Iterator
from dataclasses import fields

from desktop.core.errors import NotReady, Refusal
from desktop.core.records.keys.enrolment import person_section
from desktop.core.records.keys.key_book import KeyBook
from desktop.core.records.record import Record, visible
from desktop.core.records.sealed.before_signing import before_signing
from desktop.core.shop.cards.text_limits import text_trouble
from desktop.core.shop.orders.order import WorkOrder
from desktop.core.shop.people.people import Person, Right
from desktop.core.shop.people.secrets import secret_troubles
from desktop.usecases.records.keys.people_ports import SigningWork, WrappedKey
from desktop.usecases.records.keys.people_records import enrolment, replacement, roster_change, withdrawal
from desktop.usecases.records.keys.secrets import Hand, hand_of, refuse_no_keeper, seen_answer
from desktop.usecases.records.keys.sign import put_down, sign_with
from desktop.usecases.records.keys.signing_desk import (
    SigningDesk,
    keepers,
    people_signed,
    signer_at,
    standing_in,
)
from desktop.usecases.shop.change import person_in, remember
from desktop.usecases.shop.lists.keep_lists import keep_person
from desktop.usecases.shop.ports import Answer, Request, ShopWork

ENROL, ENROL_AGAIN = "enrol a person", "sign a change on the roster"
WITHDRAW, REPLACE = "withdraw a person", "replace a key"
Make = Callable[[ShopWork, SigningWork, KeyBook], Record]


def enrol_person(
    desk: SigningDesk, request: Request, person_id: str, new_secret: str, secret: str = "", seen: int = 0
) -> Answer:
    """Enrol somebody of the roster with a key of their own under the secret that they chose.

    The first person of a shop keeps the records and enrols themselves; anybody else is enrolled by a records keeper
    whose ``secret`` is asked for, and the new key signs the same record. Raise NotReady for a secret that may not be
    chosen, Refusal for somebody who is enrolled already.
    """
    if (before := _answer(desk, request, ENROL)) is not None:
        return before
    with desk.shop.store.changing() as work:
        person = person_in(work, person_id)
        is_first = desk.keys.within(work).last_envelope() is None
    if is_first:
        _refuse_as_first(person, request)
    key, own = _new_key(desk, person, new_secret)
    hands = (own,) if is_first else (hand_of(desk, request.person_id, secret, seen), own)

    def make(work: ShopWork, signing: SigningWork, book: KeyBook) -> Record:
        now = desk.shop.clock.now()
        present = person_in(work, person_id)
        _refuse_unsignable(present)
        standing = book.standing(person_id)
        if standing is not None and standing.public_key:
            raise Refusal(f"{present.name} is enrolled already. For a new secret, replace the key.")
        keeper = None if is_first else _keeper(desk, work, signing, request)
        before = before_signing(_every_order(work)) if is_first else ()
        signing.put_key(key)
        return enrolment(desk, now, present, key, keeper, before)

    return _sign(desk, request, ENROL, person_id, hands, make)


def enrol_again(desk: SigningDesk, request: Request, person_id: str, secret: str, seen: int = 0) -> Answer:
    """Sign what changed on the roster about somebody who is enrolled; they keep their key.

    Somebody who no longer keeps the records, by the roster or their last day, cannot sign that themselves: so somebody
    who can is always left. Raise Refusal when nothing changed.
    """
    if (before := _answer(desk, request, ENROL_AGAIN)) is not None:
        return before
    hands = (hand_of(desk, request.person_id, secret, seen),)

    def make(work: ShopWork, signing: SigningWork, book: KeyBook) -> Record:
        present = person_in(work, person_id)
        _refuse_unsignable(present)
        keeper = _keeper(desk, work, signing, request)
        if person_section(present) == person_section(standing_in(book, present).person):
            raise Refusal(f"What the roster says of {present.name} is signed already.")
        return roster_change(desk, desk.shop.clock.now(), present, keeper)

    return _sign(desk, request, ENROL_AGAIN, person_id, hands, make)


def change_person(desk: SigningDesk, request: Request, person: Person, secret: str, seen: int = 0) -> Answer:
    """Keep what changed on the roster about somebody who is enrolled, and sign it, in one transaction.

    They keep their key. Somebody who no longer keeps the records after the change cannot sign it themselves. Raise
    NotReady and Refusal as ``keep_person`` and ``enrol_again`` do.
    """
    hand = hand_of(desk, request.person_id, secret, seen)

    def also(work: ShopWork, kept: Person) -> None:
        _refuse_unsignable(kept)
        signing = desk.keys.within(work)
        keeper = _keeper(desk, work, signing, request)
        if person_section(kept) == person_section(standing_in(people_signed(desk, signing), kept).person):
            raise Refusal(f"What the roster says of {kept.name} is signed already.")
        sign_with(desk, work, roster_change(desk, desk.shop.clock.now(), kept, keeper), hand)

    try:
        return keep_person(desk.shop, request, person, also)
    finally:
        put_down(hand)


def withdraw_person(
    desk: SigningDesk, request: Request, person_id: str, reason: str, secret: str, seen: int = 0
) -> Answer:
    """Withdraw somebody who leaves or lost their secret: no new signature, and the old ones stand.

    Raise Refusal without a reason, and when nobody who can sign would be left to keep the records.
    """
    if (before := _answer(desk, request, WITHDRAW)) is not None:
        return before
    if not reason.strip():
        raise Refusal("There is no reason. Say why this person signs no more.")
    if trouble := text_trouble(reason):
        raise Refusal(trouble)
    hands = (hand_of(desk, request.person_id, secret, seen),)

    def make(work: ShopWork, signing: SigningWork, book: KeyBook) -> Record:
        keeper = _keeper(desk, work, signing, request)
        standing = standing_in(book, person_in(work, person_id))
        _refuse_last_keeper(desk, book, person_id)
        return withdrawal(desk, desk.shop.clock.now(), standing.person, reason, keeper)

    return _sign(desk, request, WITHDRAW, person_id, hands, make)


def replace_key(
    desk: SigningDesk, request: Request, person_id: str, new_secret: str, secret: str, seen: int = 0
) -> Answer:
    """Put a new key under a new secret in the place of somebody's key.

    A records keeper, whose ``secret`` is asked for, countersigns. One who is the only records keeper does it alone,
    with the old secret. Raise NotReady for a secret that may not be chosen.
    """
    if (before := _answer(desk, request, REPLACE)) is not None:
        return before
    is_own = request.person_id == person_id
    with desk.shop.store.changing() as work:
        person = person_in(work, person_id)
        if is_own:
            _refuse_alone(desk, people_signed(desk, desk.keys.within(work)), person)
    key, own = _new_key(desk, person, new_secret)
    asker = hand_of(desk, request.person_id, secret, seen)
    hands = (asker,) if is_own else (asker, own)
    if is_own:
        put_down(own)

    def make(work: ShopWork, signing: SigningWork, book: KeyBook) -> Record:
        now = desk.shop.clock.now()
        keeper = _keeper(desk, work, signing, request)
        standing = standing_in(book, person_in(work, person_id))
        if is_own:
            _refuse_alone(desk, book, standing.person)
        signing.put_key(key)
        countersigner = None if is_own else keeper
        return replacement(desk, now, standing.person, standing.public_key, key, countersigner)

    return _sign(desk, request, REPLACE, person_id, hands, make)


def _answer(desk: SigningDesk, request: Request, verb: str) -> Answer | None:
    with desk.shop.store.changing() as work:
        return seen_answer(work.already_done(request.request_id), verb)


def _sign(
    desk: SigningDesk, request: Request, verb: str, person_id: str, hands: tuple[Hand, ...], make: Make
) -> Answer:
    try:
        with desk.shop.store.changing() as work:
            if (before := seen_answer(work.already_done(request.request_id), verb)) is not None:
                return before
            signing = desk.keys.within(work)
            record = make(work, signing, people_signed(desk, signing))
            envelope = sign_with(desk, work, record, *hands)
            return remember(work, request, Answer(verb, person_id, envelope.number))
    finally:
        put_down(*hands)


def _new_key(desk: SigningDesk, person: Person, new_secret: str) -> tuple[WrappedKey, Hand]:
    names = (person.name, person.id, desk.shop_name)
    if troubles := secret_troubles(new_secret, names, desk.bad_choices):
        raise NotReady(troubles)
    key = desk.locksmith.new_key(person.id, new_secret, desk.strength)
    # Opened from what is going to be kept: a key that its secret does not open is never enrolled.
    return key, Hand(person.id, desk.locksmith.open_key(key, new_secret))


def _keeper(desk: SigningDesk, work: ShopWork, signing: SigningWork, request: Request) -> Person:
    """Return the records keeper who asks, as enrolled. Raise Refusal for anybody else."""
    person, standing = signer_at(desk, work, signing, request.person_id, desk.shop.clock.now().date())
    refuse_no_keeper(person, standing)
    return standing.person


def _every_order(work: ShopWork) -> Iterator[WorkOrder]:
    found = (work.order(number) for number in range(1, work.next_order_number()))
    return (order for order in found if order is not None)


def _refuse_as_first(person: Person, request: Request) -> None:
    if request.person_id != person.id or Right.RECORDS not in person.rights:
        raise Refusal("Nobody is enrolled yet. The first is somebody who keeps the records, and enrols themselves.")


def _refuse_alone(desk: SigningDesk, book: KeyBook, person: Person) -> None:
    if keepers(book, desk.shop.clock.now().date(), besides=person.id):
        raise Refusal("A new key is countersigned. Another records keeper does this with their own secret.")


def _refuse_last_keeper(desk: SigningDesk, book: KeyBook, person_id: str) -> None:
    if not keepers(book, desk.shop.clock.now().date(), besides=person_id):
        raise Refusal("Nobody who can sign would be left to keep the records. Enrol another records keeper first.")


def _refuse_unsignable(person: Person) -> None:
    """Raise Refusal for a text of the roster that could not be signed as it stands."""
    for one in fields(person):
        text = getattr(person, one.name)
        if isinstance(text, str) and visible(text) != text:
            raise Refusal(
                f"{one.name.replace('_', ' ').capitalize()} of {person.id.strip()} holds a space at an end or a sign "
                "that is not seen. Correct it on the roster first."
            )
