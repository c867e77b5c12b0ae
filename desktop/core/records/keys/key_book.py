"""Who was who at each record: the person as enrolled, and the key by which their signatures were known."""

from dataclasses import dataclass
from datetime import date, datetime

from desktop.core.records.keys.enrolment import key_check_in, person_in
from desktop.core.records.kinds import PEOPLE_KINDS
from desktop.core.records.record import Record, RecordKind
from desktop.core.records.subjects import person_named
from desktop.core.shop.people.people import Person, Right


@dataclass(frozen=True, slots=True)
class Standing:
    """What a record made of a person: ``public_key`` is empty for one without a key and for one who was withdrawn.

    ``key_check`` is the check of the key as it is kept under its owner's secret; empty where no record says it.
    """

    number: int
    person: Person
    public_key: bytes
    is_withdrawn: bool = False
    key_check: str = ""

    def can_sign(self, day: date) -> bool:
        """Tell whether this person has a key and is with the shop on a day."""
        return bool(self.public_key) and self.person.is_here(day)


class KeyBook:
    """The people of a shop as its records say them, taken in the order of their numbers.

    It can be made from the records about people alone.
    """

    def __init__(self) -> None:
        self._history: dict[str, list[Standing]] = {}
        self._owners: dict[bytes, str] = {}

    def standing(self, person: str, before: int | None = None) -> Standing | None:
        """Return how a person stands, or stood before a record's number; None for one who was never enrolled."""
        history = self._history.get(person, [])
        return next((one for one in reversed(history) if before is None or one.number < before), None)

    def ended(self, person: str, public_key: bytes) -> int | None:
        """Return the number of the record that ended a person's key; None for a key that they never had or still have.

        Only that a key was ended is asked of this: it does not tell one time from another.
        """
        had = False
        for one in self._history.get(person, []):
            if had and one.public_key != public_key:
                return one.number
            had = one.public_key == public_key
        return None

    def people(self, before: int | None = None) -> tuple[Standing, ...]:
        """Return how everybody stands, or stood before a record's number, by id."""
        found = (self.standing(person, before) for person in sorted(self._history))
        return tuple(one for one in found if one is not None)

    def able(self, day: date, besides: str, before: int | None = None) -> tuple[Person, ...]:
        """Return who can sign on a day, as the records stood before a number, without one person."""
        everybody = self.people(before)
        return tuple(one.person for one in everybody if one.can_sign(day) and one.person.id != besides)

    def keepers(self, day: date, besides: str = "", before: int | None = None) -> tuple[Person, ...]:
        """Return the records keepers among them."""
        return tuple(person for person in self.able(day, besides, before) if Right.RECORDS in person.rights)

    def copy(self) -> "KeyBook":
        """Return a book that takes further records without changing this one."""
        book = KeyBook()
        book._history = {person: list(history) for person, history in self._history.items()}
        book._owners = dict(self._owners)
        return book

    def take(self, number: int, record: Record) -> str | None:
        """Take what a record says of a person; any other record says nothing.

        Return why it cannot be so, in words that follow the record's name; None when it can. A person whom it does not
        describe is not taken.
        """
        if record.kind not in PEOPLE_KINDS:
            return "brings a key, and is no enrolment" if record.keys else None
        named = person_named(record.subject)
        before = self.standing(named or "")
        person = person_in(record) or (before.person if before and record.kind is RecordKind.KEY_REPLACED else None)
        if named is None or person is None or person.id != named:
            return "does not say whole who the person is"
        keys = [bytes.fromhex(key.public_key_hex) for key in record.keys if key.person == named]
        trouble = self._trouble(record, named, before, keys)
        key, check = (keys[0], key_check_in(record)) if keys else (b"", "")
        if record.kind is RecordKind.PERSON_ENROLLED and not keys and before and not before.is_withdrawn:
            key, check = before.public_key, before.key_check
        is_withdrawn = record.kind is RecordKind.PERSON_WITHDRAWN
        self._history.setdefault(named, []).append(Standing(number, person, key, is_withdrawn, check))
        for one in keys:
            self._owners.setdefault(one, named)
        if is_withdrawn and not trouble and not self.keepers(datetime.fromisoformat(record.at).date()):
            return "leaves nobody who can sign and keeps the records"
        return trouble

    def _trouble(self, record: Record, named: str, before: Standing | None, keys: list[bytes]) -> str | None:
        kind = record.kind
        has_key = before is not None and before.public_key != b""
        troubles = (
            (len(keys) != len(record.keys) or len(keys) > 1, "brings a key for somebody else"),
            (kind is not RecordKind.PERSON_ENROLLED and before is None, f"is about {named}, who was never enrolled"),
            (kind is RecordKind.KEY_REPLACED and not keys, "replaces a key and brings none"),
            (kind is RecordKind.PERSON_WITHDRAWN and bool(keys), "withdraws a person and brings a key"),
            (
                kind is RecordKind.PERSON_ENROLLED and has_key and bool(keys) and before is not None,
                f"brings a key for {named} without replacing the one they have",
            ),
            (
                any(self._owners.get(one, named) != named for one in keys),
                "brings a key that was enrolled for somebody else",
            ),
            (any(one in self._owners for one in keys), f"brings a key that {named} had before, and every key is new"),
        )
        return next((words for is_so, words in troubles if is_so), None)
