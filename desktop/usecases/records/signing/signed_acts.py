"""Signing an act in two steps: it is shown exactly as it would be signed, and then signed only as it was shown."""

from dataclasses import dataclass, replace
from datetime import datetime, timedelta

from desktop.core.errors import Refusal
from desktop.core.records.entry.entry_parts import Entry
from desktop.core.records.record import Record
from desktop.core.records.said import said_lines
from desktop.usecases.records.keys.secrets import hand_of
from desktop.usecases.records.keys.sign import put_down, sign_with
from desktop.usecases.records.keys.signing_desk import SigningDesk
from desktop.usecases.records.signing.acts import MOVES, Act, draft_of
from desktop.usecases.records.signing.ports import SigningStore
from desktop.usecases.shop.change import put, refuse_old_view, remember, seen_before
from desktop.usecases.shop.ports import Answer, Request

SHOWN_FOR = timedelta(minutes=30)
"""How long what was shown may be signed; after that it is shown again, with the time as it is then."""


@dataclass(frozen=True, slots=True)
class Proposal:
    """An act as it was shown: the record, its text, and the version of the order that it was made from."""

    act: Act
    person: str
    version: int
    record: Record
    entry: Entry | None

    @property
    def lines(self) -> tuple[str, ...]:
        """The confirmation text: everything that is signed, and nothing else."""
        return said_lines(self.record)


def propose(desk: SigningDesk, store: SigningStore, person_id: str, act: Act) -> Proposal:
    """Return an act as it would be signed now. Raise Refusal or NotReady with everything that is against it."""
    at = desk.shop.clock.now().replace(microsecond=0)
    with store.changing() as work:
        drafted = draft_of(desk, work, person_id, act, at)
    return Proposal(act, person_id, drafted.before.version, drafted.record, drafted.entry)


def sign_act(
    desk: SigningDesk, store: SigningStore, request_id: str, proposal: Proposal, secret: str, seen: int = 0
) -> Answer:
    """Sign an act as it was shown, move the order, and keep both or nothing.

    Everything is loaded and every rule is run again. Raise ChangedElsewhere when the order was changed since it was
    shown, Refusal when it would read otherwise now, was shown too long ago, or the secret is wrong.
    """
    act, request = proposal.act, Request(request_id, proposal.person, proposal.version)
    verb = MOVES[act.kind]
    at = datetime.fromisoformat(proposal.record.at)
    with store.changing() as work:
        if (before := seen_before(work, request, verb)) is not None:
            return before
    refuse_old_showing(desk, at)
    hand = hand_of(desk, proposal.person, secret, seen)
    try:
        with store.changing() as work:
            if (before := seen_before(work, request, verb)) is not None:
                return before
            drafted = draft_of(desk, work, proposal.person, act, at)
            refuse_old_view(work, drafted.before, proposal.version)
            if drafted.record != proposal.record:
                raise Refusal("What you read is not what would be signed now. Look at it again, then sign.")
            sign_with(desk, work, drafted.record, hand)
            new = replace(drafted.after, version=drafted.before.version + 1)
            put(work, drafted.before, new, new.passages[-1].by)
            return remember(work, request, Answer(verb, str(act.order), new.version))
    finally:
        put_down(hand)


def refuse_old_showing(desk: SigningDesk, at: datetime) -> None:
    """Raise Refusal for what was shown longer ago than it may be signed, and after the clock was set back."""
    since = desk.shop.clock.now() - at
    if not -timedelta(minutes=1) <= since <= SHOWN_FOR:
        raise Refusal("This was shown too long ago, or the clock was set. Look at it again, then sign.")
