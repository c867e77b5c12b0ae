"""The words that a limits sheet may hold where one of a few is asked for."""

from enum import StrEnum


class SheetKind(StrEnum):
    """What a limits sheet is about."""

    ENGINE = "engine"
    MAGNETO = "magneto"


class Configuration(StrEnum):
    """How the cylinders of an engine stand."""

    OPPOSED = "opposed"
    RADIAL = "radial"
    IN_LINE = "in line"
    OTHER = "other"


class Against(StrEnum):
    """Whether an engine may be turned against rotation."""

    ALLOWED = "allowed"
    LIMITED = "limited"
    NO = "no"


class EligibleSide(StrEnum):
    """On which side of an engine a magneto may be fitted."""

    LEFT = "left"
    RIGHT = "right"
    EITHER = "either"


class PlugPlace(StrEnum):
    """Where in its cylinder a spark plug sits."""

    UPPER = "upper"
    LOWER = "lower"
    FRONT = "front"
    REAR = "rear"
    INBOARD = "inboard"
    OUTBOARD = "outboard"


class Length(StrEnum):
    """A unit of a gap."""

    MILLIMETRE = "mm"
    INCH = "in"


class Resistance(StrEnum):
    """A unit of a lead's resistance."""

    OHM = "ohm"
    KILOHM = "kilohm"
