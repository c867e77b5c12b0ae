"""A sealed record as it is shown: looked at whole first, and only then read; one that is not sound shows nothing."""

from dataclasses import dataclass

from desktop.core.errors import Refusal
from desktop.core.records.record import About, Record
from desktop.core.records.said import said_lines
from desktop.core.records.sealed.canonical import read_record
from desktop.core.records.sealed.envelope import Envelope, head_of, shown
from desktop.core.records.sealed.people_walk import people_in_records
from desktop.core.records.sealed.record_line import RecordLine, corrections_of
from desktop.core.records.sealed.remedies import CHECK
from desktop.core.records.sealed.signatures import signature_troubles
from desktop.usecases.records.keys.signing_desk import SigningDesk
from desktop.usecases.records.signing.ports import Records, SigningStore

_LOOKED_BACK = 100


@dataclass(frozen=True, slots=True)
class SeenRecord:
    """A record that was found sound.

    ``corrections`` are those of it and those of one of them, the oldest first, each found sound too.
    """

    number: int
    digest: str
    record: Record
    corrections: tuple["SeenRecord", ...] = ()

    @property
    def seal(self) -> str:
        """The digits of its record seal that people see."""
        return shown(self.digest)

    @property
    def lines(self) -> tuple[str, ...]:
        """Everything that it says."""
        return said_lines(self.record)


def list_records(store: SigningStore) -> tuple[RecordLine, ...]:
    """Return the list of records, the newest first. It is a list: what a record says is seen in the record.

    Raise Refusal when a record is missing or not as it was kept, and when the list that is kept says something else.
    """
    return tuple(reversed(store.records().agreed_lines()))


def see_record(desk: SigningDesk, store: SigningStore, number: int) -> SeenRecord:
    """Return a sealed record with its corrections. Raise Refusal when one of them is not as it was signed.

    Its seal, its place behind the record before it, the records that it names and every signature are looked at first.
    What corrects it is looked for in the records themselves: a list that leaves one out is refused.
    """
    records = store.records()
    envelope, record = sound_record(desk, records, number)
    later = corrections_of(number, records.agreed_lines())
    corrections = tuple(_seen(*sound_record(desk, records, one)) for one in later)
    return SeenRecord(number, envelope.digest, record, corrections)


def see_as_kept(desk: SigningDesk, store: SigningStore, record: Record) -> SeenRecord:
    """Return the newest record with exactly these words, read back from the file. Raise Refusal when none is there."""
    records = store.records()
    last = records.last_envelope()
    newest = last.number if last else 0
    for number in range(newest, max(0, newest - _LOOKED_BACK), -1):
        envelope = records.envelope(number)
        if envelope is not None and read_record(envelope.content) == record:
            return see_record(desk, store, number)
    raise Refusal("What was signed was not found in the file. Run 'sparkwright verify' on the shop file.")


def sound_record(desk: SigningDesk, records: Records, number: int) -> tuple[Envelope, Record]:
    """Return a sealed record and what it says. Raise Refusal, and say nothing of it, when it is not sound."""
    envelope = records.envelope(number)
    if envelope is None:
        raise Refusal(f"There is no record {number}. Look at the list of records.")
    before = records.envelope(number - 1) if number > 1 else None
    record = read_record(envelope.content)
    people = people_in_records(records.envelopes_about_people(), desk.shop_id, desk.verifier)
    troubles = [
        *(("does not follow the record before it",) if envelope.previous != head_of(desk.shop_id, before) else ()),
        *(("is kept as something else than it was signed as",) if envelope.kind != record.kind else ()),
        *(("was signed in another shop",) if record.shop_id != desk.shop_id else ()),
        *(f"names record {one.number} by another record seal" for one in record.about if not _is_there(records, one)),
        *signature_troubles(envelope, record, desk.shop_id, people, desk.verifier),
    ]
    if troubles:
        raise _not_sound(f"Record {number}", troubles[0])
    return envelope, record


def _seen(envelope: Envelope, record: Record) -> SeenRecord:
    return SeenRecord(envelope.number, envelope.digest, record)


def _is_there(records: Records, about: About) -> bool:
    found = records.envelope(about.number)
    return found is not None and found.about == about


def _not_sound(name: str, trouble: str) -> Refusal:
    return Refusal(f"{name} {trouble}. Nothing of it is shown. {CHECK}")
