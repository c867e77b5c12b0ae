"""The tables of a card's file. A key that the form does not have is a fault."""

import msgspec


class Table(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A table of a card's file."""


class BoxTable(Table, frozen=True):
    """A box before a step."""

    kind: str
    hazard: str
    text: str
    only: tuple[str, ...] = ()


class SayTable(Table, frozen=True):
    """A part of a description that stands there for some jobs only."""

    text: str
    only: tuple[str, ...]


class StepTable(Table, frozen=True):
    """A step. With `each = "side"` it is made into one for the left and one for the right, and `{side}` becomes that.

    With `each = "magneto"` it is made so too, but two breakers in one housing have one step, and `{magneto}` becomes
    "left magneto", "right magneto" or "housing". A run of such steps, as far as the next use or other
    step, is worked through for the left first.
    """

    id: str
    instruction: str
    capture: str
    only: tuple[str, ...] = ()
    description: str = ""
    initials: bool = False
    inspector: bool = False
    board: str = ""
    section: str = ""
    choices: tuple[str, ...] = ()
    stops: tuple[str, ...] = ()
    unit: str = ""
    limit: str = ""
    side: str = ""
    second: bool = False
    may_skip: bool = False
    each: str = ""
    say: tuple[SayTable, ...] = ()
    box: tuple[BoxTable, ...] = ()


class UseTable(Table, frozen=True):
    """Sections of another card, used here before an own step (`before`), or after all of them where it names none.

    `only` is asked of each of their steps too. `whole`: they stand here whatever other cards of the order do.
    """

    card: str
    sections: tuple[str, ...]
    before: str = ""
    only: tuple[str, ...] = ()
    whole: bool = False


class CardTable(Table, frozen=True):
    """A card; one without a scheme has that of the first card that it uses."""

    id: str
    revision: int
    title: str
    applies: str
    scheme: str = ""
    step: tuple[StepTable, ...] = ()
    use: tuple[UseTable, ...] = ()
