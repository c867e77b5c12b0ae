"""The demo's invented jobs, read from the program's own resources."""

import tomllib
from importlib.resources import files

import msgspec

from desktop.core.timing.typed_card import TypedCard
from desktop.files.readings import read_readings


class DemoJob(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """One invented job: its readings file, what happened in it, and the identities at the head of its card."""

    readings: str
    told: str
    shop: str
    order: str
    aircraft: str
    engine: str
    left_magneto: str
    right_magneto: str
    document: str
    revision_current: str

    @property
    def name(self) -> str:
        """The name of the job's files, without an ending."""
        return self.readings.removesuffix(".toml")


def demo_jobs() -> tuple[tuple[DemoJob, TypedCard], ...]:
    """Return the demo's jobs with their typed readings."""
    place = files("resources").joinpath("demo")
    jobs = msgspec.convert(tomllib.loads(place.joinpath("jobs.toml").read_text("utf-8"))["job"], list[DemoJob])
    return tuple((job, read_readings(place.joinpath(job.readings).read_bytes())) for job in jobs)
