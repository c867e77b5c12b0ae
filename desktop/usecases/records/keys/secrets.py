"""The secret at each signature: a try is counted, then the secret is looked at, and the hand that it opens signs once.

A try is written down, in the shop file and on the machine, before the secret is looked at: who breaks off a try has
used it. So a signature takes two steps. ``hand_of`` asks for the secret; ``sign_with`` signs inside the transaction of
the verb that has loaded everything again and looked at every rule again.
"""

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field, replace
from datetime import datetime

from desktop.core.errors import Refusal
from desktop.core.records.keys.key_book import Standing
from desktop.core.shop.people.people import Person, Right
from desktop.core.shop.people.secrets import (
    MOST_CHARACTERS,
    MOST_TRIES,
    Tries,
    after_right_secret,
    is_clock_back,
    is_set_back,
    joined,
    seconds_to_wait,
    with_one_more,
)
from desktop.usecases.records.keys.people_ports import (
    KeyEvent,
    KeyEventKind,
    OpenKey,
    SigningWork,
    WrappedKey,
    WrongSecret,
)
from desktop.usecases.records.keys.signing_desk import SigningDesk, keepers, key_of, people_signed, signer_at
from desktop.usecases.shop.change import remember
from desktop.usecases.shop.ports import Answer, Request, ShopWork

UNLOCK = "unlock a key"


@dataclass(frozen=True, slots=True)
class Hand:
    """Somebody whose secret was right, for the records of one act. ``notices`` are sentences that they must see.

    ``seen`` is the number of the newest record that the dialog had read when it said what was signed in their name.
    """

    person: str
    key: OpenKey = field(repr=False)
    seen: int = 0
    notices: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class KeyState:
    """How a key stands before a try: seconds to wait, wrong tries in a row, and what its owner must see."""

    seconds: int
    wrong: int
    is_locked: bool
    notices: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class _Counted:
    tries: Tries
    notices: tuple[str, ...]
    events: tuple[KeyEventKind, ...]


def key_state(desk: SigningDesk, person_id: str) -> KeyState:
    """Return how somebody's key stands. Raise Refusal, with the reason, when they cannot sign at all."""
    now = desk.shop.clock.now()
    with desk.shop.store.changing() as work:
        signing = desk.keys.within(work)
        person, standing = signer_at(desk, work, signing, person_id, now.date())
        counted = _count(desk, signing, person, key_of(signing, standing), now)
    tries = counted.tries
    return KeyState(seconds_to_wait(tries, now), tries.wrong, tries.is_locked, counted.notices)


def hand_of(desk: SigningDesk, person_id: str, secret: str, seen: int = 0) -> Hand:
    """Look at a secret and return the hand that signs. It is asked for again at every signature.

    Raise Refusal for a wrong secret, with the wait; while one waits; for a locked key; and for somebody who cannot sign
    on this day. Tries that were refused before the secret was looked at do not count.
    """
    _refuse_oversize(secret)
    now = desk.shop.clock.now()
    with _nothing_signed_when_it_fails(desk) as work:
        signing = desk.keys.within(work)
        person, standing = signer_at(desk, work, signing, person_id, now.date())
        key = key_of(signing, standing)
        counted = _count(desk, signing, person, key, now)
        against = _against(desk, signing, counted.tries, person, now)
        # A wait begins again at a clock that was set back: otherwise it would last until the clock is there again.
        is_back = counted.tries.last is not None and now < counted.tries.last
        again = replace(counted.tries, last=now) if is_back else counted.tries
        tries = again if against else with_one_more(counted.tries, now)
        _keep(signing, key, tries, counted, now)
    desk.keys.count_here(key.public_key, tries)
    if against:
        raise Refusal(" ".join((against, *counted.notices)))
    try:
        opened = desk.locksmith.open_key(key, secret)
    except WrongSecret:
        raise Refusal(" ".join((_wrong(tries, person, now), *counted.notices))) from None
    _forgive(desk, key, tries.begun)
    return Hand(person_id, opened, seen, counted.notices)


def unlock_key(desk: SigningDesk, request: Request, person_id: str, secret: str) -> Answer:
    """Unlock a key after ten wrong tries; ``secret`` is that of the records keeper who asks, and not the owner.

    Raise Refusal for anybody else, and for a key that is not locked.
    """
    if request.person_id == person_id:
        raise Refusal("Nobody unlocks their own key. Another records keeper does it.")
    hand_of(desk, request.person_id, secret).key.close()
    now = desk.shop.clock.now()
    with desk.shop.store.changing() as work:
        if (before := seen_answer(work.already_done(request.request_id), UNLOCK)) is not None:
            return before
        signing = desk.keys.within(work)
        keeper, standing = signer_at(desk, work, signing, request.person_id, now.date())
        refuse_no_keeper(keeper, standing)
        person, owner = signer_at(desk, work, signing, person_id, now.date())
        key = key_of(signing, owner)
        counted = _count(desk, signing, person, key, now)
        if not counted.tries.is_locked:
            raise Refusal(f"The key of {person.name} is not locked. They can sign.")
        tries = after_right_secret(counted.tries)
        _keep(signing, key, tries, counted, now)
        signing.note(KeyEvent(KeyEventKind.UNLOCKED, key.public_key, now, counted.tries.wrong, request.person_id))
        answer = remember(work, request, Answer(UNLOCK, person_id, tries.begun))
    desk.keys.count_here(key.public_key, tries)
    return answer


