"""What is always the same in the demo: its clock, the ids of its requests, and the chance that its keys come from."""

import hashlib
from datetime import date, datetime, time, timedelta, timezone

ZONE = timezone(timedelta(hours=-5))


class DemoClock:
    """A clock that stands until somebody does something; it never goes back."""

    def __init__(self, day: date) -> None:
        self._now = datetime.combine(day, time(8), ZONE)

    def now(self) -> datetime:
        """Return the time with its offset from UTC."""
        return self._now

    def go_on(self, minutes: int = 1) -> None:
        """Go on by minutes."""
        self._now += timedelta(minutes=minutes)

    def go_to(self, day: date, hour: int = 8) -> None:
        """Go on to an hour of a day. ValueError for one that is past."""
        wanted = datetime.combine(day, time(hour), ZONE)
        if wanted < self._now:
            raise ValueError(f"the demo is at {self._now}, and {wanted} is past")
        self._now = wanted


class FixedIds:
    """Ids of requests: counted, so that the demo is the same each time."""

    def __init__(self) -> None:
        self._count = 0

    def __call__(self) -> str:
        """Return an id that this demo did not have before."""
        self._count += 1
        return f"demo-{self._count:06d}"


class FixedChance:
    """Bytes that look like chance and are the same each time: keys made of them are no secret, and none is meant."""

    def __init__(self) -> None:
        self._count = 0

    def __call__(self, size: int) -> bytes:
        """Return the next bytes, at most 32."""
        self._count += 1
        return hashlib.sha256(f"the demo's chance, number {self._count}".encode()).digest()[:size]
