"""The people of the shop in lines: rights, certificate, since and until, and how fresh a printed roster must be."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date

from PySide6.QtCore import QObject

from desktop.core.errors import Refusal
from desktop.core.shop.people.people import Person
from desktop.core.shop.people.roster import RosterNotice, newest_notice, notice_of
from desktop.usecases.shop.lists.keep_lists import keep_person
from desktop.usecases.shop.ports import Shop
from desktop.viewmodels.pieces.card_words import Progress
from desktop.viewmodels.pieces.lines_model import LinesModel, ListColumn
from desktop.viewmodels.pieces.list_desk import ListDesk
from desktop.viewmodels.pieces.order_words import day_words


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
        self, shop: Shop, who: Callable[[], str], new_id: Callable[[], str], parent: QObject | None = None
    ) -> None:
        super().__init__(shop, who, new_id, parent)
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
        words = f"{person.name} ({person.id}) is on the roster." if not seen else f"{person.name} is kept as changed."
        return self.ask(person, lambda request: keep_person(self.shop, request, person), seen=seen, words=words)
