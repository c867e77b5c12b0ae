"""The torque to set on a wrench that carries an extension."""

from fractions import Fraction

from desktop.core.timing.angles import cosine
from desktop.core.timing.readings import Torque


def effective_length(job: Torque) -> Fraction:
    """Return wrench plus extension as the force sees them, in the unit of the lengths: L + E cos(angle)."""
    return job.wrench + job.extension * cosine(job.angle)


def set_torque(job: Torque) -> Fraction:
    """Return what to set on the wrench, in the unit of the required torque: required x L / (L + E cos(angle)).

    Source: FAA-H-8083-30B p. 7-51; angled extension by the same geometry. Exact for a straight extension.
    """
    return job.required * job.wrench / effective_length(job)
