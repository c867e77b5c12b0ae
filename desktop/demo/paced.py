"""The demo while somebody waits for it: how far it is, and a way to stop it."""

from desktop.core.errors import Refusal
from desktop.demo.fixed import FixedIds
from desktop.usecases.records.copies.copy_ports import Pace

ALL_REQUESTS = 1410
"""About how many requests the demo's shop takes."""
EVERY = 10


class PacedIds(FixedIds):
    """The ids of the demo; every tenth says how far it is. Raise Refusal when it is to stop."""

    def __init__(self, pace: Pace) -> None:
        super().__init__()
        self._pace = pace

    def __call__(self) -> str:
        """Return the next id."""
        told = super().__call__()
        if self._count % EVERY == 0 and not self._pace(self._count, max(self._count, ALL_REQUESTS)):
            raise Refusal("The demo was stopped. Nothing of it is left behind.")
        return told
