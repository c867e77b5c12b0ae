"""An invented shop in a file, its people with secrets of their own, and a clock that stands until it is moved."""

from collections.abc import Callable
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from itertools import count
from pathlib import Path

import pytest

from desktop.core.errors import Refusal
from desktop.core.records.record import Record, RecordKind, Row, Section, time_text
from desktop.core.records.sealed.chain import ChainWalk, check_chain
from desktop.core.records.sealed.envelope import Envelope
from desktop.core.shop.people.people import Person, Right
from desktop.files.bad_secrets import bad_choices
from desktop.signing import Ed25519Verifier, KeyMaker
from desktop.storage.records.key_store import KeyStore
from desktop.storage.shop_store import ShopFile, new_shop
from desktop.usecases.records.keys.people import enrol_person
from desktop.usecases.records.keys.people_ports import FOR_DEMO
from desktop.usecases.records.keys.secrets import Hand, hand_of
from desktop.usecases.records.keys.sign import put_down, sign_with, signer_for
from desktop.usecases.records.keys.signing_desk import SigningDesk
from desktop.usecases.shop.ports import Request, Shop, ShopWork
from tests.storage.file_floor import QUIET, TEXT, opened
from tests.usecases.shop.shop_floor import PAPERWORK, RULEBOOK

SINCE = date(2030, 1, 1)
PEOPLE = (
    Person("KEEP", "Kit Eeper", (Right.RECORDS,), SINCE),
    Person("ROLF", "Rolf Ecord", (Right.RECORDS, Right.INSPECTOR), SINCE),
    Person("MECH", "Mel Chan", (Right.MECHANIC,), SINCE, certificate_number="1234", certificate_kind="mechanic"),
    Person("DESK", "Dora Esk", (Right.FRONT_DESK,), SINCE),
)
PHRASES = {
    "KEEP": "tansy ladder 7 oboe",
    "ROLF": "ferry quilt under moss",
    "MECH": "Zwölf Eulen im Kamin",
    "DESK": "violet anchor nine",
}
OTHER_PHRASE = "copper 4 lanterns hum"
WRONG = "not the secret at all"
_IDS = count()


class StandingClock:
    """A clock that stands until it is moved."""

    def __init__(self) -> None:
        self.time = datetime(2031, 3, 4, 9, 0, tzinfo=UTC)

    def now(self) -> datetime:
        return self.time

    def move(self, seconds: float) -> None:
        self.time += timedelta(seconds=seconds)


class SigningFloor:
    """The hands at a signing desk; ``state`` is the folder of this machine, None for one that counts no tries."""

    def __init__(self, file: ShopFile, state: Path | None, clock: StandingClock | None = None) -> None:
        self.file = file
        self.clock = clock or StandingClock()
        self.cards = count(1)
        self.shop = Shop(file, self.clock, RULEBOOK, PAPERWORK)
        keys = KeyStore(state, file.shop_id)
        self.desk = SigningDesk(
            self.shop, file.shop_id, file.name, keys, KeyMaker(), Ed25519Verifier(), bad_choices(), FOR_DEMO
        )

    def by(self, person: str, seen_version: int = 0) -> Request:
        """Return a new request of a person."""
        return Request(f"s{next(_IDS)}", person, seen_version)

    def enrol(self, *people: str) -> "SigningFloor":
        """Enrol people; the first keeps the records and enrols the others."""
        for person in people:
            secret = "" if person == people[0] else PHRASES[people[0]]
            enrol_person(self.desk, self.by(people[0]), person, PHRASES[person], secret)
        return self

    def on_roster(self, person_id: str) -> Person:
        """Return somebody as the roster has them."""
        return next(person for person in self.file.people() if person.id == person_id)

    def change(self, person_id: str, **changes: object) -> None:
        """Change what the roster says of somebody without a signature, as nobody can in the program."""
        person = self.on_roster(person_id)
        changed = replace(person, **changes)  # type: ignore[arg-type]
        with self.file.changing() as work:
            work.put_person(replace(changed, version=person.version + 1, changed=self.clock.now().date()))

    def hand(self, person: str, secret: str | None = None, seen: int = 0) -> Hand:
        """Ask for somebody's secret."""
        return hand_of(self.desk, person, PHRASES[person] if secret is None else secret, seen)

    def work_done(self, work: ShopWork, person: str, said: str = "timed to the marks") -> Record:
        """Return what a mechanic signs."""
        signer = signer_for(self.desk, work, person, RecordKind.CARD_SUBMITTED, "I did the work that stands here.")
        return Record(
            RecordKind.CARD_SUBMITTED,
            self.desk.shop_id,
            self.desk.shop_name,
            time_text(self.clock.now()),
            f"order 1 card {next(self.cards)}",
            signer,
            sections=(Section("Work performed", (Row("Done", said),)),),
        )

    def sign(self, person: str = "MECH", secret: str | None = None, seen: int = 0) -> Envelope:
        """Sign work performed, as a verb does it."""
        hand = self.hand(person, secret, seen)
        with self.file.changing() as work:
            envelope = sign_with(self.desk, work, self.work_done(work, person), hand)
        put_down(hand)
        return envelope

    def walk(self) -> ChainWalk:
        """Walk the chain of the shop's records."""
        return check_chain(self.file.records().stored(), self.file.shop_id, self.desk.verifier)

    def problems(self) -> list[str]:
        """Return what is not sound."""
        return [problem.sentence for problem in self.walk().problems]

    def wrong(self, times: int, person: str = "MECH") -> list[str]:
        """Try a wrong secret so often, with the waits between; return what was said."""
        said = []
        for _ in range(times):
            said.append(refused(lambda: self.hand(person, WRONG)))
            self.clock.move(600)
        return said


def refused(ask: Callable[[], object]) -> str:
    """Return the sentence with which something is refused; fail when it is not."""
    with pytest.raises(Refusal) as caught:
        ask()
    return caught.value.sentence


def made_floor(place: Path, state: Path | None) -> SigningFloor:
    """Make a shop with its roster; nobody is enrolled yet."""
    file = new_shop(place, "Mill Shop", TEXT, QUIET)
    with file.changing() as work:
        for person in PEOPLE:
            work.put_person(person)
    return SigningFloor(file, state)


def opened_floor(place: Path, state: Path | None, clock: StandingClock | None = None) -> SigningFloor:
    """Open it."""
    return SigningFloor(opened(place), state, clock)
