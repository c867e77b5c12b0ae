"""The form of a person: name, initials, certificate, rights as boxes to tick, supervisor, first and last day."""

from collections.abc import Sequence
from dataclasses import replace
from datetime import date

from PySide6.QtCore import QObject

from desktop.core.shop.people.people import Person, Right, person_faults
from desktop.core.timing.faults import Fault
from desktop.core.timing.typed_paths import Value
from desktop.viewmodels.pieces.entry_form import EntryForm
from desktop.viewmodels.pieces.fields import Field, Group, Kind, choice
from desktop.viewmodels.pieces.order_words import day_words
from desktop.viewmodels.pieces.typed_dates import typed_day

NAME = Field("name", "Name", hint="needed")
INITIALS = Field("id", "Initials", hint="needed; they stand at every step that this person initials")
SINCE = Field("since", "First day", hint="needed, such as 1 Dec 2026")
UNTIL = Field("until", "Last day", optional=True, hint="empty while with the shop")
CERTIFICATE = Group(
    "Certificate",
    (
        Field("certificate_number", "Number", optional=True),
        Field("certificate_kind", "Kind", optional=True, hint="such as mechanic or repairman"),
        Field("ratings", "Ratings", optional=True),
    ),
)
RIGHTS = Group(
    "Rights", tuple(Field(f"rights.{right.name.lower()}", right.value.capitalize(), Kind.TICK) for right in Right)
)
_PATHS = {right: field.path for right, field in zip(Right, RIGHTS.fields, strict=True)}


class PersonForm(EntryForm):
    """A person as typed; ``begin_new`` and ``begin_with`` are told who is on the roster."""

    days = (SINCE.path, UNTIL.path)

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._roster: tuple[Person, ...] = ()
        self._kept: Person | None = None
        self._own_initials = ""
        self._set_columns()

    def begin_new(self, roster: Sequence[Person], today: date) -> None:
        """Begin an empty form; the first day is today until another is written."""
        self._begin(roster, None)
        self.begin({SINCE.path: day_words(today)}, 0)

    def begin_with(self, person: Person, roster: Sequence[Person]) -> None:
        """Begin with a person of the roster."""
        self._begin(roster, person)
        values: dict[str, Value] = {_PATHS[right]: True for right in person.rights}
        for path in ("name", "id", "certificate_number", "certificate_kind", "ratings", "supervisor"):
            values[path] = getattr(person, path)
        self.begin(values | {SINCE.path: day_words(person.since), UNTIL.path: day_words(person.until)}, person.version)

    def follow(self, field: Field) -> None:
        """Fill in the initials of a name while nobody typed others."""
        if field.path == NAME.path and self.is_new and self.text(INITIALS.path) == self._own_initials:
            initials = "".join(word[0] for word in self.text(NAME.path).split()).upper()
            self._own_initials = initials if initials not in self._taken() else ""
            self.values[INITIALS.path] = self._own_initials
            if not self._own_initials:
                del self.values[INITIALS.path]

    def is_filled_in(self, field: Field) -> bool:
        """Tell whether a field need not be stopped at: it cannot be typed in, or holds what was filled in."""
        if not self.is_open(field):
            return True
        filled = field.path == INITIALS.path and self._own_initials and self.text(field.path) == self._own_initials
        return bool(filled) or (field.path == SINCE.path and self.is_new)

    def is_open(self, field: Field) -> bool:
        """Tell whether a field takes typing: the initials stand on records and stay as they are."""
        return self.is_new or field.path != INITIALS.path

    def person(self) -> Person:
        """Return the person that the form says; a first day that cannot be read is another fault's business."""
        base = self._kept or Person("", "", (), date.min)
        return replace(
            base,
            id=self.text(INITIALS.path),
            name=self.text(NAME.path),
            rights=tuple(right for right in Right if self.values.get(_PATHS[right]) is True),
            since=typed_day(self.text(SINCE.path)) or date.min,
            until=typed_day(self.text(UNTIL.path)),
            certificate_number=self.text("certificate_number"),
            certificate_kind=self.text("certificate_kind"),
            ratings=self.text("ratings"),
            supervisor=self.text("supervisor"),
        )

    def own_faults(self) -> tuple[Fault, ...]:
        """Return what the core says of the person, and initials that somebody else has."""
        found = [
            replace(fault, where=RIGHTS.fields[0].path) if fault.where == "rights" else fault
            for fault in person_faults(self.person())
        ]
        if not self.text(SINCE.path):
            found.append(Fault(SINCE.path, "The first day is missing. Write since when the person is with the shop."))
        other = self._taken().get(self.text(INITIALS.path)) if self.is_new else None
        if other is not None:
            found.append(Fault(INITIALS.path, f"{other.id} is {other.name}. Write other initials."))
        return tuple(found)

    def _begin(self, roster: Sequence[Person], kept: Person | None) -> None:
        self._roster, self._kept, self._own_initials = tuple(roster), kept, ""
        self._set_columns()

    def _taken(self) -> dict[str, Person]:
        return {person.id: person for person in self._roster}

    def _set_columns(self) -> None:
        own = self._kept.id if self._kept else ""
        names = tuple((person.id, f"{person.id} {person.name}") for person in self._roster if person.id != own)
        supervisor = choice("supervisor", "Supervisor", names, optional=True, hint="for a helper")
        self.columns = (
            (Group("Person", (NAME, INITIALS)), CERTIFICATE),
            (RIGHTS, Group("With the shop", (supervisor, SINCE, UNTIL))),
        )
