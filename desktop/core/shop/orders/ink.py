"""Paper that was signed with ink: which print, by whom, on which day, and a picture of it if there is one."""

from dataclasses import dataclass
from datetime import date
from enum import StrEnum
from hashlib import sha256

from desktop.core.shop.stamp import Stamp

MOST_NAME = 120
"""Most signs of a signer's name."""


class ScanKind(StrEnum):
    """What a scan may be."""

    PDF = "pdf"
    PNG = "png"
    JPEG = "jpeg"


@dataclass(frozen=True, slots=True)
class Scan:
    """A scan as it came; it is kept and handed out, never opened."""

    kind: ScanKind
    data: bytes

    @property
    def digest(self) -> str:
        """Its SHA-256, under which it is kept."""
        return sha256(self.data).hexdigest()


@dataclass(frozen=True, slots=True)
class InkSigned:
    """A print that came back signed: ``paper`` is its kind, ``card`` is 0 for one about the whole order.

    ``code`` is the check code that stands on it, ``day`` the day beside the signature, ``scan`` the SHA-256 of a scan
    or empty, ``by`` who wrote it down.
    """

    paper: str
    order: int
    card: int
    signer: str
    day: date
    code: str
    scan: str
    by: Stamp


@dataclass(frozen=True, slots=True)
class Printed:
    """That a print with a code was made, from which version of the order."""

    code: str
    order: int
    card: int
    paper: str
    version: int
