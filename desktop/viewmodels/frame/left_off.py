"""Where a window was left is kept by somebody's own machine."""

from typing import Protocol

from desktop.core.left_off import LeftOff


class Memory(Protocol):
    """Keeps where somebody left off; it never raises Refusal."""

    def read(self) -> LeftOff:
        """Return where somebody left off; the beginning where nothing was kept."""
        ...

    def write(self, left_off: LeftOff) -> None:
        """Keep it."""
        ...
