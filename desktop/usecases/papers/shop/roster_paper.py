"""The roster: who is with the shop, with certificate and rights, and whether an older print may still hang."""

from collections.abc import Iterable, Iterator
from datetime import date

from desktop.core.shop.people.people import Person, Right
from desktop.core.shop.people.roster import ROSTER_DAYS, newest_notice, notice_of
from desktop.core.words import day_words
from desktop.usecases.papers.frame import About, document
from reports.document import Block, Column, Document, Paragraph, Run, SignatureBox, Signatures, Table
from reports.document_text import Entries, Entry

SOURCE = f"A change stands on the roster within {ROSTER_DAYS} business days: 14 CFR 145.161(b)."
COLUMNS = (
    Column("initials", 0.7),
    Column("name", 1.15),
    Column("certificate", 1.75),
    Column("ratings", 2.2),
    Column("may", 2.2),
    Column("with the shop", 1.65),
)
NOBODY = "nobody"
GROUPS = (
    ("inspectors", Right.INSPECTOR),
    ("authorised to approve for return to service", Right.AUTHORISED),
)


def roster_paper(people: tuple[Person, ...], station: str, today: date, about: About) -> Document:
    """Return the roster of a day; ``station`` is the number of the station's certificate, empty for a mechanic's."""
    return document("Roster", about, tuple(_blocks(people, station, today)), subject="Roster of the shop")


def _blocks(people: tuple[Person, ...], station: str, today: date) -> Iterator[Block]:
    entries = [Entry("as of", day_words(today))]
    entries += [Entry("repair station certificate", station)] if station else []
    notice = newest_notice(people, today)
    if notice is not None:
        entries.append(Entry("last change", day_words(notice.changed)))
        entries.append(Entry("an older print", f"is out of date after {day_words(notice.by)}"))
    yield Entries(tuple(entries), 2)
    yield Paragraph((Run(SOURCE, quiet=True),), small=True)
    here = [person for person in people if person.is_here(today)]
    yield Entries(tuple(Entry(title, _with_right(here, right)) for title, right in GROUPS))
    yield Table(COLUMNS, tuple(_rows(here, today)), "Everybody with the shop", "Nobody.")
    gone = [person for person in people if not person.is_here(today)]
    if gone:
        yield Table(COLUMNS, tuple(_rows(gone, today)), "Not with the shop today")
    yield Signatures((SignatureBox("Records keeper", "This is the roster of the shop as of the day above."),))


def _with_right(here: Iterable[Person], right: Right) -> str:
    """Name everybody who has a right; certificate and ratings stand in the table of everybody."""
    return ", ".join(f"{person.name} ({person.id})" for person in here if right in person.rights) or NOBODY


def _rows(people: Iterable[Person], today: date) -> Iterator[tuple[str, ...]]:
    for person in people:
        notice = notice_of(person, today)
        is_new = notice is not None and not notice.is_past
        rights = [
            f"{right}, under {person.supervisor}" if right is Right.HELPER else right.value for right in person.rights
        ]
        yield (
            person.id,
            person.name,
            " ".join(part for part in (person.certificate_kind, person.certificate_number) if part),
            person.ratings,
            ", ".join(rights),
            "\n".join((*_times(person), *((f"changed {day_words(notice.changed)}",) if notice and is_new else ()))),
        )


def _times(person: Person) -> tuple[str, ...]:
    """Say from when a person is with the shop, and until when where that is known."""
    return (f"since {day_words(person.since)}", *((f"until {day_words(person.until)}",) if person.until else ()))
