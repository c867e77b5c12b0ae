"""The code of a paper as it would be printed now is the one that stands on its print."""

import pytest

from desktop.core.errors import Refusal
from desktop.core.records.sealed.check_code import is_code
from desktop.usecases.papers import kinds
from desktop.usecases.papers.asked import Asked, PaperDesk
from desktop.usecases.papers.from_shop import paper_of
from desktop.usecases.papers.kinds import Of, PaperKind
from desktop.usecases.papers.records.ink_codes import INK_KINDS, CodesNow, code_on, ink_kind
from desktop.usecases.shop.cards.write_remark import write_remark
from desktop.usecases.shop.lists.look_up import see_order
from reports.document import Document, Foot, Head, KeepTogether, plain
from tests.usecases.papers.paper_floor import PRINTED, SIGNED, TWIN, PaperFloor


@pytest.mark.parametrize("kind", INK_KINDS, ids=lambda kind: kind.name)
def test_that_the_code_now_is_the_one_on_the_print_at_any_time(kind: PaperKind, desk: PaperDesk) -> None:
    card = 1 if kind.of is Of.CARD else 0
    code = CodesNow(desk).code_of(see_order(desk.shop.store, SIGNED), card, kind.name)
    assert is_code(code)
    for reprint in (False, True):
        printed = paper_of(desk, Asked(kind, SIGNED, card, reprint=reprint), PRINTED)
        assert code_on(printed) == code


def test_that_another_remark_gives_another_code_of_the_card_and_none_of_the_blank(own_floor: PaperFloor) -> None:
    codes = CodesNow(own_floor.paper_desk())

    def now(kind: PaperKind) -> str:
        return codes.code_of(see_order(own_floor.file, TWIN), 1, kind.name)

    before = now(kinds.CARD), now(kinds.BLANK_CARD)
    write_remark(own_floor.shop, own_floor.seen("MECH", TWIN), TWIN, 1, "The lead was chafed.")
    assert (now(kinds.CARD) == before[0], now(kinds.BLANK_CARD) == before[1]) == (False, True)


def test_that_papers_that_nobody_signs_with_ink_have_no_such_code(desk: PaperDesk) -> None:
    order = see_order(desk.shop.store, SIGNED)
    for name in (kinds.RECORD.name, kinds.ROSTER.name, "napkin"):
        assert ink_kind(name) is None
        with pytest.raises(Refusal, match=f'"{name}" is no paper that comes back signed. Choose one of: card,'):
            CodesNow(desk).code_of(order, 0, name)


@pytest.mark.parametrize(("card", "name"), [(0, "card"), (1, "entry")])
def test_that_a_card_is_named_for_the_paper_of_a_card_and_only_there(card: int, name: str, desk: PaperDesk) -> None:
    with pytest.raises(Refusal, match="Name the card for the paper of a card"):
        CodesNow(desk).code_of(see_order(desk.shop.store, SIGNED), card, name)


def test_that_a_paper_without_a_code_has_none(desk: PaperDesk) -> None:
    bare = Document("x", "x", "en", Head("x"), Foot(), (plain("x"), KeepTogether((plain("y"),))))
    assert code_on(bare) == ""
    labels = paper_of(desk, Asked(kinds.ENTRY_LABELS, SIGNED), PRINTED)
    assert code_on(labels) == ""
