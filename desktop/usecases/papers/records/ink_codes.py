"""The check codes of the papers that come back signed with ink, as they would be printed now."""

from collections.abc import Iterable

from desktop.core.errors import Refusal
from desktop.core.shop.orders.order import WorkOrder
from desktop.usecases.papers import kinds
from desktop.usecases.papers.asked import Asked, PaperDesk
from desktop.usecases.papers.from_shop import paper_of
from desktop.usecases.papers.kinds import Of, PaperKind
from reports.document import Block, Document, KeepTogether, Paper
from reports.document_signing import CheckCode

INK_KINDS: tuple[PaperKind, ...] = (
    kinds.CARD,
    kinds.BLANK_CARD,
    kinds.WORK_ORDER,
    kinds.SUMMARY,
    kinds.ENTRY,
    kinds.DISCREPANCIES,
)
"""The papers of an order that people sign with ink."""


class CodesNow:
    """Says the check code of a paper as it would be printed now. See ``PaperCodes`` of the ports."""

    def __init__(self, desk: PaperDesk) -> None:
        self._desk = desk

    def code_of(self, order: WorkOrder, card: int, paper: str) -> str:
        """Return the code. Raise Refusal for a kind that nobody signs with ink, and for what cannot be printed."""
        kind = ink_kind(paper)
        if kind is None:
            names = ", ".join(one.name for one in INK_KINDS)
            raise Refusal(f'"{paper}" is no paper that comes back signed. Choose one of: {names}.')
        if (kind.of is Of.CARD) != bool(card):
            raise Refusal(
                f'The paper "{paper}" is about {kind.of}. Name the card for the paper of a card, and only there.'
            )
        return code_on(paper_of(self._desk, Asked(kind, order.number, card), ""))


def ink_kind(name: str) -> PaperKind | None:
    """Return a kind of paper that people sign with ink by its name; None for any other."""
    return next((kind for kind in INK_KINDS if kind.name == name), None)


def code_on(paper: Paper) -> str:
    """Return the check code that stands on a paper; empty when there is none."""
    return _code_in(paper.blocks) if isinstance(paper, Document) else ""


def _code_in(blocks: Iterable[Block]) -> str:
    for block in blocks:
        if isinstance(block, CheckCode):
            return block.code
        if isinstance(block, KeepTogether) and (found := _code_in(block.blocks)):
            return found
    return ""
