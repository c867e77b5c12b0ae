"""The people of the shop in lines: rights, certificate, since and until, and how fresh a printed roster must be."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date

from PySide6.QtCore import QObject

from desktop.core.errors import Refusal
from desktop.core.records.keys.enrolment import person_section
from desktop.core.shop.people.people import Person
from desktop.core.shop.people.roster import RosterNotice, newest_notice, notice_of
from desktop.usecases.records.keys.people import change_person
from desktop.usecases.records.keys.signing_desk import enrolled_as
from desktop.usecases.shop.lists.keep_lists import keep_person
from desktop.usecases.shop.ports import Shop
from desktop.viewmodels.pieces.bench import Bench
from desktop.viewmodels.pieces.card_words import Progress
from desktop.viewmodels.pieces.lines_model import LinesModel, ListColumn
from desktop.viewmodels.pieces.list_desk import ListDesk
from desktop.viewmodels.pieces.order_words import day_words
from desktop.viewmodels.signing.enrol_desk import Asks


@dataclass(frozen=True, slots=True)
class PersonLine:
    """A person as they stand on a day."""

    person: Person
    today: date
    notice: RosterNotice | None


def _rights(line: PersonLine) -> str:
    words = ", ".join(right.value for right in line.person.rights)
    return f"{words}, under {line.person.supervisor}" if line.person.supervisor else words


def _certificate(line: PersonLine) -> str:
    person = line.person
    return ", ".join(
        part for part in (f"{person.certificate_kind} {person.certificate_number}".strip(), person.ratings) if part
    )


def _with_shop(line: PersonLine) -> str:
    person = line.person
    if person.since > line.today:
        return f"from {day_words(person.since)}"
    if person.until is None:
        return f"since {day_words(person.since)}"
    return f"{'until' if person.is_here(line.today) else 'left'} {day_words(person.until)}"


def _changed(line: PersonLine) -> str:
    if line.notice is None:
        return ""
    age = "older than 5 business days" if line.notice.is_past else f"print by {day_words(line.notice.by)}"
    return f"changed {day_words(line.notice.changed)}, {age}"


PEOPLE_COLUMNS = (
    ListColumn("Initials", lambda line: line.person.id, 104, strong=True, narrow_width=96),
    ListColumn("Name", lambda line: line.person.name, 176, below=("Rights", "Certificate"), narrow_width=0),
    ListColumn("Rights", _rights),
    ListColumn("Certificate", _certificate, 320, quiet=True),
    ListColumn(
        "With the shop",
        _with_shop,
        176,
        ring=lambda line: Progress.DONE if line.person.is_here(line.today) else Progress.EMPTY,
        below=("Last change",),
        narrow_width=300,
    ),
    ListColumn("Last change", _changed, 344, quiet=True),
)


class PeopleDesk(ListDesk):
    """The roster of a shop."""

    def __init__(
        self,
        shop: Shop,
        who: Callable[[], str],
        new_id: Callable[[], str],
        parent: QObject | None = None,
        *,
        bench: Bench | None = None,
    ) -> None:
        super().__init__(shop, who, new_id, parent)
        self._bench = bench
        self.model = LinesModel(PEOPLE_COLUMNS, lambda line: line.person.id, self)
        self.people: tuple[Person, ...] = ()

    @property
    def today(self) -> date:
        """The day by the shop's clock."""
        return self.shop.clock.now().date()

    def look(self) -> None:
        """Read the roster again; those who left stand at the end."""
        try:
            self.people = self.shop.store.people()
        except Refusal as refusal:
            self.refused.emit(refusal.sentence)
            return
        today = self.today
        left = [person for person in self.people if person.until is not None and person.until < today]
        ordered = [person for person in self.people if person not in left] + left
        self.model.show_lines([PersonLine(person, today, notice_of(person, today)) for person in ordered])
        self.lines_changed.emit()

    def notice(self) -> str:
        """Say from which day on a printed roster holds."""
        found = newest_notice(self.people, self.today)
        if found is None:
            return ""
        day = day_words(found.changed)
        if found.is_past:
            return (
                f"The last change, of {day}, is older than 5 business days: a roster printed before it is out of date. "
                "14 CFR 145.161(b)"
            )
        return f"Changed on {day}: print the roster by {day_words(found.by)}, 5 business days later. 14 CFR 145.161(b)"

    def keep(self, person: Person, seen: int) -> bool:
        """Put a person on the roster, or keep what changed about them."""
        verb = lambda request: keep_person(self.shop, request, person)  # noqa: E731 - what is asked for
        return self.ask(person, verb, seen=seen, words=_said(person, seen))

    def asks(self, person: Person) -> Asks | None:
        """Return what a change of somebody who is enrolled asks for; None where nothing of it is signed.

        Raise Refusal when the shop file cannot be read.
        """
        signing = self._bench.signs if self._bench is not None else None
        if signing is None:
            return None
        standing = enrolled_as(signing.desk, person.id)
        if standing is None or person_section(standing.person) == person_section(person):
            return None
        lines = "; ".join(f"{row.label}: {row.text}" for row in person_section(person).rows)
        task = f"{person.name} is enrolled. You sign what the roster says from now on. {lines}."
        title = f"Sign what changed about {person.name}"
        return Asks(title, task, "Sign the change", secret_of=self.name_of_signer())

    def sign_keep(self, person: Person, seen: int, secret: str) -> str:
        """Keep what changed about somebody with a signature; return why it was not kept, empty when it was."""
        signing = self._bench.signs if self._bench is not None else None
        if signing is None:
            return "This shop signs nothing yet. Enrol somebody first."
        verb = lambda request: change_person(signing.desk, request, person, secret)  # noqa: E731 - what is asked for
        return self.sign(verb, seen=seen, words=_said(person, seen))


def _said(person: Person, seen: int) -> str:
    return f"{person.name} ({person.id}) is on the roster." if not seen else f"{person.name} is kept as changed."