def key_events(desk: SigningDesk) -> tuple[KeyEvent, ...]:
    """Return what happened to keys besides signing, the oldest first, for the records keeper."""
    with desk.shop.store.changing() as work:
        return desk.keys.within(work).events()


def refuse_no_keeper(person: Person, standing: Standing) -> None:
    """Raise Refusal for somebody who does not keep the records, by the roster and by the signed records."""
    if Right.RECORDS not in person.rights or Right.RECORDS not in standing.person.rights:
        raise Refusal(f"{person.name} does not keep the records. A records keeper does this.")


def seen_answer(before: Answer | None, verb: str) -> Answer | None:
    """Return the answer to a request that came before. Raise ValueError when it asked for something else."""
    if before is not None and before.verb != verb:
        raise ValueError(f"one request id for two things: {before.verb}, {verb}")
    return before


def _refuse_oversize(secret: str) -> None:
    if len(secret) > MOST_CHARACTERS:
        raise Refusal(f"A secret has at most {MOST_CHARACTERS} characters. Look at what was typed or pasted.")


def _count(desk: SigningDesk, signing: SigningWork, person: Person, key: WrappedKey, now: datetime) -> _Counted:
    in_file, here = signing.tries(key.public_key), desk.keys.counted_here(key.public_key)
    tries = joined(in_file, here)
    notices, events = [], []
    if here is not None and is_set_back(in_file, here):
        events.append(KeyEventKind.TRIES_SET_BACK)
        notices.append(
            f"The count of wrong tries of {person.name}'s key was set back: this machine saw {here.wrong} in a row, "
            f"the shop file tells of {in_file.wrong}. The larger counts. Somebody copied an old file over this one, or "
            "restored a backup; tell a records keeper."
        )
    if is_clock_back(tries, now):
        events.append(KeyEventKind.CLOCK_SET_BACK)
        notices.append(
            "The clock of this machine was set back: it stands before the last try of this key. Set it right; waits "
            "begin again."
        )
    return _Counted(tries, tuple(notices), tuple(events))


def _keep(signing: SigningWork, key: WrappedKey, tries: Tries, counted: _Counted, now: datetime) -> None:
    signing.put_tries(key.public_key, tries)
    for event in counted.events:
        signing.note(KeyEvent(event, key.public_key, now, counted.tries.wrong))


def _against(desk: SigningDesk, signing: SigningWork, tries: Tries, person: Person, now: datetime) -> str | None:
    """Say why the secret is not looked at; None when it is."""
    if tries.is_locked:
        others = keepers(people_signed(desk, signing), now.date(), besides=person.id)
        return _locked(person, " or ".join(one.name for one in others))
    if seconds := seconds_to_wait(tries, now):
        return f"Wait {_seconds(seconds)}, then try again. This try was not counted."
    return None


def _locked(person: Person, others: str) -> str:
    by = f"{others} can unlock it." if others else "Only another records keeper can unlock it, and none is enrolled."
    return f"The key of {person.name} is locked after {MOST_TRIES} wrong tries. {by}"


def _wrong(tries: Tries, person: Person, now: datetime) -> str:
    said = f"This is not the secret of {person.name}. Wrong tries in a row: {tries.wrong} of {MOST_TRIES}."
    if tries.is_locked:
        return f"{said} The key is locked now. Another records keeper can unlock it."
    return f"{said} Wait {_seconds(seconds_to_wait(tries, now))}."


def _seconds(count: int) -> str:
    return f"{count} second" if count == 1 else f"{count} seconds"


def _forgive(desk: SigningDesk, key: WrappedKey, begun: int) -> None:
    with _nothing_signed_when_it_fails(desk) as work:
        signing = desk.keys.within(work)
        tries = after_right_secret(signing.tries(key.public_key), begun)
        signing.put_tries(key.public_key, tries)
    desk.keys.count_here(key.public_key, tries)


@contextmanager
def _nothing_signed_when_it_fails(desk: SigningDesk) -> Iterator[ShopWork]:
    """Count a try in a transaction of its own; when the disk fails at its end, nothing was signed."""
    is_done = False
    try:
        with desk.shop.store.changing() as work:
            yield work
            is_done = True
    except Refusal as refusal:
        if not is_done:
            raise
        raise Refusal(
            "The disk failed while this try of the secret was counted, so nothing was signed. When the disk is there "
            "again, look at it again, then sign."
        ) from refusal
