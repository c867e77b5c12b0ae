"""The roster: who is with the shop, with certificate and rights, and whether an older print may still hang."""

from collections.abc import Iterable, Iterator
from datetime import date

from desktop.core.shop.people.people import Person, Right
from desktop.core.shop.people.roster import ROSTER_DAYS, newest_notice, notice_of
from desktop.core.words import day_words
from desktop.usecases.papers.frame import About, document
from reports.document import Block, Column, Document, SignatureBox, Signatures, Table, plain
from reports.document_text import Entries, Entry

SOURCE = f"A change stands on the roster within {ROSTER_DAYS} business days: 14 CFR 145.161(b)."
COLUMNS = (
    Column("initials", 0.8),
    Column("name", 1.25),
    Column("certificate", 1.25),
    Column("ratings", 1.7),
    Column("may", 1.4),
    Column("since", 1.28),
    Column("until", 1.28),
    Column("", 1.04),
)
GROUPS = (
    ("Inspectors", Right.INSPECTOR),
    ("Authorised to approve for return to service", Right.AUTHORISED),
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
    here = [person for person in people if person.is_here(today)]
    for title, right in GROUPS:
        rows = (person for person in here if right in person.rights)
        yield Table(COLUMNS, tuple(_rows(rows, today)), title, "Nobody.")
    yield Table(COLUMNS, tuple(_rows(here, today)), "Everybody with the shop", "Nobody.")
    gone = [person for person in people if not person.is_here(today)]
    if gone:
        yield Table(COLUMNS, tuple(_rows(gone, today)), "Not with the shop today")
    yield plain(SOURCE, quiet=True)
    yield Signatures((SignatureBox("Records keeper", "This is the roster of the shop as of the day above."),))


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
            day_words(person.since),
            day_words(person.until) if person.until else "",
            f"changed {day_words(notice.changed)}" if notice and is_new else "",
        )
