"""The forms of what stands on an order around its cards. Each asks for one verb of the shop."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from PySide6.QtCore import QObject

from desktop.core.shop.aircraft.directives import Directive, Subject, directive_troubles, search_troubles
from desktop.core.shop.aircraft.parts import Part, Way, part_troubles
from desktop.core.shop.orders.discrepancies import CustomerWord, Discrepancy, Outcome
from desktop.core.shop.orders.order import WorkOrder
from desktop.core.shop.orders.time_booked import MOST_MINUTES
from desktop.core.shop.people.people import Person
from desktop.core.shop.reasons import is_reason
from desktop.core.timing.faults import Fault
from desktop.core.timing.readings import Side
from desktop.usecases.shop.book import add_part, book_time
from desktop.usecases.shop.cards.leave_out import leave_out
from desktop.usecases.shop.orders.discrepancies import add_discrepancy, settle_discrepancy
from desktop.usecases.shop.orders.record_directive import record_directive, record_search
from desktop.usecases.shop.ports import Answer, Request, Shop
from desktop.viewmodels.pieces.entry_form import EntryForm
from desktop.viewmodels.pieces.fields import Field, Group, Kind, choice, words_of
from desktop.viewmodels.pieces.typed_dates import typed_day

MINUTES_IN_HOUR = 60


@dataclass(frozen=True, slots=True)
class FormWords:
    """What a form's page says: its title, its task, and the button that keeps it."""

    title: str
    task: str
    act: str
    said: str


class AroundForm(EntryForm):
    """A form about an order; ``verb`` keeps what it says."""

    words = FormWords("", "", "", "")

    def verb(self, shop: Shop, request: Request, number: int) -> Answer:
        """Ask for what the form says. Raise Refusal when it cannot be done."""
        raise NotImplementedError

    def is_filled_in(self, field: Field) -> bool:
        """Tell whether Enter may pass a field over."""
        return not self.is_open(field)


class DiscrepancyForm(AroundForm):
    """A discrepancy that was found."""

    words = FormWords("A discrepancy", "What was found, and where. It gets the next number.", "Add it", "Added.")
    columns = ((Group("Discrepancy", (Field("found", "What was found", hint="needed"),)),),)

    def verb(self, shop: Shop, request: Request, number: int) -> Answer:
        """Add the discrepancy."""
        return add_discrepancy(shop, request, number, self.text("found"))

    def own_faults(self) -> tuple[Fault, ...]:
        """Say that nothing is written."""
        return () if self.text("found") else (Fault("found", "Nothing is written. Write what was found, and where."),)


OUTCOMES = tuple((one.value, one.value) for one in Outcome)


