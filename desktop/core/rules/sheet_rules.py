"""Rules about limits sheets: there, current, confirmed, and fitting the data plates."""

from collections.abc import Iterator

from desktop.core.rules.paperwork import SHOP, CardInShop, CardRule
from desktop.core.rules.rule import Finding, Severity
from desktop.core.shop.aircraft.intake import Plate
from desktop.core.shop.cards.card_scope import takes_readings
from desktop.core.shop.sheets.electronic import electronic_word

_DATA = "Current data are used: 14 CFR 43.13(a), 145.109."


def _no_sheet(rule: CardRule, seen: CardInShop) -> Iterator[Finding]:
    if not seen.card.sheets and takes_readings(seen.card.task):
        yield rule.finding("limits")


def _not_confirmed(rule: CardRule, seen: CardInShop) -> Iterator[Finding]:
    if seen.card.sheets and seen.card.data_confirmed is None:
        yield rule.finding("limits")


def _superseded(rule: CardRule, seen: CardInShop) -> Iterator[Finding]:
    for name in seen.superseded:
        yield rule.finding("limits", sheet=name)


def _revised_since(rule: CardRule, seen: CardInShop) -> Iterator[Finding]:
    """While the order runs somebody can still act on it; after that it is history and no finding."""
    for name in seen.revised_since if seen.order.ending is None else ():
        yield rule.finding("limits", sheet=name)


def _plate(rule: CardRule, seen: CardInShop) -> Iterator[Finding]:
    for plate in _plates(seen):
        for where, what in seen.sheets.plate_troubles(plate):
            yield rule.finding(where, side=plate.side.value, what=what)


def _electronic(rule: CardRule, seen: CardInShop) -> Iterator[Finding]:
    texts = [("engine", seen.order.engine.type)]
    texts += [(f"{magneto.side}.part_number", magneto.part_number) for magneto in seen.order.engine.magnetos]
    texts += [(f"{plate.side}.part_number", plate.part_number) for plate in _plates(seen)]
    texts += [("card", seen.card.task.title), *seen.sheets.names]
    for where, text in texts:
        if word := electronic_word(text):
            yield rule.finding(where, word=word)
            return


def _plates(seen: CardInShop) -> tuple[Plate, ...]:
    taken_in = seen.order.taken_in
    return taken_in.intake.plates if taken_in else ()


SHEET_RULES: tuple[CardRule, ...] = (
    CardRule("electronic-ignition", Severity.STOPS, "Out of the scope of this program.", ("engine",), _electronic),
    CardRule(
        "plate-against-sheet",
        Severity.STOPS,
        "The data plate and the eligibility list decide. Common practice.",
        ("left", "right"),
        _plate,
    ),
    CardRule("data-not-confirmed", Severity.STOPS, _DATA, ("limits",), _not_confirmed),
    CardRule("sheet-superseded", Severity.EXPLAIN, _DATA, ("limits",), _superseded),
    CardRule("sheet-revised-since", Severity.NOTE, _DATA, ("limits",), _revised_since),
    CardRule("no-limits-sheet", Severity.NOTE, SHOP, ("limits",), _no_sheet),
)
