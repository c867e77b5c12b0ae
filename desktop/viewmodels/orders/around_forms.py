"""The forms of what is booked on an order, left out of it, and of ending it. Each asks for one verb of the shop."""

from collections.abc import Sequence

from PySide6.QtCore import QObject

from desktop.core.records.record import RecordKind
from desktop.core.shop.aircraft.parts import Part, Way, part_troubles
from desktop.core.shop.orders.order import WorkOrder
from desktop.core.shop.orders.time_booked import MOST_MINUTES
from desktop.core.shop.people.people import Person
from desktop.core.shop.reasons import is_reason
from desktop.core.timing.faults import Fault
from desktop.core.timing.readings import Side
from desktop.usecases.records.signing.acts import Act
from desktop.usecases.shop.book import add_part, book_time
from desktop.usecases.shop.cards.leave_out import leave_out
from desktop.usecases.shop.orders.void_order import void_order
from desktop.usecases.shop.ports import Answer, Request, Shop
from desktop.viewmodels.orders.around_form import AroundForm, FormWords
from desktop.viewmodels.pieces.fields import Field, Group, choice, words_of

MINUTES_IN_HOUR = 60


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


class VoidForm(AroundForm):
    """An order that ends before it is approved, with the reason that every later print shows."""

    columns = ((Group("Void", (Field("reason", "Reason", hint="needed, in a sentence"),)),),)

    def __init__(self, name: str, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.words = FormWords(
            "Void the order",
            "The order ends here. Nothing is erased, and its number is not used again. The reason is printed with it.",
            "Void the order",
            f"{name} is void.",
        )

    def verb(self, shop: Shop, request: Request, number: int) -> Answer:
        """Void the order."""
        return void_order(shop, request, number, self.text("reason"))

    def act(self, number: int) -> Act | None:
        """Return what is signed in a shop that signs."""
        return Act(RecordKind.VOID, number, reason=self.text("reason"))

    def own_faults(self) -> tuple[Fault, ...]:
        """Say that the reason is missing."""
        words = "An order is made void for a reason. Write it in a sentence."
        return () if is_reason(self.text("reason")) else (Fault("reason", words),)
