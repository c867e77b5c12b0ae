"""What is written is looked at; what stood there before and is shared with it was looked at then."""

from dataclasses import dataclass, replace

import pytest

from desktop.core.shop.aircraft.customers import Customer
from desktop.core.shop.cards.text_limits import MOST_ENTRIES, MOST_SIGNS, text_trouble


@dataclass(frozen=True, slots=True)
class Paper:
    """Something with a list."""

    remarks: tuple[str, ...] = ()
    owner: Customer | None = None


@pytest.mark.parametrize(
    ("value", "said"),
    [
        (Paper(("x" * (MOST_SIGNS + 1),)), f"Remarks: {MOST_SIGNS + 1} signs"),
        (Paper(("one",) * (MOST_ENTRIES + 1)), f"Remarks: {MOST_ENTRIES + 1} entries"),
        (Paper(owner=Customer("Ada\u202eBrook")), "Name: an invisible sign (U+202E)"),
    ],
)
def test_that_what_cannot_be_kept_is_said(value: Paper, said: str) -> None:
    assert (text_trouble(value) or "").startswith(said)


def test_that_lines_of_a_text_may_be_parted() -> None:
    assert text_trouble(Paper(("first line\nsecond line", "x" * MOST_SIGNS))) is None


def test_that_only_what_is_new_is_looked_at_again() -> None:
    old = Paper(("was\u202eread before",), Customer("Ada\u202eBrook"))
    assert text_trouble(replace(old, remarks=(*old.remarks, "new")), old) is None
    assert "U+200B" in (text_trouble(replace(old, remarks=(*old.remarks, "ne\u200bw")), old) or "")
    assert "U+202E" in (text_trouble(replace(old, owner=Customer("Ed\u202eda")), old) or "")
