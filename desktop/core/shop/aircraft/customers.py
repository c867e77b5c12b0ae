"""Who brought the aircraft."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Customer:
    """A customer as the order names them; nothing but the name is needed."""

    name: str
    address: str = ""
    telephone: str = ""
    email: str = ""
