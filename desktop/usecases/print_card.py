"""Printing a task card: what the paper cannot show is refused first, then the document is made and drawn."""

import unicodedata
from collections.abc import Iterator
from dataclasses import fields

from desktop.core.errors import Refusal
from desktop.usecases.check_readings import CheckedCard
from desktop.usecases.papers.cards.task_card import CardPrint, task_card_paper
from desktop.usecases.papers.heading import CardHeading
from desktop.usecases.ports import PaperSize, Printer


def print_card(checked: CheckedCard, what: CardPrint, size: PaperSize, printer: Printer) -> bytes:
    """Return the task card as PDF. Raise Refusal when a typed text holds a sign that the paper cannot show."""
    for where, text in _typed_texts(checked, what.heading):
        for sign in printer.missing_signs(text):
            raise Refusal(f"{where}: the paper's type has no sign for {_named(sign)}. Write it in other letters.")
    return printer.draw(task_card_paper(checked, what), size)


def _typed_texts(checked: CheckedCard, heading: CardHeading) -> Iterator[tuple[str, str]]:
    """Yield every free text that reaches the paper, with its key."""
    for place, job in enumerate(checked.worked.card.torque, 1):
        yield f"torque[{place}].what", job.what
    for one in fields(heading):
        value = getattr(heading, one.name)
        if isinstance(value, str):
            yield one.name, value


def _named(sign: str) -> str:
    code = f"U+{ord(sign):04X}"
    name = unicodedata.name(sign, "")
    return f"{code} ({name.lower()})" if name else code
