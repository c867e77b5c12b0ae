"""What the forms of what stands on an order around its cards have in common. Each asks for one verb of the shop."""

from dataclasses import dataclass

from desktop.usecases.records.signing.acts import Act
from desktop.usecases.shop.ports import Answer, Request, Shop
from desktop.viewmodels.pieces.entry_form import EntryForm
from desktop.viewmodels.pieces.fields import Field


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

    def act(self, _number: int) -> Act | None:
        """Return what is signed instead in a shop that signs its records; None where nothing is."""
        return None

    def remedy(self, refusal: str) -> str:
        """Return a refusal with the button that leads on, where one does."""
        return refusal

    def is_filled_in(self, field: Field) -> bool:
        """Tell whether Enter may pass a field over."""
        return not self.is_open(field)
