"""What the window of a shop is given for its manners: the guide, the lock, the copy on closing, and a memory."""

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from desktop.core.guide import GuidePage
from desktop.core.left_off import LeftOff
from desktop.usecases.records.copies.backup import OnClosing
from desktop.viewmodels.pieces.errand import Pace
from desktop.viewmodels.signing.idle_lock import IdleNeeds


@dataclass(frozen=True, slots=True)
class ShopNeeds:
    """``remember`` keeps how the window was left, ``shop_file`` is the path that it keeps, empty for none.

    ``last_person`` is whoever worked at this shop here last: the first choice when the window asks who works here.

    ``make_copy`` makes the copy on closing in a folder; ``copy_folder`` gives that folder, empty for no copy.
    """

    guide: tuple[GuidePage, ...]
    idle: IdleNeeds
    remember: Callable[[LeftOff], None]
    copy_folder: Callable[[], str]
    make_copy: Callable[[Path, Pace], OnClosing]
    shop_file: str = ""
    last_person: str = ""
