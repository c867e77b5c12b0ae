"""Who may sign: enrolling people, new secrets, withdrawing, unlocking. Secrets are handed through and kept nowhere."""

from collections.abc import Callable
from dataclasses import dataclass

from PySide6.QtCore import QObject, Signal

from desktop.core.errors import NotReady, Refusal
from desktop.core.records.keys.enrolment import person_section
from desktop.core.records.keys.key_book import KeyBook, Standing
from desktop.core.shop.people.people import Person
from desktop.usecases.records.keys.people import enrol_again, enrol_person, replace_key, withdraw_person
from desktop.usecases.records.keys.secrets import key_state, unlock_key
from desktop.usecases.records.keys.signing_desk import people_signed
from desktop.usecases.shop.ports import Answer, Request, Shop
from desktop.viewmodels.pieces.bench import Signing
from desktop.viewmodels.pieces.card_words import Progress
from desktop.viewmodels.pieces.lines_model import LinesModel, ListColumn
from desktop.viewmodels.pieces.order_words import day_words

NEVER, ENROLLED, CHANGED, LOCKED, WITHDRAWN = (
    "not enrolled",
    "can sign",
    "changed since",
    "locked",
    "withdrawn",
)
_RINGS = {
    NEVER: Progress.EMPTY,
    ENROLLED: Progress.DONE,
    CHANGED: Progress.OPEN,
    LOCKED: Progress.STOPS,
    WITHDRAWN: Progress.STOPS,
}


@dataclass(frozen=True, slots=True)
class SignerLine:
    """A person of the roster, how their signing stands, and what to know of it."""

    person: Person
    state: str
    words: str


ENROL_COLUMNS = (
    ListColumn("Initials", lambda line: line.person.id, 110, strong=True, narrow_width=110),
    ListColumn("Name", lambda line: line.person.name, 0, below=("In words",)),
    ListColumn("Signing", lambda line: line.state, 180, ring=lambda line: _RINGS[line.state], narrow_width=190),
    ListColumn("In words", lambda line: line.words, 560, quiet=True),
)


@dataclass(frozen=True, slots=True)
class Asks:
    """What a dialog asks for: a new secret twice, a reason, and whose secret at the end; empty for none.

    ``who_is`` says after the name why it is that person's.
    """

    title: str
    task: str
    act: str
    new_secret: bool = False
    reason: bool = False
    secret_of: str = ""
    who_is: str = ", who keeps the records"


@dataclass(frozen=True, slots=True)
class Typed:
    """What was typed into a dialog. It is never shown in words: the secrets stand in it."""

    new_secret: str = ""
    again: str = ""
    reason: str = ""
    secret: str = ""

    def __repr__(self) -> str:
        return "Typed()"


