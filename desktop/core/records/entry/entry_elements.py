"""What a maintenance entry must hold, each element as data with its source; nothing is signed while one is missing.

The rules ask for a signature too: it is the record's, and stands in no text. Paragraph numbers that nobody could look
up here are marked "from memory". FAA-H-8083-30B tells sections 43.9 and 43.11 on pp. 2-16 and 2-17.
"""

from collections.abc import Callable
from dataclasses import dataclass, fields, is_dataclass
from operator import attrgetter
from typing import TypeAlias

from desktop.core.records.entry.entry_parts import Entry, EntryKind, EntryWording
from desktop.core.shop.cards.text_limits import text_trouble

MEMORY = "paragraph number from memory"
WORK = f"14 CFR 43.9(a)(1), {MEMORY}"
DATE = "14 CFR 43.9(a)(2)"
DOER = f"14 CFR 43.9(a)(3), {MEMORY}"
APPROVER = f"14 CFR 43.9(a)(4), {MEMORY}"
ONLY = "14 CFR 43.9, told in FAA-H-8083-30B p. 2-16"
TYPE = f"14 CFR 43.11(a)(1), {MEMORY}"
DATE_AND_TIME = f"14 CFR 43.11(a)(2), {MEMORY}"
INSPECTOR = f"14 CFR 43.11(a)(3), {MEMORY}"
AIRWORTHY = f"14 CFR 43.11(a)(4), {MEMORY}"
NOT_AIRWORTHY = f"14 CFR 43.11(a)(5), {MEMORY}"
LIST = f"14 CFR 43.11(b), {MEMORY}"
DATA = "14 CFR 43.13(a), told in FAA-H-8083-30B pp. 2-17 to 2-19"
STATION = "14 CFR 145.219(a); what it names is from memory, after part 43 appendix B(b)"
PRACTICE = "common practice, no source"

Applies: TypeAlias = Callable[[Entry], bool]


@dataclass(frozen=True, slots=True)
class Element:
    """One thing that an entry must hold: what it is in words, its source, when it is asked for.

    ``place`` is where it stands in the entry, such as ``facts.completed``; everything there must say something.
    """

    words: str
    source: str
    applies: Applies
    place: str

    def is_missing(self, entry: Entry) -> bool:
        """Tell whether it is asked for and is not there."""
        return self.applies(entry) and _says_nothing(attrgetter(self.place)(entry))


def missing_elements(entry: Entry) -> tuple[str, ...]:
    """Say each required element that is missing, with its source in brackets; nothing for a whole entry.

    That a paragraph's number is from memory stands here in the code, and not before the approver.
    """
    return tuple(f"{one.words} ({one.source.removesuffix(f', {MEMORY}')})" for one in missing(entry))


def missing(entry: Entry) -> tuple[Element, ...]:
    """Return each required element that is missing."""
    return tuple(element for element in ELEMENTS if element.is_missing(entry))


def wording_troubles(wording: EntryWording) -> tuple[str, ...]:
    """Say what keeps a wording from being signed as it was typed: a text that is too long, or an invisible sign."""
    trouble = text_trouble(wording)
    return (trouble,) if trouble else ()


def wording_warnings(entry: Entry) -> tuple[str, ...]:
    """Say what the approver should look at again: words that the rules keep for more than a timing job.

    14 CFR 43.2, told in FAA-H-8083-30B p. 2-14: "overhauled" and "rebuilt" stand for a whole of work and tests.
    """
    text = f"{entry.wording.work} {entry.wording.extent} {entry.wording.remarks}".casefold()
    return tuple(
        f'The wording says "{word}". By 14 CFR 43.2 that is written only after disassembly, cleaning, inspection, '
        "repair as needed, reassembly and test. Take the word out unless all of that was done and recorded."
        for word in ("overhaul", "rebuil")
        if word in text
    )


def _always(_entry: Entry) -> bool:
    return True


