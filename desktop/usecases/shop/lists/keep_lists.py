"""Keeping the roster and the list of tools."""

from collections.abc import Callable
from dataclasses import replace

from desktop.core.errors import Refusal
from desktop.core.records.keys.enrolment import person_section
from desktop.core.shop.cards.text_limits import text_trouble
from desktop.core.shop.orders.who_may import Deed
from desktop.core.shop.people.people import Person, Right, person_troubles
from desktop.core.shop.tools import Tool, tool_troubles
from desktop.usecases.shop.change import Also, nothing_more, refuse_troubles, remember, seen_before, stamp
from desktop.usecases.shop.ports import Answer, Request, Shop, ShopWork


def keep_person(
    shop: Shop, request: Request, person: Person, also: Callable[[ShopWork, Person], None] | None = None
) -> Answer:
    """Put a person on the roster, or keep what changed about them and on which day; nobody is ever taken off it.

    The first person of a shop puts themselves on it and keeps the records. ``also`` is done with the person as kept, in
    the same transaction: there it is signed. Raise NotReady with what is missing, Refusal when the person was changed
    since they were seen, when nobody would be left to keep the records, and for somebody who is enrolled where nothing
    is done besides.
    """
    with shop.store.changing() as work:
        if (before := seen_before(work, request, Deed.KEEP_PEOPLE)) is not None:
            return before
        people = work.people()
        refuse_troubles(person_troubles(person) + _text(person))
        if people:
            stamp(shop, work, request, Deed.KEEP_PEOPLE)
        after = {one.id: one for one in people} | {person.id: person}
        today = shop.clock.now().date()
        if not any(one.is_here(today) and Right.RECORDS in one.rights for one in after.values()):
            raise Refusal("Nobody would keep the records. Give somebody who is with the shop that right first.")
        if person.supervisor and person.supervisor not in after:
            raise Refusal(f'"{person.supervisor}" is not on the roster. Put the supervisor on it first.')
        kept = work.person(person.id)
        version = _next_version(kept, request, f"{person.id} on the roster")
        is_same = kept is not None and kept == replace(person, version=kept.version, changed=kept.changed)
        changed = kept.changed if kept is not None and is_same else today
        after_all = replace(person, version=version, changed=changed)
        if also is None and kept is not None and work.is_enrolled(kept.id):
            _refuse_unsigned(kept, after_all)
        work.put_person(after_all)
        if also is not None:
            also(work, after_all)
        return remember(work, request, Answer(Deed.KEEP_PEOPLE, person.id, version))


def keep_tool(shop: Shop, request: Request, tool: Tool, also: Also[Tool] = nothing_more) -> Answer:
    """Put a tool on the list, or keep what changed about it; ``also`` is done with it in the same transaction.

    Raise NotReady with what is missing, Refusal when the tool was changed since it was seen.
    """
    with shop.store.changing() as work:
        if (before := seen_before(work, request, Deed.KEEP_TOOLS)) is not None:
            return before
        by = stamp(shop, work, request, Deed.KEEP_TOOLS)
        refuse_troubles(tool_troubles(tool) + _text(tool))
        version = _next_version(work.tool(tool.id), request, f"Tool {tool.id}")
        kept = replace(tool, version=version)
        work.put_tool(kept)
        also(work, kept, by)
        return remember(work, request, Answer(Deed.KEEP_TOOLS, tool.id, version))


def _refuse_unsigned(kept: Person, after: Person) -> None:
    """Raise Refusal for a change of what is signed about somebody: the records would contradict the roster."""
    if person_section(kept) != person_section(after):
        raise Refusal(f"{kept.name} is enrolled, so what changes about them is signed. Look at the change, then sign.")


def _text(value: Person | Tool) -> tuple[str, ...]:
    trouble = text_trouble(value)
    return (trouble,) if trouble else ()


def _next_version(kept: Person | Tool | None, request: Request, name: str) -> int:
    version = kept.version if kept else 0
    if version != request.seen_version:
        raise Refusal(f"{name} is not as you saw it. Look at it as it is now, then do it again.")
    return version + 1
