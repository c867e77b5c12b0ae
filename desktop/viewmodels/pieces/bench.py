"""What the windows of a shop are given besides its file: signing, the task cards, and files of limits sheets."""

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from desktop.core.shop.cards.task_card import TaskCard
from desktop.core.shop.sheets.sheets import Sheet
from desktop.usecases.records.keys.signing_desk import SigningDesk
from desktop.usecases.records.signing.ports import SigningStore
from desktop.viewmodels.pieces.record_errands import Check, Export, PrintRecord


@dataclass(frozen=True, slots=True)
class Signing:
    """Where records are signed, and the file that holds them."""

    desk: SigningDesk
    store: SigningStore

    @property
    def has_records(self) -> bool:
        """Whether the shop signs its records: once one stands, every later one is signed."""
        return self.store.records().last_envelope() is not None


@dataclass(frozen=True, slots=True)
class Bench:
    """What a window works with. ``read_sheet`` and ``write_sheet`` raise Refusal when a file cannot be used.

    ``signing`` is None in a shop in memory, where nobody signs.
    """

    cards: tuple[TaskCard, ...]
    signing: Signing | None = None
    read_sheet: Callable[[Path], Sheet] | None = None
    write_sheet: Callable[[Path, Sheet], None] | None = None
    check: Check | None = None
    export: Export | None = None
    print_record: PrintRecord | None = None

    @property
    def signs(self) -> Signing | None:
        """Return where is signed when the shop signs its records; None in a shop that signs on paper."""
        return self.signing if self.signing is not None and self.signing.has_records else None