def _maintenance(entry: Entry) -> bool:
    return entry.facts.kind is EntryKind.MAINTENANCE


def _inspection(entry: Entry) -> bool:
    return entry.facts.kind is EntryKind.INSPECTION


def _airworthy(entry: Entry) -> bool:
    return _inspection(entry) and entry.facts.approves


def _not_airworthy(entry: Entry) -> bool:
    return _inspection(entry) and not entry.facts.approves


def _not_approved(entry: Entry) -> bool:
    return not entry.facts.approves


def _station(entry: Entry) -> bool:
    return entry.facts.shop.is_station


def _timed(entry: Entry) -> bool:
    return bool(entry.facts.timing)


def _says_nothing(value: object) -> bool:
    """Tell whether a text has no letter or digit; a list or table, whether it or anything in it says nothing."""
    if isinstance(value, str):
        return not any(sign.isalnum() for sign in value)
    if isinstance(value, tuple):
        return not value or any(map(_says_nothing, value))
    if is_dataclass(value):
        return any(_says_nothing(getattr(value, one.name)) for one in fields(value))
    return value is None


_NUMBER, _KIND, _NAME = "number of the approver's certificate", "kind of the approver's certificate", "approver's name"
_WORDED = "as the shop words it"
_ABOUT = "facts.aircraft."
_BY = "facts.approver."

ELEMENTS: tuple[Element, ...] = (
    Element("description of the work", WORK, _always, "wording.work"),
    Element("data that the work followed, with revision", DATA, _always, "facts.data"),
    Element("date on which the work was completed", DATE, _maintenance, "facts.completed"),
    Element("name of who did the work", DOER, _always, "facts.done_by"),
    Element(_NAME, APPROVER, _maintenance, f"{_BY}name"),
    Element(_NUMBER, APPROVER, _maintenance, f"{_BY}certificate_number"),
    Element(_KIND, APPROVER, _maintenance, f"{_BY}certificate_kind"),
    Element("statement that it is about the work performed only", ONLY, _always, "facts.only_work"),
    Element("type of the inspection", TYPE, _inspection, "wording.inspection_type"),
    Element("extent of the inspection", TYPE, _inspection, "wording.extent"),
    Element("date of the inspection", DATE_AND_TIME, _inspection, "facts.completed"),
    Element("total time in service", DATE_AND_TIME, _inspection, f"{_ABOUT}total_time"),
    Element(_NAME, INSPECTOR, _inspection, f"{_BY}name"),
    Element(_NUMBER, INSPECTOR, _inspection, f"{_BY}certificate_number"),
    Element(_KIND, INSPECTOR, _inspection, f"{_BY}certificate_kind"),
    Element(f"certifying statement for airworthy, {_WORDED}", AIRWORTHY, _airworthy, "wording.statement"),
    Element(f"certifying statement for not airworthy, {_WORDED}", NOT_AIRWORTHY, _not_airworthy, "wording.statement"),
    Element("dated list of discrepancies for the owner", LIST, _not_approved, "facts.discrepancies"),
    Element("number of the work order", STATION, _station, "facts.order"),
    Element("name of the repair station", STATION, _station, "facts.shop.name"),
    Element("certificate number of the repair station", STATION, _station, "facts.shop.station_certificate"),
    Element("registration of the aircraft", PRACTICE, _always, f"{_ABOUT}registration"),
    Element("serial number of the engine", PRACTICE, _always, f"{_ABOUT}engine_serial"),
    Element("position of the engine", PRACTICE, _always, f"{_ABOUT}engine_position"),
    Element("log in which the entry belongs", PRACTICE, _always, f"{_ABOUT}log"),
    Element("total time of the aircraft", PRACTICE, _maintenance, f"{_ABOUT}total_time"),
    Element("timing of each magneto as found and as left, with limits", PRACTICE, _timed, "facts.timing"),
)
"""Everything that an entry must hold, in the order of the rules."""
