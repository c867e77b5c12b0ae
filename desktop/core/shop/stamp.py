"""By whom and when: what stands beside everything that is written on an order."""

from dataclasses import dataclass
from datetime import datetime, timedelta


@dataclass(frozen=True, slots=True)
class Stamp:
    """A person's id and a time with its offset from UTC in whole minutes; a helper's stamp names the supervisor.

    Raise ValueError for a time without an offset: it would be another moment in another place.
    """

    person: str
    at: datetime
    under: str = ""

    def __post_init__(self) -> None:
        offset = self.at.utcoffset()
        if offset is None or offset % timedelta(minutes=1):
            raise ValueError("a stamp needs a time with its offset from UTC in whole minutes")
