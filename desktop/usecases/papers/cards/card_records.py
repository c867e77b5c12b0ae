"""The signed records of a card as its paper shows them: which signature stands, and what was signed before it."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from datetime import datetime

from desktop.core.records.record import RecordKind
from desktop.core.shop.orders.order import Passage
from desktop.core.shop.orders.order_states import Move
from desktop.usecases.papers.records.record_parts import corrected_bands, correction_blocks, signature_blocks
from desktop.usecases.papers.records.verified import VerifiedRecord
from desktop.usecases.records.sections.names import moment_words
from desktop.usecases.records.signing.acts import MOVES
from reports.document import Band, Block, SignatureBox
from reports.document_signing import AnySignature

DONE = "I performed the work on this card as it is written here."
SEEN = "I inspected the work on this card, read every reading and finding, and accept it."
MECHANIC, INSPECTOR = "Mechanic", "Inspector"
KINDS = {move: kind for kind, move in MOVES.items()}
"""Which kind of record is signed with a move."""


@dataclass(frozen=True, slots=True)
class CardRecords:
    """The verified records about a card and about its order as a whole, the oldest first; none where ink is used.

    ``submitted`` and ``accepted`` are the signatures that stand: a submission that was returned does not.
    """

    every: tuple[VerifiedRecord, ...] = ()

    @property
    def submitted(self) -> VerifiedRecord | None:
        """The mechanic's signature."""
        last = self._last(RecordKind.CARD_SUBMITTED)
        back = self._last(RecordKind.CARD_RETURNED)
        return None if last is None or (back is not None and back.number > last.number) else last

    @property
    def accepted(self) -> VerifiedRecord | None:
        """The inspector's signature; an acceptance answers the submission that stands."""
        last, mechanic = self._last(RecordKind.CARD_ACCEPTED), self.submitted
        return last if last is not None and mechanic is not None and last.number > mechanic.number else None

    @property
    def standing(self) -> tuple[VerifiedRecord, ...]:
        """The signatures that stand, the mechanic's first."""
        return tuple(one for one in (self.submitted, self.accepted) if one is not None)

    def numbered(self, passages: tuple[Passage, ...]) -> Iterator[str]:
        """Yield the number of the record with which each passage was signed; empty for one without.

        They are counted from the last: a shop may have begun to sign in the middle of a card.
        """
        left = list(self.every)
        found: list[str] = []
        for passage in reversed(passages):
            kind = KINDS.get(passage.move)
            mine = next((one for one in reversed(left) if one.taken.record.kind is kind), None)
            if mine is not None:
                left = left[: left.index(mine)]
            found.append(str(mine.number) if mine else "")
        yield from reversed(found)

    def _last(self, kind: RecordKind) -> VerifiedRecord | None:
        return next((one for one in reversed(self.every) if one.taken.record.kind is kind), None)


NO_RECORDS = CardRecords()
"""Those of a card that nobody signed here."""


def records_of_card(records: Iterable[VerifiedRecord], order: int, card: int) -> CardRecords:
    """Return the records about a card, and those about its order as a whole."""
    return CardRecords(
        tuple(
            one
            for one in records
            if one.taken.line.order == order and one.taken.line.card in (0, card) and one.taken.record.kind in MOVES
        )
    )


def signature_boxes(records: CardRecords) -> tuple[AnySignature, ...]:
    """Return who signs a card: each signature that stands in words, and room for ink where one is still missing."""
    return (
        _box(records.submitted, MECHANIC, DONE),
        _box(records.accepted, INSPECTOR, SEEN),
    )


def accepted_words(records: CardRecords, move: Passage | None, who: str) -> str:
    """Say of a step that the inspector must see, by whom and in which record it was accepted; empty while it is not.

    ``move`` is the acceptance that stands on the order, ``who`` says it in words where it was not signed here.
    """
    signed = records.accepted
    if signed is not None:
        when = moment_words(datetime.fromisoformat(signed.taken.record.at))
        return f"Accepted with the card: {signed.taken.record.signer.person}, {when}, record {signed.number}."
    return f"Accepted with the card: {who}." if move is not None else ""


def last_move(passages: tuple[Passage, ...], card: int) -> Passage | None:
    """Return the last submission, return or acceptance of a card: it says how the card stands with its inspector."""
    moves = (Move.SUBMIT, Move.RETURN, Move.ACCEPT)
    return next((one for one in reversed(passages) if one.card == card and one.move in moves), None)


def record_bands(records: CardRecords) -> tuple[Band, ...]:
    """Say on every page by which records a signature that stands was corrected."""
    return tuple(dict.fromkeys(band for one in records.standing for band in corrected_bands(one)))


def correction_parts(records: CardRecords) -> Iterator[Block]:
    """Yield what corrects the signatures that stand, each correction once."""
    seen: set[int] = set()
    for one in records.standing:
        later = tuple(taken for taken in one.corrected_by if taken.envelope.number not in seen)
        seen |= {taken.envelope.number for taken in later}
        yield from correction_blocks(replace(one, corrected_by=later))


def _box(one: VerifiedRecord | None, title: str, meaning: str) -> AnySignature:
    if one is None:
        return SignatureBox(title, meaning)
    [box, *_] = signature_blocks(one.taken.envelope, one.taken.record).boxes
    return replace(box, title=f"{title}: record {one.number}")
