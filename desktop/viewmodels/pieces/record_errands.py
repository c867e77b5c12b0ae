"""What a window may do with the records of a shop, as it is handed to it."""

from collections.abc import Callable
from pathlib import Path

from desktop.usecases.records.checking.verify import Verified
from desktop.viewmodels.pieces.errand import Pace, Work

Check = Callable[[Pace], Verified | None]
"""Checks every record of the shop; None when it was stopped. Raises Refusal when the file cannot be read."""
Export = Callable[[Path], Work]
"""Returns the work that writes the records into a new folder and says what is there, or raises Refusal."""
PrintRecord = Callable[[int, str], bytes]
"""Prints a record by its number on a size of paper. Raises Refusal when it cannot be printed."""
