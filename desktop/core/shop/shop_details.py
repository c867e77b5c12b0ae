"""What stands about the shop on its papers, and the certifying statements that the shop entered for inspections."""

from dataclasses import dataclass

from desktop.core.timing.faults import Fault


@dataclass(frozen=True, slots=True)
class ShopDetails:
    """A shop as its papers name it.

    ``is_station`` tells a certificated repair station from an independent mechanic, who uses no station's number.
    ``airworthy`` and ``not_airworthy`` are the certifying statements of 14 CFR 43.11 as the shop words them.
    """

    name: str
    is_station: bool = False
    station_certificate: str = ""
    address: str = ""
    telephone: str = ""
    airworthy: str = ""
    not_airworthy: str = ""

    def statement(self, *, approves: bool) -> str:
        """Return the certifying statement for an aircraft that is approved, or for one that is not."""
        return self.airworthy if approves else self.not_airworthy


def shop_faults(shop: ShopDetails) -> tuple[Fault, ...]:
    """Return what keeps details from being kept, each at its field with a sentence that says what to do."""
    number = bool(shop.station_certificate.strip())
    airworthy, not_airworthy = shop.airworthy.strip(), shop.not_airworthy.strip()
    faults = (
        (not shop.name.strip(), "name", "The shop has no name. Write it as it stands on the certificate."),
        (
            shop.is_station and not number,
            "station_certificate",
            "The station has no certificate number. Write it as it stands on the certificate.",
        ),
        (
            number and not shop.is_station,
            "station_certificate",
            "Only a repair station has such a number. Say that the shop is a station, or take the number away.",
        ),
        (
            bool(airworthy) and airworthy.casefold() == not_airworthy.casefold(),
            "not_airworthy",
            "Both certifying statements say the same. Write one for airworthy and one for not airworthy.",
        ),
    )
    return tuple(Fault(where, sentence) for is_so, where, sentence in faults if is_so)
