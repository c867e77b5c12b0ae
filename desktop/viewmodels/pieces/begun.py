"""What was typed and not kept: it waits where it was typed until it is kept, and is asked about on closing."""

from collections.abc import Callable, Hashable
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class OnOrder:
    """Where on an order something was typed, and by whom: what one person typed is not shown as another's."""

    order: int
    name: str
    person: str


@dataclass(frozen=True, slots=True)
class BegunText:
    """What waits, in whatever form its page goes on with, and how it is called."""

    title: str
    text: object


class Begun:
    """The keeper of begun text, by where it was typed."""

    def __init__(self) -> None:
        self._texts: dict[Hashable, BegunText] = {}

    def put(self, key: Hashable, title: str, text: object | None) -> None:
        """Let a text wait, in the place of what waited there before; None where nothing is begun."""
        if text is None:
            self._texts.pop(key, None)
        else:
            self._texts[key] = BegunText(title, text)

    def take(self, key: Hashable) -> object | None:
        """Return what waits at a place, which waits no longer; None for nothing."""
        found = self._texts.pop(key, None)
        return None if found is None else found.text

    def places(self) -> tuple[Hashable, ...]:
        """Return where something waits."""
        return tuple(self._texts)

    def names(self, is_asked: Callable[[Hashable], bool] = lambda _key: True) -> str:
        """Name what waits at the places that are asked about; empty for nothing."""
        return ", ".join(one.title for key, one in self._texts.items() if is_asked(key))

    def __bool__(self) -> bool:
        """Tell whether anything waits."""
        return bool(self._texts)
