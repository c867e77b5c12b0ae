"""What was signed in somebody's name: shown at each signing, so that a secret that somebody else knows comes out."""

from dataclasses import dataclass

from desktop.core.records.sealed.canonical import read_record
from desktop.core.records.sealed.record_line import RecordLine, line_of
from desktop.usecases.records.keys.people_ports import SigningWork
from desktop.usecases.records.keys.signing_desk import SigningDesk


@dataclass(frozen=True, slots=True)
class InYourName:
    """Records that bear somebody's signature, the oldest first, and the number of the newest record there was."""

    lines: tuple[RecordLine, ...]
    seen: int


def signed_in_your_name_since(desk: SigningDesk, person_id: str, since: int | None = None) -> InYourName:
    """Return what somebody signed or countersigned after a record's number.

    ``since`` None means the newest record that they had before them when they signed last; the signature that they gave
    then is listed too. Raise Refusal at a record that is not as it was kept.
    """
    with desk.shop.store.changing() as work:
        signing = desk.keys.within(work)
        start = signing.seen(person_id) if since is None else since
        last = signing.last_envelope()
        lines = _signed_by(signing, person_id, start)
        if since is None and start and not lines:
            # That signature itself must be there: what is kept as read was set up, and everything is shown.
            lines = _signed_by(signing, person_id, 0)
    return InYourName(lines, last.number if last else 0)


def _signed_by(signing: SigningWork, person_id: str, start: int) -> tuple[RecordLine, ...]:
    return tuple(
        line_of(envelope, read_record(envelope.content))
        for envelope in signing.envelopes(start + 1)
        if any(one.person == person_id for one in envelope.signatures)
    )
