"""What is kept beside the records and can be held against them: people's keys, what they had read, the journal."""

from collections.abc import Iterator
from dataclasses import dataclass

from desktop.core.records.keys.key_book import Standing
from desktop.core.records.record import RecordKind, visible
from desktop.core.records.sealed.chain import Problem, Taken
from desktop.core.records.sealed.record_line import RecordLine, record_name
from desktop.core.records.sealed.remedies import RESTORE
from desktop.core.shop.shop_details import ShopDetails

NOT_JUDGED = (
    "Not signed, and not judged here: the words of the journal, the safe-state board, prints that were noted, counts "
    "of wrong tries, settings, and whatever nobody has signed yet."
)
"""Said with every check: what anybody who holds the file could have changed without a trace in the records."""
_STATION = "Certificate number of the station"


@dataclass(frozen=True, slots=True)
class KeptKey:
    """A key as it is kept: whose, by which public key it is known (hex), and its check; empty for a damaged one."""

    person: str
    public_key: str
    check: str


class KeptBesides:
    """The last signature of each person, and the newest approval; the records are taken in their order."""

    def __init__(self) -> None:
        self._lines: dict[int, RecordLine] = {}
        self._signed: dict[str, int] = {}
        self._approval: Taken | None = None

    def take(self, taken: Taken) -> None:
        """Take the next record."""
        self._lines[taken.line.number] = taken.line
        for one in taken.envelope.signatures:
            self._signed[one.person] = taken.line.number
        if taken.record.kind is RecordKind.APPROVED:
            self._approval = taken

    def key_problems(self, standings: tuple[Standing, ...], keys: tuple[KeptKey, ...] | None) -> Iterator[Problem]:
        """Say whose key is not kept as it was enrolled: with such a key nobody signs, and no secret opens it.

        ``keys`` come in the order in which they were kept; None in a file whose form has no place for them.
        """
        if keys is None:
            return
        newest = {key.person: key for key in keys}
        for one in standings:
            if not one.public_key:
                continue
            name, key = one.person.name, newest.get(one.person.id)
            if key is None:
                yield self._of(one.number, f"and no key of {name} is kept: they cannot sign. {RESTORE}")
            elif key.public_key != one.public_key.hex():
                yield self._of(one.number, f"and another key is kept in the place of that of {name}. {RESTORE}")
            elif not key.check or (one.key_check and key.check != one.key_check):
                yield self._of(
                    one.number, f"and the key of {name} is not kept as it was enrolled: no secret opens it. {RESTORE}"
                )

    def seen_problems(self, seen: tuple[tuple[str, int], ...]) -> Iterator[Problem]:
        """Say of whom more is kept as read than there was when they signed last: that hides what they should see."""
        for person, number in seen:
            signed = self._signed.get(person, 0)
            if number >= max(signed, 1):
                words = f"The file says that {person} had read the records up to {number} when they signed last"
                last = f"that was record {signed}" if signed else "they never signed"
                yield Problem(signed, f"{words}, and {last}. What was signed in that name would not be shown to them.")

    def station_notes(self, details: ShopDetails) -> Iterator[Problem]:
        """Say when the details name another station certificate than the newest approval: it may have changed."""
        if self._approval is None:
            return
        said = [row.text for section in self._approval.record.sections for row in section.rows if row.label == _STATION]
        now = visible(details.station_certificate)
        if said and said[-1] != now:
            line = self._approval.line
            names = f"names the station by {said[-1]}, and its details say {now or 'nothing'} now"
            yield Problem(line.number, f"{record_name(line.number, line.names)}, {names}.", line.names)

    def _of(self, number: int, words: str) -> Problem:
        line = self._lines[number]
        return Problem(number, f"{record_name(number, line.names)}, {words}", line.names)
