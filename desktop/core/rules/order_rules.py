"""Rules about an order before somebody approves it: nothing is missing around its cards."""

from collections.abc import Iterator

from desktop.core.rules.paperwork import RECORD, SHOP, OrderInShop, OrderRule
from desktop.core.rules.rule import Finding, Severity
from desktop.core.shop.aircraft.directives import Subject
from desktop.core.shop.aircraft.parts import Way
from desktop.core.shop.cards.card_scope import RUN_UP, captures_of
from desktop.core.shop.orders.hands import doers
from desktop.core.shop.orders.order_states import Move
from desktop.core.shop.orders.safe_state import not_normal

SEARCHED = (Subject.ENGINE, Subject.MAGNETO)
"""What a directive search covers at least; coupling, harness and switch where they are fitted."""


def _search(rule: OrderRule, seen: OrderInShop) -> Iterator[Finding]:
    looked = {subject for search in seen.order.searches for subject in search.subjects}
    missing = [subject.value for subject in SEARCHED if subject not in looked]
    if missing:
        yield rule.finding("searches", subjects=" and ".join(missing))


def _safe_state(rule: OrderRule, seen: OrderInShop) -> Iterator[Finding]:
    for standing in not_normal(seen.order.board):
        yield rule.finding(f"@safe.{standing.item.name}", item=standing.item.value, word=standing.word)


def _run_up(rule: OrderRule, seen: OrderInShop) -> Iterator[Finding]:
    if not seen.run_up_due:
        return
    for card in seen.order.cards:
        typed = card.readings.run_up
        if RUN_UP in captures_of(card.task) and typed and typed.both_rpm and typed.left_rpm and typed.right_rpm:
            return
    yield rule.finding("run_up")


def _papers(rule: OrderRule, seen: OrderInShop) -> Iterator[Finding]:
    for number, moved in enumerate(seen.order.parts, 1):
        if moved.part.way is Way.ON and not moved.part.paper.strip():
            yield rule.finding(f"parts[{number}]", part=moved.part.number)


def _own_work(rule: OrderRule, seen: OrderInShop) -> Iterator[Finding]:
    alone = len([one for one in seen.people if one.is_here(seen.today)]) == 1
    for passage in seen.order.passages:
        card = seen.order.card(passage.card)
        if passage.move is Move.ACCEPT and card is not None and passage.by.person in doers(card):
            if alone and passage.reason.strip():
                continue
            yield rule.finding(f"cards[{card.number}]", card=f"Card {card.number}", person=passage.by.person)


def _discrepancies(rule: OrderRule, seen: OrderInShop) -> Iterator[Finding]:
    for one in seen.order.discrepancies:
        if one.settled is None:
            yield rule.finding(f"discrepancies[{one.number}]", number=str(one.number), found=one.found)


ORDER_RULES: tuple[OrderRule, ...] = (
    OrderRule(
        "directive-search-missing",
        Severity.STOPS,
        "Directives at hand: 14 CFR 145.109(d). Common practice.",
        ("searches",),
        _search,
    ),
    OrderRule("safe-state-not-normal", Severity.STOPS, SHOP, ("board",), _safe_state),
    OrderRule(
        "run-up-missing", Severity.STOPS, "Magneto check after the work: FAA-H-8083-32B p. 4-31.", ("run_up",), _run_up
    ),
    OrderRule("part-without-papers", Severity.STOPS, RECORD, ("parts",), _papers),
    OrderRule(
        "own-work-inspected",
        Severity.STOPS,
        "Whoever did the work does not inspect it. Common practice.",
        ("cards",),
        _own_work,
    ),
    OrderRule("discrepancy-open", Severity.STOPS, RECORD, ("discrepancies",), _discrepancies),
)
