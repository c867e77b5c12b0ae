"""Copies of shop files as the use cases know them."""

from contextlib import AbstractContextManager, suppress
from datetime import datetime
from pathlib import Path

from desktop.core.records.sealed.signatures import Verifies
from desktop.storage.copies.backup import make_copy
from desktop.storage.copies.known_copies import write_down
from desktop.storage.copies.restore import PreparedFile, prepare_copy
from desktop.storage.places import Surroundings
from desktop.usecases.records.copies.copy_ports import MadeCopy, Pace


class CopyDesk:
    """Makes copies of shop files and takes them out again, on this machine. See ``CopyStore`` of the ports."""

    def __init__(self, around: Surroundings, verifies: Verifies) -> None:
        self._around = around
        self._verifies = verifies

    def make(self, shop: Path, place: Path, now: datetime, pace: Pace) -> MadeCopy:
        """Make a copy in a folder or under a new name, read it back whole, and write down that it is there."""
        made = make_copy(shop, place, now, pace, self._verifies, self._around)
        if self._around.state:
            # The copy is there all the same; that its age is not known is said by the doctor.
            with suppress(OSError):
                write_down(self._around.state, made)
        return made

    def prepare(self, copy: Path, shop: Path, pace: Pace, *, unsealed: bool) -> AbstractContextManager[PreparedFile]:
        """Verify a copy and lay it beside the shop file; at the end it is gone unless it was put in place."""
        return prepare_copy(copy, shop, pace, self._verifies, self._around, unsealed=unsealed)
