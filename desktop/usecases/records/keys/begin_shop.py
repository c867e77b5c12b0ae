"""The beginning of a shop: its details, its first person, and that person's own key."""

from collections.abc import Callable
from dataclasses import dataclass, field

from desktop.core.shop.people.people import Person, Right
from desktop.core.shop.shop_details import ShopDetails
from desktop.usecases.records.keys.people import enrol_person
from desktop.usecases.records.keys.signing_desk import SigningDesk
from desktop.usecases.shop.lists.keep_lists import keep_person
from desktop.usecases.shop.lists.keep_settings import keep_details
from desktop.usecases.shop.ports import Request

RIGHTS_OF_THE_FIRST = (Right.FRONT_DESK, Right.MECHANIC, Right.INSPECTOR, Right.AUTHORISED, Right.RECORDS)
"""The first person holds every right of a shop of one, until others come."""


@dataclass(frozen=True, slots=True)
class FirstAnswers:
    """What is asked at the first start. ``station`` is the station's certificate number, empty for a mechanic alone."""

    shop: str
    station: str
    name: str
    initials: str
    certificate_number: str
    certificate_kind: str
    secret: str = field(repr=False)


def begin_shop(desk: SigningDesk, new_id: Callable[[], str], first: FirstAnswers) -> None:
    """Put the first person on the roster, keep the shop's details, and enrol the person under the secret.

    Raise NotReady with what is missing, or for a secret that may not be chosen; Refusal when the shop has people.
    """
    shop, who = desk.shop, first.initials
    person = Person(
        who,
        first.name,
        RIGHTS_OF_THE_FIRST,
        shop.clock.now().date(),
        certificate_number=first.certificate_number,
        certificate_kind=first.certificate_kind,
    )
    keep_person(shop, Request(new_id(), who), person)
    details = ShopDetails(first.shop, is_station=bool(first.station), station_certificate=first.station)
    keep_details(shop, Request(new_id(), who), details)
    enrol_person(desk, Request(new_id(), who), who, first.secret)
