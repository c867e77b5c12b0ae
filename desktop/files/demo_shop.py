"""The demo's invented shop, read from the program's own resources: people, tools, aircraft, visits."""

import tomllib
from datetime import date
from fractions import Fraction
from importlib.resources import files

import msgspec

from desktop.core.shop.aircraft.aircraft import Aircraft, EngineFitted
from desktop.core.shop.aircraft.customers import Customer
from desktop.core.shop.people.people import Person
from desktop.core.shop.shop_details import ShopDetails
from desktop.core.shop.tools import Tool
from desktop.core.timing.readings import Hand


class DemoPlate(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """What stands on the data plate of a part number: hand of rotation, and the lag in magneto degrees."""

    hand: Hand
    lag: str = ""


class DemoLeft(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """Who left the shop: the last day, and the reason of the withdrawal."""

    person: str
    until: date
    reason: str


class DemoEarlier(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """The revision and date that a sheet's document had when the shop began."""

    sheet: str
    revision: str
    date: str


class DemoAircraft(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """An aircraft with its owner."""

    owner: Customer
    registration: str
    type: str
    serial: str
    engine: tuple[EngineFitted, ...]

    @property
    def aircraft(self) -> Aircraft:
        """The aircraft as orders have it."""
        return Aircraft(self.registration, self.type, self.serial, self.engine)


class DemoStands(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A magneto at a visit: as found and as left in crankshaft degrees, positive advanced; hours since overhaul."""

    found: str
    left: str
    since: str

    @property
    def deviations(self) -> tuple[Fraction, Fraction]:
        """Found and left as numbers."""
        return Fraction(self.found), Fraction(self.left)


class DemoVisit(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A visit of an aircraft with one engine: when, who did the work, hours, and how the magnetos stood."""

    registration: str
    on: date
    hands: str
    total_time: str
    tachometer: str
    left: DemoStands
    right: DemoStands


class DemoShop(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """Everything that stands in the file. ``plates`` is by part number, ``secrets`` by initials."""

    name: str
    shop_id: str
    begins: date
    details: ShopDetails
    secrets: dict[str, str]
    person: tuple[Person, ...]
    left: DemoLeft
    tool: tuple[Tool, ...]
    plates: dict[str, DemoPlate]
    earlier: tuple[DemoEarlier, ...]
    aircraft: tuple[DemoAircraft, ...]
    visit: tuple[DemoVisit, ...]

    def of(self, registration: str) -> DemoAircraft:
        """Return an aircraft by its registration; KeyError for none."""
        found = next((one for one in self.aircraft if one.registration == registration), None)
        if found is None:
            raise KeyError(registration)
        return found


def demo_shop() -> DemoShop:
    """Return the demo's shop."""
    text = files("resources").joinpath("demo", "shop.toml").read_text("utf-8")
    return msgspec.convert(tomllib.loads(text), DemoShop)
