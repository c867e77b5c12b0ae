"""The fields of a new work order, in the order in which the front desk asks for them."""

from collections.abc import Iterator

from desktop.core.timing.readings import Hand, Side
from desktop.viewmodels.pieces.fields import Field, Group, Kind, choice, words_of

REGISTRATION = Field("aircraft.registration", "Registration", hint="needed")
POSITION = choice(
    "position",
    "Position",
    (("single", "single"), ("left", "left, as the pilot sits"), ("right", "right, as the pilot sits")),
    hint="needed",
)
PROMISED = Field("promised", "Promised for", optional=True, hint="such as 1 Dec 2026")

COMPLAINT = Field("complaint", "Complaint", optional=True)
FOR_ISSUE = "compared when cards are issued"
"""Stands at what the limits sheets are compared with when a plate is begun."""

AIRCRAFT = Group(
    "Aircraft",
    (
        REGISTRATION,
        Field("aircraft.type", "Type", optional=True),
        Field("aircraft.serial", "Serial number", optional=True),
    ),
)
CUSTOMER = Group(
    "Customer",
    (
        Field("customer.name", "Name", hint="needed"),
        Field("customer.telephone", "Telephone", optional=True),
        Field("customer.email", "E-mail", optional=True),
    ),
)
JOB = Group(
    "The job",
    (
        Field("asked", "What is asked", optional=True),
        COMPLAINT,
        PROMISED,
        Field("authorised", "Authorised by", optional=True, hint="who, and how far"),
    ),
)
LOGS = Group(
    "Logs and hours",
    (
        Field("logs_seen", "Logs seen", Kind.TICK, optional=True),
        Field("total_time", "Total time", unit="h", optional=True),
        Field("tachometer", "Tachometer", unit="h", optional=True),
    ),
)
ENGINE = Group(
    "Engine",
    (
        POSITION,
        Field("engine.type", "Type", optional=True),
        Field("engine.serial", "Serial number", optional=True),
    ),
)


def plate_group(side: Side) -> Group:
    """Return the fields of a magneto's data plate."""
    return Group(
        f"{side.capitalize()} magneto, from its data plate",
        (
            Field(f"{side}.part_number", "Part number", optional=True, hint=FOR_ISSUE),
            Field(f"{side}.serial", "Serial number", optional=True),
            choice(
                f"{side}.hand",
                "Hand of rotation",
                words_of(Hand),
                optional=True,
                hint=f"{FOR_ISSUE}; from the drive end",
            ),
            Field(f"{side}.lag", "Impulse lag", unit="magneto °", optional=True, hint=FOR_ISSUE),
            Field(f"{side}.since_overhaul", "Since overhaul", unit="h", optional=True),
        ),
    )


COLUMNS: tuple[tuple[Group, ...], ...] = (
    (AIRCRAFT, CUSTOMER, JOB, LOGS),
    (ENGINE, *(plate_group(side) for side in Side)),
)
"""The groups in two columns; the keyboard goes down the first and then down the second."""


def order_fields() -> Iterator[Field]:
    """Yield the fields in the order of the keyboard."""
    for column in COLUMNS:
        for group in column:
            yield from group.fields


def name_of(path: str) -> str:
    """Return a field's whole name with its group, so that no two of the form are called the same."""
    for column in COLUMNS:
        for group in column:
            for field in group.fields:
                if field.path == path:
                    return f"{group.title.split(',')[0]}: {field.label}"
    raise ValueError(f"the form has no field {path}")