class EnrolDesk(QObject):
    """The roster as it signs. ``kept`` says what was done, ``refused`` why something was not."""

    lines_changed = Signal()
    kept = Signal(str)
    refused = Signal(str)

    def __init__(
        self,
        shop: Shop,
        signing: Signing | None,
        who: Callable[[], str],
        new_id: Callable[[], str],
        parent: QObject | None = None,
    ) -> None:
        super().__init__(parent)
        self._shop, self._signing, self._who, self._new_id = shop, signing, who, new_id
        self.model = LinesModel(ENROL_COLUMNS, lambda line: line.person.id, self)
        self.is_first = False

    def look(self) -> None:
        """Read the roster and the signed records about it again."""
        if self._signing is None:
            return
        try:
            with self._signing.store.changing() as work:
                signing = self._signing.desk.keys.within(work)
                book = people_signed(self._signing.desk, signing)
                self.is_first = signing.last_envelope() is None
            today = self._shop.clock.now().date()
            people = [one for one in self._shop.store.people() if one.is_here(today) or book.standing(one.id)]
            self.model.show_lines([self._line(one, book) for one in people])
        except Refusal as refusal:
            self.refused.emit(refusal.sentence)
            return
        self.lines_changed.emit()

    def deeds(self, line: SignerLine) -> tuple[str, ...]:
        """Return what can be done about a person: the names of ``asks``."""
        found = {
            NEVER: ("enrol",),
            ENROLLED: ("replace", "withdraw"),
            CHANGED: ("again", "replace", "withdraw"),
            LOCKED: ("unlock", "replace", "withdraw"),
            WITHDRAWN: ("enrol",),
        }
        return found[line.state]

    def asks(self, deed: str, person: Person) -> Asks:
        """Return what a dialog asks for."""
        name, me = f"{person.name} ({person.id})", self._who()
        keeper = "" if self.is_first and deed == "enrol" else me
        table = {
            "enrol": Asks(
                f"Enrol {name}",
                f"{person.name} chooses a secret and types it twice; nobody else sees it. Four words are good.",
                "Enrol",
                new_secret=True,
                secret_of=keeper,
            ),
            "again": Asks(
                f"Sign what changed about {name}",
                "The roster says something else than was signed. You sign it as it stands now.",
                "Sign the change",
                secret_of=me,
            ),
            "replace": Asks(
                f"New secret for {name}",
                f"{person.name} chooses a new secret and types it twice. The old key ends; what it signed stands.",
                "Set the new secret",
                new_secret=True,
                secret_of=me,
            ),
            "withdraw": Asks(
                f"Withdraw {name}",
                "From now on nothing is signed with this key. What was signed before stands.",
                "Withdraw",
                reason=True,
                secret_of=me,
            ),
            "unlock": Asks(
                f"Unlock the key of {name}",
                "Ten wrong tries in a row locked it. Ask the person first whether the tries were theirs.",
                "Unlock",
                secret_of=me,
            ),
        }
        return table[deed]

    def do(self, deed: str, person: Person, typed: Typed) -> str:
        """Do it; return why it was not done, empty when it was."""
        if self._signing is None:
            return "Nobody can sign here."
        asks = self.asks(deed, person)
        if asks.new_secret and typed.new_secret != typed.again:
            return "The two new secrets are not the same. Type both again."
        desk, request = self._signing.desk, Request(self._new_id(), self._who())
        verbs: dict[str, Callable[[], Answer]] = {
            "enrol": lambda: enrol_person(desk, request, person.id, typed.new_secret, typed.secret),
            "again": lambda: enrol_again(desk, request, person.id, typed.secret),
            "replace": lambda: replace_key(desk, request, person.id, typed.new_secret, typed.secret),
            "withdraw": lambda: withdraw_person(desk, request, person.id, typed.reason, typed.secret),
            "unlock": lambda: unlock_key(desk, request, person.id, typed.secret),
        }
        try:
            verbs[deed]()
        except NotReady as not_ready:
            return " ".join(not_ready.reasons)
        except Refusal as refusal:
            return refusal.sentence
        self.look()
        self.kept.emit(_done(deed, person))
        return ""

    def _line(self, person: Person, book: KeyBook) -> SignerLine:
        standing = book.standing(person.id)
        if standing is None:
            return SignerLine(person, NEVER, "Enrol them before they sign.")
        if standing.is_withdrawn or not standing.public_key:
            return SignerLine(person, WITHDRAWN, f"by record {standing.number}; old signatures stand")
        return self._of_signer(person, standing)

    def _of_signer(self, person: Person, standing: Standing) -> SignerLine:
        if person_section(person) != person_section(standing.person):
            return SignerLine(person, CHANGED, "the roster was changed; sign the change, or they cannot sign")
        assert self._signing is not None  # noqa: S101 - it was asked for before
        try:
            key = key_state(self._signing.desk, person.id)
        except Refusal as refusal:
            return SignerLine(person, CHANGED, refusal.sentence)
        if key.is_locked:
            return SignerLine(person, LOCKED, "ten wrong tries in a row; another records keeper unlocks it")
        wrong = f"; wrong tries in a row: {key.wrong}" if key.wrong else ""
        left = f"; leaves on {day_words(person.until)}" if person.until else ""
        return SignerLine(person, ENROLLED, f"enrolled by record {standing.number}{wrong}{left}")


def _done(deed: str, person: Person) -> str:
    return {
        "enrol": f"{person.name} can sign now. Print the declaration, and have it signed in ink.",
        "again": f"What changed about {person.name} is signed.",
        "replace": f"{person.name} signs with the new secret from now on.",
        "withdraw": f"{person.name} signs no more.",
        "unlock": f"The key of {person.name} is unlocked.",
    }[deed]
