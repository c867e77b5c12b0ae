"""What is signed and pinned of limits sheets, tools and the shop's name, held against what is kept of them."""

import re
from collections.abc import Iterator
from dataclasses import replace

from desktop.core.records.record import Record, RecordKind, Row, rows_of, visible
from desktop.core.records.sealed.chain import Problem, Taken, odd_record
from desktop.core.shop.orders.order import WorkOrder
from desktop.core.shop.sheets.sheet_life import SheetLife, SheetMove, SheetState
from desktop.core.shop.sheets.sheet_paths import typed_rows
from desktop.core.shop.sheets.sheet_pin import SheetPin
from desktop.core.shop.sheets.sheets import Sheet
from desktop.core.shop.tools import Tool
from desktop.usecases.records.signing.ports import ListsToCheck
from desktop.usecases.records.signing.sign_lists import tool_rows

_SHEET = re.compile(r"limits sheet (.+) revision ([1-9][0-9]{0,17})", re.ASCII)
_TOOL = "tool "


class SignedLists:
    """The newest record of each limits sheet's revision and of each tool, and the newest of all; taken in order."""

    def __init__(self) -> None:
        self._sheets: dict[tuple[str, int], Taken] = {}
        self._tools: dict[str, list[Taken]] = {}
        self._last: Taken | None = None

    def take(self, taken: Taken) -> None:
        """Take the next record."""
        self._last, record = taken, taken.record
        named = _SHEET.fullmatch(record.subject)
        if record.kind is RecordKind.LIMITS_SHEET and named:
            self._sheets[named[1], int(named[2])] = taken
        if record.kind is RecordKind.TOOL_RECORD:
            self._tools.setdefault(record.subject.removeprefix(_TOOL), []).append(taken)

    def name_problems(self, name: str) -> Iterator[Problem]:
        """Say when the shop is kept under another name than the newest record bears."""
        if self._last is not None and visible(self._last.record.shop_name) != visible(name):
            names = f'names the shop "{self._last.record.shop_name}", and it is kept as "{name}"'
            yield odd_record(self._last.line, names)

    def sheet_problems(self, lists: ListsToCheck) -> Iterator[Problem]:
        """Say which limits sheets as kept are not as they were compared, or not as they were signed."""
        kept = {(pin.sheet, pin.revision): sheet for pin, sheet in lists.compared_sheets()}
        for (name, revision), sheet in kept.items():
            if sheet is None:
                yield Problem(0, not_as_compared(name, revision))
        lives = {life.sheet.id: life for life in lists.sheet_lives()}
        for name, life in lives.items():
            key = (name, life.sheet.revision)
            is_compared = life.state is SheetState.COMPARED or key in kept
            if is_compared and not (key in kept and kept[key] in (None, life.sheet)):
                yield Problem(0, not_as_compared(*key))
        for key, taken in self._sheets.items():
            yield from _signed_sheet(key, taken, kept, lives.get(key[0]))

    def tool_problems(self, tools: tuple[Tool, ...], notes: list[Problem]) -> Iterator[Problem]:
        """Say which tools are not on the list as they were signed.

        A tool that was kept more often than it was signed was also changed without a signature, which the shop may do:
        then what differs is put among ``notes``.
        """
        there = {tool.id: tool for tool in tools}
        for name, records in self._tools.items():
            section = records[-1].record.section("Tool")
            if section is None:
                continue
            tool = there.get(name)
            said = odd_record(records[-1].line, f"and tool {name} is not on the list as it was signed")
            if tool is None or (_seen(section.rows) != tuple(tool_rows(tool)) and tool.version <= len(records)):
                yield said
            elif _seen(section.rows) != tuple(tool_rows(tool)):
                notes.append(replace(said, sentence=f"{said.sentence} It was changed without a signature."))


def pin_problems(order: WorkOrder, pins: frozenset[SheetPin]) -> Iterator[Problem]:
    """Say which cards of an order were issued with limits sheets that are not kept as they were pinned."""
    for card in order.cards:
        for pin in card.sheets:
            if replace(pin, place="") not in pins:
                where = f"Card {card.number} of order {order.number}"
                yield Problem(0, f"{where}: {not_as_compared(pin.sheet, pin.revision)}")


def not_as_compared(sheet: str, revision: int) -> str:
    """Say that a limits sheet is not as it was compared."""
    return f"Limits sheet {sheet}, revision {revision}, is not as it was compared."


def _signed_sheet(
    key: tuple[str, int], taken: Taken, kept: dict[tuple[str, int], Sheet | None], life: SheetLife | None
) -> Iterator[Problem]:
    values = taken.record.section("Values")
    if values is None or (key in kept and kept[key] is None):
        return  # nothing was signed to compare, or the sheet is named already
    sheet = kept.get(key)
    if not _is_comparison(taken.record) and life is not None:
        if any(one.move is SheetMove.SENT_BACK and one.revision == key[1] for one in life.passages):
            return
        if sheet is None and life.sheet.revision == key[1]:
            sheet = life.sheet
    if sheet is None or _seen(values.rows) != _value_rows(sheet):
        yield odd_record(taken.line, f"and limits sheet {key[0]}, revision {key[1]}, is not kept as it was signed")


def _is_comparison(record: Record) -> bool:
    head = record.section("Limits sheet")
    return head is not None and any(row.label == "Compared by" for row in head.rows)


def _value_rows(sheet: Sheet) -> tuple[Row, ...]:
    return tuple(row for path, text in typed_rows(sheet) for row in rows_of(path, text))


def _seen(rows: tuple[Row, ...]) -> tuple[Row, ...]:
    """Return rows as they would be signed now: a sign that is not seen stands as its code."""
    return tuple(Row(row.label, visible(row.text)) for row in rows)
