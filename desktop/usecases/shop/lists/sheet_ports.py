"""What the verbs of limits sheets need from the shop file, inside a transaction or outside of one."""

from typing import Protocol

from desktop.core.shop.sheets.sheet_life import SheetLife
from desktop.core.shop.sheets.sheet_pin import SheetPin
from desktop.core.shop.sheets.sheets import Sheet


class SheetAsked(Protocol):
    """Answers what is asked about limits sheets."""

    def sheet_life(self, sheet_id: str) -> SheetLife | None:
        """Return the newest revision of a sheet, a draft or not, with what was done to it."""
        ...

    def sheet_lives(self) -> tuple[SheetLife, ...]:
        """Return the newest revision of every sheet, by id."""
        ...

    def sheet_pins(self, sheet_id: str) -> tuple[SheetPin, ...]:
        """Return the compared revisions of a sheet, the oldest first; the last is the current one."""
        ...

    def pinned_sheet(self, pin: SheetPin) -> Sheet:
        """Return a compared revision of a limits sheet; raise Refusal when it is not as it was pinned."""
        ...

    def newest_sheet(self, sheet_id: str) -> Sheet | None:
        """Return the newest compared revision of a limits sheet."""
        ...


class SheetWork(SheetAsked, Protocol):
    """Keeps limits sheets inside a transaction."""

    def put_sheet_life(self, life: SheetLife) -> None:
        """Keep a sheet as it is worked on; its version is one more than the kept one, else ValueError."""
        ...

    def put_compared_sheet(self, sheet: Sheet) -> SheetPin:
        """Keep a compared revision for ever, exactly as it is, and return its pin."""
        ...
