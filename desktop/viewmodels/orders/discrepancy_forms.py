"""The forms of a discrepancy: what was found, and how it ended."""

from PySide6.QtCore import QObject

from desktop.core.shop.orders.discrepancies import CustomerWord, Discrepancy, Outcome
from desktop.core.timing.faults import Fault
from desktop.usecases.shop.orders.discrepancies import add_discrepancy, settle_discrepancy
from desktop.usecases.shop.ports import Answer, Request, Shop
from desktop.viewmodels.orders.around_form import AroundForm, FormWords
from desktop.viewmodels.pieces.fields import Field, Group, choice


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
