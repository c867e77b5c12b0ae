"""The forms of directives: the search for them, and one that was complied with."""

from datetime import date

from PySide6.QtCore import QObject

from desktop.core.shop.aircraft.directives import Directive, Subject, directive_troubles, search_troubles
from desktop.core.timing.faults import Fault
from desktop.usecases.shop.orders.record_directive import record_directive, record_search
from desktop.usecases.shop.ports import Answer, Request, Shop
from desktop.viewmodels.orders.around_form import AroundForm, FormWords
from desktop.viewmodels.pieces.fields import Field, Group, Kind, choice, words_of
from desktop.viewmodels.pieces.typed_dates import typed_day


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
