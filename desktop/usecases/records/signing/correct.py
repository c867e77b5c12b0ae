"""Correcting a signed record: the old one stays as it is, and a new one names it and says what holds instead."""

from dataclasses import dataclass
from datetime import datetime

from desktop.core.errors import NotReady, Refusal
from desktop.core.records.record import About, Record, RecordKind, Section, rows_of, time_text
from desktop.core.records.said import said_lines
from desktop.core.shop.cards.text_limits import text_trouble
from desktop.core.shop.reasons import is_reason
from desktop.usecases.records.keys.secrets import hand_of, seen_answer
from desktop.usecases.records.keys.sign import put_down, sign_with, signer_for
from desktop.usecases.records.keys.signing_desk import SigningDesk
from desktop.usecases.records.signing.ports import SigningStore, SigningWork
from desktop.usecases.records.signing.see_record import sound_record
from desktop.usecases.records.signing.signed_acts import refuse_old_showing
from desktop.usecases.shop.ports import Answer

CORRECT = "correct a record"
CORRECTS = (
    "What stands in the record named here is corrected as this one says. The record itself stays as it was signed."
)


@dataclass(frozen=True, slots=True)
class Correction:
    """What is corrected: the number of the record, what is wrong in it, what holds instead, and the reason."""

    number: int
    wrong: str
    instead: str
    reason: str


@dataclass(frozen=True, slots=True)
class CorrectionProposal:
    """A correction as it was shown."""

    correction: Correction
    person: str
    record: Record

    @property
    def lines(self) -> tuple[str, ...]:
        """The confirmation text: everything that is signed, and nothing else."""
        return said_lines(self.record)


def correction_troubles(correction: Correction) -> tuple[str, ...]:
    """Say what is missing in a correction, each with what to do."""
    troubles = [
        (not correction.wrong.strip(), "It is not said what is wrong. Write it as it stands in the record."),
        (not correction.instead.strip(), "It is not said what holds instead. Write it."),
        (not is_reason(correction.reason), "A record is corrected for a reason. Write it in a sentence."),
    ]
    said = [sentence for is_so, sentence in troubles if is_so]
    trouble = text_trouble(correction)
    return (*said, *((trouble,) if trouble else ()))


def propose_correction(
    desk: SigningDesk, store: SigningStore, person_id: str, correction: Correction
) -> CorrectionProposal:
    """Return a correction as it would be signed now. Raise NotReady with what is missing.

    Raise Refusal for a record that is not there or not sound, and for somebody who may not sign corrections.
    """
    at = desk.shop.clock.now().replace(microsecond=0)
    with store.changing() as work:
        return CorrectionProposal(correction, person_id, _record(desk, work, person_id, correction, at))


def sign_correction(
    desk: SigningDesk, store: SigningStore, request_id: str, proposal: CorrectionProposal, secret: str, seen: int = 0
) -> Answer:
    """Sign a correction as it was shown; the answer's version is its number.

    Everything is loaded and looked at again. Raise Refusal when it would read otherwise now, was shown too long ago, or
    the secret is wrong.
    """
    at = datetime.fromisoformat(proposal.record.at)
    with store.changing() as work:
        if (before := seen_answer(work.already_done(request_id), CORRECT)) is not None:
            return before
    refuse_old_showing(desk, at)
    hand = hand_of(desk, proposal.person, secret, seen)
    try:
        with store.changing() as work:
            record = _record(desk, work, proposal.person, proposal.correction, at)
            if record != proposal.record:
                raise Refusal("What you read is not what would be signed now. Look at it again, then sign.")
            envelope = sign_with(desk, work, record, hand)
            answer = Answer(CORRECT, str(proposal.correction.number), envelope.number)
            work.done(request_id, answer)
            return answer
    finally:
        put_down(hand)


def _record(desk: SigningDesk, work: SigningWork, person_id: str, correction: Correction, at: datetime) -> Record:
    if troubles := correction_troubles(correction):
        raise NotReady(troubles)
    envelope, old = sound_record(desk, work.records(), correction.number)
    signer = signer_for(desk, work, person_id, RecordKind.CORRECTION, CORRECTS)
    section = Section(
        "Correction",
        (
            *rows_of("Record that is corrected", f"{correction.number}, {old.kind}, {old.subject}, of {old.at}"),
            *rows_of("Wrong in it", correction.wrong),
            *rows_of("It holds instead", correction.instead),
            *rows_of("Reason", correction.reason),
        ),
    )
    return Record(
        RecordKind.CORRECTION,
        desk.shop_id,
        desk.shop_name,
        time_text(at),
        old.subject,
        signer,
        (About(envelope.number, envelope.digest),),
        (section,),
    )
