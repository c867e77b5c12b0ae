"""Reading the typed pieces that only limits sheets have: texts, days, windows, gaps, torques, intervals."""

import re
from collections.abc import Callable
from dataclasses import dataclass
from datetime import date
from fractions import Fraction
from typing import TypeVar

from desktop.core.shop.sheets.electronic import electronic_word
from desktop.core.shop.sheets.sheet_choices import Length
from desktop.core.shop.sheets.sheets import SheetDocument, SheetGap, SheetInterval, SheetTorque
from desktop.core.timing.faults import FaultList, found
from desktop.core.timing.readings import Unit

MOST_SIGNS = 200
"""Most signs of a text on a sheet."""
MOST_NOTE_SIGNS = 600
"""Most signs of a note."""
MOST_ENTRIES = 100
"""Most entries of a list."""
MOST_MONTHS = 1200
Entry = TypeVar("Entry")
_DAY = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}")
_OUT_OF_SCOPE = "Electronic ignition is out of scope here: it has no breaker points to time"


@dataclass(frozen=True, slots=True)
class Ends:
    """A least and a most with the paths where they stand."""

    least: str | None
    most: str | None
    where_least: str
    where_most: str


class SheetFaultList(FaultList):
    """Reads a sheet piece by piece and remembers each fault, as a card of readings does."""

    def text(self, text: str | None, where: str, what: str, most: int = MOST_SIGNS) -> None:
        """Ask for a text of visible signs in one line; ``what`` says what belongs there."""
        if text is None or not text.strip():
            self.add(where, f"expected {what}, {found(text)}")
        elif len(text) > most:
            self.add(where, f"expected at most {most} signs, found {len(text)}")
        elif not text.isprintable():
            self.add(where, f"expected visible signs in one line, {found(text)}")

    def names(self, texts: tuple[str, ...] | None, where: str, what: str) -> None:
        """Ask for at least one text, each only once; none may speak of electronic ignition."""
        if not texts:
            self.add(where, f"expected at least one {what}, nothing found")
        seen = self.entries(texts, where)
        for place, text in enumerate(seen, 1):
            self.text(text, f"{where}[{place}]", f"a {what}")
            self.not_electronic(text, f"{where}[{place}]")
            if text in seen[: place - 1]:
                self.add(f"{where}[{place}]", f"expected each {what} once, {found(text)}")

    def entries(self, entries: tuple[Entry, ...] | None, where: str) -> tuple[Entry, ...]:
        """Return the entries that are looked at; a list longer than any sheet needs is a fault, and its rest is not."""
        if entries is not None and len(entries) > MOST_ENTRIES:
            self.add(where, f"expected at most {MOST_ENTRIES} entries, found {len(entries)}")
        return (entries or ())[:MOST_ENTRIES]

    def ignition(self, text: str | None) -> None:
        """Ask for the one kind of ignition that is timed here, and say why there is no other."""
        if text != "magneto":
            scope = "" if text is None else f". {_OUT_OF_SCOPE}"
            self.add("ignition", f'expected "magneto", {found(text)}{scope}')

    def not_electronic(self, text: str | None, where: str) -> None:
        """Remember a fault when a name says electronic ignition."""
        if word := electronic_word(text or ""):
            self.add(where, f"expected a magneto ignition, found {word!r}. {_OUT_OF_SCOPE}")

    def document(self, given: SheetDocument | None) -> None:
        """Ask for the document: title, number, revision, date."""
        if given is None:
            self.add("document", "expected a table [document], nothing found")
            return
        self.text(given.title, "document.title", "the document's title")
        self.not_electronic(given.title, "document.title")
        self.text(given.number, "document.number", "the document's number")
        self.text(given.revision, "document.revision", "the document's revision")
        if not is_day(given.date):
            self.add("document.date", f"expected the document's date such as 2026-02-28, {found(given.date)}")

    def window(self, ends: Ends, nominal: Fraction | None, *, least: int | None = 0) -> None:
        """Ask for both ends of a window or neither, the right way round, with the nominal between them."""
        self.together(ends.least, ends.most, ends.where_least, ends.where_most)
        before = len(self.faults)
        low = self.optional_number(ends.least, ends.where_least, least=least)
        high = self.optional_number(ends.most, ends.where_most, least=least)
        if low is None or high is None or len(self.faults) > before:
            return
        if low > high:
            self.add(ends.where_most, f"expected the least, {ends.least}, or more, {found(ends.most)}")
        elif nominal is not None and nominal < low:
            self.add(ends.where_least, f"expected the nominal or less, {found(ends.least)}")
        elif nominal is not None and nominal > high:
            self.add(ends.where_most, f"expected the nominal or more, {found(ends.most)}")

    def sure(self, text: str | None, where: str, **bounds: int) -> Fraction | None:
        """Read an optional number; None when it is left out or cannot be read."""
        before = len(self.faults)
        value = self.optional_number(text, where, **bounds)
        return None if len(self.faults) > before else value

    def gap(self, given: SheetGap | None, where: str) -> None:
        """Read a gap that may be left out; with one, both limits and the unit are asked for."""
        if given is None:
            return
        for key in ("least", "most"):
            if getattr(given, key) is None:
                self.add(f"{where}.{key}", "expected a number such as 22 or 0.5, nothing found")
        if given.least is not None and given.most is not None:
            self.window(Ends(given.least, given.most, f"{where}.least", f"{where}.most"), None)
        self.choice(given.unit, f"{where}.unit", Length)

    def torques(self, given: tuple[SheetTorque, ...] | None) -> None:
        """Read the fasteners; each is named once."""
        seen = self._not_empty(given, "torque", "fastener")
        for place, one in enumerate(seen, 1):
            where = f"torque[{place}]"
            self.text(one.what, f"{where}.what", "what is tightened")
            if one.what in [other.what for other in seen[: place - 1]] and one.what is not None:
                self.add(f"{where}.what", f"expected each fastener once, {found(one.what)}")
            if one.required is None:
                self.add(f"{where}.required", "expected a number such as 22 or 0.5, nothing found")
            required = self.sure(one.required, f"{where}.required", above=0)
            self.window(Ends(one.least, one.most, f"{where}.least", f"{where}.most"), required)
            self.choice(one.unit, f"{where}.unit", Unit)

    def intervals(self, given: tuple[SheetInterval, ...] | None) -> None:
        """Read what is done again and again: by hours, by months, or by both."""
        for place, one in enumerate(self._not_empty(given, "interval", "interval"), 1):
            where = f"interval[{place}]"
            self.text(one.what, f"{where}.what", "what is done")
            self.optional_number(one.hours, f"{where}.hours", above=0)
            if one.months is not None:
                self.whole(
                    one.months, f"{where}.months", f"a whole number from 1 to {MOST_MONTHS}", _is_a_number_of_months
                )
            if one.hours is None and one.months is None:
                self.add(f"{where}.hours", "expected hours, months or both, nothing found")

    def notes(self, texts: tuple[str, ...] | None, where: str) -> None:
        """Read notes that may be left out."""
        for place, text in enumerate(self._not_empty(texts, where, "note"), 1):
            self.text(text, f"{where}[{place}]", "a note", MOST_NOTE_SIGNS)

    def _not_empty(self, entries: tuple[Entry, ...] | None, where: str, what: str) -> tuple[Entry, ...]:
        if entries is not None and not entries:
            self.add(where, f"expected at least one {what}. Leave the key out while there is none")
        return self.entries(entries, where)


def is_day(text: str | None) -> bool:
    """Tell whether a text is a day of the calendar such as 2026-02-28."""
    if text is None or not _DAY.fullmatch(text):
        return False
    try:
        date.fromisoformat(text)
    except ValueError:
        return False
    return True


def is_from(least: int, most: int) -> Callable[[int], bool]:
    """Return a check whether a whole number lies between two others."""
    return lambda value: least <= value <= most


_is_a_number_of_months = is_from(1, MOST_MONTHS)