class SettleForm(AroundForm):
    """How an open discrepancy ended, with the customer's word where there is one."""

    words = FormWords("Settle a discrepancy", "", "Settle it", "Settled.")
    columns = (
        (
            Group(
                "How it ended",
                (
                    choice("outcome", "It is", OUTCOMES, hint="needed"),
                    Field("words", "What was done", hint="or until when, or what was said"),
                ),
            ),
        ),
        (
            Group(
                "The customer's word, for extra work",
                (
                    Field("who", "Who said so", optional=True, hint="needed when it is declined"),
                    Field("how_much", "For how much", optional=True),
                ),
            ),
        ),
    )

    def __init__(self, discrepancy: Discrepancy, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.discrepancy = discrepancy
        self.words = FormWords(
            f"Discrepancy {discrepancy.number}: {discrepancy.found}",
            "Closed: it was put right. Deferred: it is put off. Declined: the customer does not want it done.",
            "Settle it",
            f"Discrepancy {discrepancy.number} is settled.",
        )

    def verb(self, shop: Shop, request: Request, number: int) -> Answer:
        """Settle the discrepancy; the customer's word is of this moment."""
        who = self.text("who")
        spoke = CustomerWord(who, shop.clock.now().replace(microsecond=0), self.text("how_much")) if who else None
        return settle_discrepancy(
            shop, request, number, self.discrepancy.number, Outcome(self.text("outcome")), self.text("words"), spoke
        )

    def own_faults(self) -> tuple[Fault, ...]:
        """Say what is missing."""
        declined = self.text("outcome") == Outcome.DECLINED
        faults = (
            (not self.text("outcome"), "outcome", "Choose what became of it."),
            (not self.text("words"), "words", "It is not said how. Write what was done, or what was said."),
            (declined and not self.text("who"), "who", "Only the customer declines. Write who said so."),
            (bool(self.text("how_much")) and not self.text("who"), "who", "Write who spoke for the customer."),
        )
        return tuple(Fault(where, words) for is_so, where, words in faults if is_so)


class PartForm(AroundForm):
    """A part off or on."""

    words = FormWords("A part off or on", "With its paper; a removed part has its tag.", "Add the part", "Added.")
    columns = (
        (
            Group(
                "Part",
                (
                    choice("way", "Off or on", words_of(Way), hint="needed"),
                    Field("number", "Part number", hint="needed"),
                    Field("name", "Name", optional=True),
                    Field("serial", "Serial or batch", optional=True),
                ),
            ),
        ),
        (
            Group(
                "Papers",
                (
                    Field("quantity", "Quantity"),
                    Field("paper", "Paper", optional=True, hint="needed for a part that goes on"),
                    Field("tag", "Tag of the removed part", optional=True),
                ),
            ),
        ),
    )

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.begin({"quantity": "1"}, 0)

    def part(self) -> Part:
        """Return the part that the form says."""
        names = ("number", "name", "serial", "quantity", "paper", "tag")
        return Part(Way(self.text("way") or Way.OFF), **{name: self.text(name) for name in names})

    def verb(self, shop: Shop, request: Request, number: int) -> Answer:
        """Add the part."""
        return add_part(shop, request, number, self.part())

    def own_faults(self) -> tuple[Fault, ...]:
        """Say what is missing, each at its field."""
        where = {"The part has no number": "number", "The quantity": "quantity", "A part that goes on": "paper"}
        faults = [] if self.text("way") else [Fault("way", "Choose whether it came off or went on.")]
        for words in part_troubles(self.part()):
            faults += [Fault(path, words) for begin, path in where.items() if words.startswith(begin)]
        return tuple(faults)


class SearchForm(AroundForm):
    """A search for directives."""

    words = FormWords(
        "A directive search",
        "Who looked, and when, is written down by itself: you, now.",
        "Record the search",
        "The search is recorded.",
    )
    columns = (
        (Group("Looked in", (Field("looked_in", "The list or service", hint="needed, with its date"),)),),
        (
            Group(
                "Looked for",
                tuple(Field(f"for.{one}", one.capitalize(), Kind.TICK, optional=True) for one in Subject),
            ),
        ),
    )

    def subjects(self) -> tuple[Subject, ...]:
        """Return what was looked for."""
        return tuple(one for one in Subject if self.values.get(f"for.{one}") is True)

    def verb(self, shop: Shop, request: Request, number: int) -> Answer:
        """Record the search."""
        return record_search(shop, request, number, self.text("looked_in"), self.subjects())

    def own_faults(self) -> tuple[Fault, ...]:
        """Say what is missing, each at its field."""
        troubles = search_troubles(self.text("looked_in"), self.subjects())
        return tuple(
            Fault("looked_in" if words.startswith("It is not said where") else f"for.{Subject.ENGINE}", words)
            for words in troubles
        )


class DirectiveForm(AroundForm):
    """A directive complied with."""

    words = FormWords("A directive complied with", "As the directive has it.", "Record it", "Recorded.")
    columns = (
        (
            Group(
                "Directive",
                (
                    Field("number", "Number", hint="needed"),
                    Field("amendment", "Amendment", optional=True),
                    Field("dated", "Dated", optional=True),
                    choice("subject", "It is about", words_of(Subject)),
                    Field("serial", "Serial number", optional=True, hint="of the engine or magneto"),
                ),
            ),
        ),
        (
            Group(
                "How it was complied with",
                (
                    Field("method", "Method", hint="needed"),
                    Field("done_on", "Done on", hint="needed, such as 1 Dec 2026"),
                    Field("recurring", "It recurs", Kind.TICK, optional=True),
                    Field("next_due_hours", "Next due at", unit="h", optional=True),
                    Field("next_due_on", "Next due on", optional=True),
                ),
            ),
        ),
    )
    days = ("dated", "done_on", "next_due_on")

    def __init__(self, today: date, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._today = today
        self.begin({"done_on": today.isoformat(), "subject": Subject.MAGNETO.value}, 0)

    def directive(self) -> Directive:
        """Return the directive that the form says."""
        recurs = self.values.get("recurring") is True
        return Directive(
            number=self.text("number"),
            done_on=typed_day(self.text("done_on")) or self._today,
            method=self.text("method"),
            amendment=self.text("amendment"),
            dated=typed_day(self.text("dated")),
            subject=Subject(self.text("subject") or Subject.MAGNETO),
            serial=self.text("serial"),
            recurring=recurs,
            next_due_hours=self.text("next_due_hours") if recurs else "",
            next_due_on=typed_day(self.text("next_due_on")) if recurs else None,
        )

    def is_filled_in(self, field: Field) -> bool:
        """Tell whether Enter may pass a field over: the next time of one that does not recur."""
        return field.path.startswith("next_due") and self.values.get("recurring") is not True

    def verb(self, shop: Shop, request: Request, number: int) -> Answer:
        """Record the directive."""
        return record_directive(shop, request, number, self.directive())

    def own_faults(self) -> tuple[Fault, ...]:
        """Say what is missing, each at its field."""
        where = {
            "The directive has no number": "number",
            "The method": "method",
            "A recurring directive": "next_due_hours",
            "The hours": "next_due_hours",
        }
        faults = [] if self.text("done_on") else [Fault("done_on", "Write the day on which it was done.")]
        for words in directive_troubles(self.directive()):
            faults += [Fault(path, words) for begin, path in where.items() if words.startswith(begin)]
        due = self.text("next_due_hours") or self.text("next_due_on")
        if due and self.values.get("recurring") is not True:
            faults.append(
                Fault("recurring", "It is due again and does not recur. Tick this, or take the next time away.")
            )
        return tuple(faults)


class TimeForm(AroundForm):
    """Time that somebody worked."""

    words = FormWords("Time booked", "Hours and minutes such as 1:30, or minutes such as 90.", "Book it", "Booked.")

    def __init__(self, people: Sequence[Person], person_id: str, parent: QObject | None = None) -> None:
        super().__init__(parent)
        who = tuple((one.id, f"{one.name} ({one.id})") for one in people)
        fields = (
            choice("person", "Who", who),
            Field("time", "How long", hint="needed, such as 1:30"),
            Field("what", "For what", optional=True),
        )
        self.columns = ((Group("Time", fields),),)
        self.begin({"person": person_id}, 0)

    def is_filled_in(self, field: Field) -> bool:
        """Tell whether Enter may pass a field over: who, where it is known."""
        return field.path == "person" and bool(self.text("person"))

    def minutes(self) -> int | None:
        """Return the minutes that were typed; None when they cannot be read."""
        hours, colon, minutes = self.text("time").partition(":")
        if not (hours.isdecimal() and hours.isascii()) or (colon and not (minutes.isdecimal() and minutes.isascii())):
            return None
        if colon and (len(minutes) != 2 or int(minutes) >= MINUTES_IN_HOUR):  # noqa: PLR2004 - two digits
            return None
        total = int(hours[:6]) * MINUTES_IN_HOUR + int(minutes) if colon else int(hours[:6])
        return total if 1 <= total <= MOST_MINUTES else None

    def note_at(self, field: Field) -> str:
        """Return how the time was read."""
        minutes = self.minutes() if field.path == "time" else None
        if minutes is None:
            return super().note_at(field)
        return f"{minutes // MINUTES_IN_HOUR} h {minutes % MINUTES_IN_HOUR:02d} min"

    def verb(self, shop: Shop, request: Request, number: int) -> Answer:
        """Book the time."""
        return book_time(shop, request, number, self.text("person"), self.minutes() or 0, self.text("what"))

    def own_faults(self) -> tuple[Fault, ...]:
        """Say what is missing, each at its field."""
        faults = (
            (not self.text("person"), "person", "Choose who worked."),
            (self.minutes() is None, "time", "Write one minute to 24 hours, such as 1:30 or 90."),
        )
        return tuple(Fault(where, words) for is_so, where, words in faults if is_so)


class LeaveOutForm(AroundForm):
    """A magneto that is no part of the job, with the reason that is printed."""

    words = FormWords(
        "Leave a magneto out of the job", "The reason is printed with the work.", "Leave it out", "Left out."
    )

    def __init__(self, order: WorkOrder, parent: QObject | None = None) -> None:
        super().__init__(parent)
        fields = (
            choice("side", "Magneto", words_of(Side), hint="needed"),
            Field("reason", "Reason", hint="needed, in a sentence"),
        )
        self.columns = ((Group("Left out", fields),),)
        first = order.left_out[0] if order.left_out else None
        self.begin({"side": first.side.value, "reason": first.reason} if first else {}, 0)

    def verb(self, shop: Shop, request: Request, number: int) -> Answer:
        """Leave the magneto out."""
        return leave_out(shop, request, number, Side(self.text("side")), self.text("reason"))

    def own_faults(self) -> tuple[Fault, ...]:
        """Say what is missing, each at its field."""
        faults = (
            (not self.text("side"), "side", "Choose the magneto."),
            (
                not is_reason(self.text("reason")),
                "reason",
                "A magneto is left out for a reason. Write it in a sentence.",
            ),
        )
        return tuple(Fault(where, words) for is_so, where, words in faults if is_so)
