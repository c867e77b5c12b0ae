"""What signing needs from outside: keys that are made and opened, and a place where they and their tries are kept."""

from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import datetime
from enum import StrEnum
from hashlib import sha256
from typing import Protocol

from desktop.core.records.sealed.canonical import framed
from desktop.core.records.sealed.envelope import Envelope
from desktop.core.shop.people.secrets import Tries
from desktop.usecases.shop.ports import ShopWork

LEAST_MEMORY, MOST_MEMORY = 19 * 1024, 256 * 1024
LEAST_PASSES, MOST_PASSES = 2, 10
MOST_LANES = 16


class WrongSecret(Exception):  # noqa: N818 - not a bug: somebody mistyped
    """A secret does not open a key. It says nothing of either."""


@dataclass(frozen=True, slots=True)
class Strength:
    """How much work one try of a secret is: memory in KiB, passes over it, lanes.

    Raise ValueError outside 19 to 256 MiB, 2 to 10 passes and 1 to 16 lanes: less is found too soon, and more, written
    into a file by somebody, would take the machine down.
    """

    memory: int
    passes: int
    lanes: int

    def __post_init__(self) -> None:
        if not (
            LEAST_MEMORY <= self.memory <= MOST_MEMORY
            and LEAST_PASSES <= self.passes <= MOST_PASSES
            and 1 <= self.lanes <= MOST_LANES
        ):
            raise ValueError("the strength of a key lies outside its limits")


FOR_PEOPLE = Strength(64 * 1024, 3, 4)
"""RFC 9106, section 4, the second recommended option: 64 MiB, 3 passes, 4 lanes."""
FOR_DEMO = Strength(LEAST_MEMORY, LEAST_PASSES, 1)
"""The least that the OWASP Password Storage Cheat Sheet names: 19 MiB, 2 passes, 1 lane. For a demo and tests."""


@dataclass(frozen=True, slots=True)
class WrappedKey:
    """A person's signing key, sealed under their secret, with all that opening it needs except the secret.

    Raise ValueError for a part of another length than a key has.
    """

    person: str
    public_key: bytes
    wrapped: bytes = field(repr=False)
    salt: bytes = field(repr=False)
    nonce: bytes = field(repr=False)
    strength: Strength

    def __post_init__(self) -> None:
        if (len(self.public_key), len(self.wrapped), len(self.salt), len(self.nonce)) != (32, 48, 16, 12):
            raise ValueError("a part of a key has another length")

    @property
    def check(self) -> str:
        """The check of the key as it is kept: 64 hexadecimal digits over all of it. It tells nothing of the secret."""
        strength = (self.strength.memory, self.strength.passes, self.strength.lanes)
        numbers = (b"%d" % number for number in strength)
        parts = (self.person.encode(), self.public_key, self.wrapped, self.salt, self.nonce, *numbers)
        return sha256(framed(b"sparkwright key 1", *parts)).hexdigest()


class OpenKey(Protocol):
    """A key that its secret has opened, for the signatures of one act."""

    @property
    def public_key(self) -> bytes:
        """The 32 bytes of the public key."""
        ...

    def sign(self, message: bytes) -> bytes:
        """Return the signature of a message, 64 bytes. Raise ValueError once the key is closed."""
        ...

    def close(self) -> None:
        """Forget the key."""
        ...


class Locksmith(Protocol):
    """Makes keys and opens them."""

    def new_key(self, person: str, secret: str, strength: Strength) -> WrappedKey:
        """Return a new key of a person, sealed under a secret."""
        ...

    def open_key(self, key: WrappedKey, secret: str) -> OpenKey:
        """Open a key. Raise WrongSecret when the secret is another or the key was changed."""
        ...


class KeyEventKind(StrEnum):
    """What happened to a key besides signing."""

    TRIES_SET_BACK = "the count of wrong tries was set back"
    CLOCK_SET_BACK = "the clock stood before the last try"
    UNLOCKED = "unlocked"


@dataclass(frozen=True, slots=True)
class KeyEvent:
    """Something that happened to a key; ``person`` is who did it, empty where nobody is known, ``wrong`` the count."""

    what: KeyEventKind
    public_key: bytes
    at: datetime
    wrong: int
    person: str = ""


class SigningWork(Protocol):
    """Keys and signed records inside one transaction of the shop file."""

    def key(self, person_id: str) -> WrappedKey | None:
        """Return the newest key of a person. Raise Refusal for one that is damaged."""
        ...

    def put_key(self, key: WrappedKey) -> None:
        """Keep a new key; the one before stays in the file."""
        ...

    def tries(self, public_key: bytes) -> Tries:
        """Return the count of tries in the file."""
        ...

    def put_tries(self, public_key: bytes, tries: Tries) -> None:
        """Keep a count of tries; neither of its numbers falls."""
        ...

    def events(self) -> tuple[KeyEvent, ...]:
        """Return what happened to keys, the oldest first."""
        ...

    def note(self, event: KeyEvent) -> None:
        """Write down what happened to a key."""
        ...

    def seen(self, person_id: str) -> int:
        """Return the number of the newest record that a person had before them when they signed; 0 for none."""
        ...

    def put_seen(self, person_id: str, number: int) -> None:
        """Keep that number; it does not fall."""
        ...

    def last_envelope(self) -> Envelope | None:
        """Return the newest sealed record; None in a shop without any."""
        ...

    def envelopes(self, start: int = 1) -> Iterator[Envelope]:
        """Give the sealed records from a number on. Raise Refusal at one that is not as it was kept."""
        ...

    def envelopes_about_people(self) -> tuple[Envelope, ...]:
        """Return the sealed records that say who people are and by which keys they sign, the oldest first."""
        ...

    def append_record(self, envelope: Envelope) -> None:
        """Keep a sealed record behind the last one; ValueError for one that does not follow it."""
        ...


class KeyStore(Protocol):
    """Where keys are kept: in the shop file, and the counts of tries on this machine besides."""

    def within(self, work: ShopWork) -> SigningWork:
        """Return the keys and signed records inside a transaction of the shop file."""
        ...

    def counted_here(self, public_key: bytes) -> Tries | None:
        """Return the count of tries on this machine; None when it has none."""
        ...

    def count_here(self, public_key: bytes, tries: Tries) -> None:
        """Keep a count of tries on this machine, before anything else is done; neither of its numbers falls."""
        ...
