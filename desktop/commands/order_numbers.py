"""Numbers of orders as they are typed."""

from desktop.core.errors import Refusal

MOST_DIGITS = 9


def order_number(typed: str) -> int:
    """Return the number of an order typed as W-0001 or 1. Raise Refusal for anything else."""
    digits = typed.upper().removeprefix("W-")
    if not (digits.isascii() and digits.isdigit()) or len(digits) > MOST_DIGITS or not int(digits):
        raise Refusal(f'"{typed}" is no order number. Write it as W-0001 or 1.')
    return int(digits)
