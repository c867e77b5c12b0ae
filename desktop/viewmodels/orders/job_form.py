"""The form that issues cards: a job or a single card, its limits sheets, their documents, and the mechanic."""

from PySide6.QtCore import QObject

from desktop.core.shop.cards.task_card import TaskCard
from desktop.core.shop.orders.order import WorkOrder
from desktop.core.shop.people.people import Right
from desktop.core.shop.sheets.sheet_choices import SheetKind
from desktop.core.shop.sheets.sheets import Sheet, document_words
from desktop.core.timing.faults import Fault
from desktop.usecases.shop.cards.issue_job import NewJob, cards_of, issue_job, sheets_that_fit
from desktop.usecases.shop.lists.sheets import list_sheets
from desktop.usecases.shop.ports import Answer, Request, Shop
from desktop.viewmodels.orders.around_form import AroundForm, FormWords
from desktop.viewmodels.pieces.fields import Field, Group, Kind, choice

JOB, CARD = "job:", "card:"
PLACES = ("engine", "left", "right")
CURRENT = Field("is_current", "I confirmed that the revision of each document is current", Kind.TICK, optional=True)
PLATE = "Data plate of the "
"""How a refusal begins that is about a plate."""
TO_THE_PLATES = 'The plates are written at the order, with the button "Intake…".'
NO_SHEETS = "No limits sheet is chosen: the mechanic types engine and limits on the card."


class JobForm(AroundForm):
    """What is issued on an order. The sheets are proposed by the names on the data plates; they can be changed.

    Making it raises Refusal when a limits sheet is damaged.
    """

    words = FormWords(
        "Issue the cards of a job",
        "The cards are frozen as they are issued, with the limits sheets that they are issued with.",
        "Issue the cards",
        "Issued.",
    )

    def __init__(
        self, shop: Shop, cards: tuple[TaskCard, ...], order: WorkOrder, parent: QObject | None = None
    ) -> None:
        super().__init__(parent)
        self._shop, self._cards, self._order = shop, cards, order
        self._sheets = _current_sheets(shop)
        jobs = tuple((f"{JOB}{job.id}", f"{job.title} ({len(job.cards)} cards)") for job in shop.jobs)
        single = tuple((f"{CARD}{card.id}", f"{card.id}  {card.title}") for card in sorted(cards, key=_in_order))
        today = shop.clock.now().date()
        hands = tuple(
            (one.id, f"{one.name} ({one.id})")
            for one in shop.store.people()
            if one.is_here(today) and one.holds_one_of((Right.MECHANIC, Right.HELPER))
        )
        self.columns = (
            (
                Group(
                    "What is issued",
                    (
                        choice("what", "Job or card", (*jobs, *single), hint="needed"),
                        choice("mechanic", "Given to", hands, optional=True, hint="or to anybody"),
                    ),
                ),
            ),
            (
                Group(
                    "Limits sheets",
                    (*(self._sheet_field(place) for place in PLACES), CURRENT),
                ),
            ),
        )
        proposed = dict(sheets_that_fit(self._sheets, order))
        self.begin({f"sheet.{place}": sheet for place, sheet in proposed.items()}, 0)

    def documents(self) -> tuple[str, ...]:
        """Return the documents behind the chosen sheets, one line each."""
        return tuple(
            dict.fromkeys(
                f"{document_words(sheet)} (sheet {sheet.id}, revision {sheet.revision}"
                f"{', invented data' if sheet.invented else ''})"
                for sheet in self._chosen()
            )
        )

    def is_filled_in(self, field: Field) -> bool:
        """Tell whether Enter may pass a field over: a sheet that was proposed, and the tick where there is none."""
        if field == CURRENT:
            return not self._chosen()
        return field.path.startswith("sheet.") and (bool(self.text(field.path)) or not field.choices)

    def remedy(self, refusal: str) -> str:
        """Name the button that leads to the plates when one of them keeps the cards from being issued."""
        return f"{refusal} {TO_THE_PLATES}" if PLATE in refusal else refusal

    def new_job(self) -> NewJob:
        """Return what is issued. Raise Refusal when the shop lacks a card of the job."""
        what = self.text("what")
        job = next((one for one in self._shop.jobs if what == f"{JOB}{one.id}"), None)
        single = tuple(card for card in self._cards if what == f"{CARD}{card.id}")
        return NewJob(
            cards=cards_of(job, self._cards) if job else single,
            job=job.id if job else "",
            sheets=tuple((place, sheet) for place in PLACES if (sheet := self.text(f"sheet.{place}"))),
            is_current=self.values.get(CURRENT.path) is True,
            mechanic=self.text("mechanic"),
            left_out=tuple(one.side for one in self._order.left_out),
        )

    def verb(self, shop: Shop, request: Request, number: int) -> Answer:
        """Issue the cards."""
        return issue_job(shop, request, number, self.new_job())

    def own_faults(self) -> tuple[Fault, ...]:
        """Say what is missing, each at its field."""
        faults = (
            (not self.text("what"), "what", "Choose a job, or a single card."),
            (
                bool(self._chosen()) and self.values.get(CURRENT.path) is not True,
                CURRENT.path,
                "Look the documents up, and confirm that each revision is the current one.",
            ),
        )
        return tuple(Fault(where, words) for is_so, where, words in faults if is_so)

    def _sheet_field(self, place: str) -> Field:
        kind = SheetKind.ENGINE if place == "engine" else SheetKind.MAGNETO
        choices = tuple((sheet.id, sheet.id) for sheet in self._sheets if sheet.kind is kind)
        label = "Engine" if place == "engine" else f"{place.capitalize()} magneto"
        hint = "" if choices else "none is compared yet"
        return choice(f"sheet.{place}", label, choices, optional=True, hint=hint)

    def _chosen(self) -> tuple[Sheet, ...]:
        wanted = {self.text(f"sheet.{place}") for place in PLACES}
        return tuple(sheet for sheet in self._sheets if sheet.id in wanted)


def _in_order(card: TaskCard) -> tuple[str, int, str]:
    """Return how cards follow each other: by letter, then by number, so that T10 stands after T9."""
    letters = card.id.rstrip("0123456789")
    return letters, int(card.id[len(letters) :] or 0), card.id


def _current_sheets(shop: Shop) -> tuple[Sheet, ...]:
    """Return the current revision of each sheet that has one. Raise Refusal for one that is damaged."""
    found = (shop.store.newest_sheet(line.id) for line in list_sheets(shop.store) if line.current)
    return tuple(sheet for sheet in found if sheet is not None)
