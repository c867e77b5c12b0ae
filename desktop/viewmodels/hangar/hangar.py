"""The card from the propeller: the present step large, readings by keypad, forward and back by one key."""

from PySide6.QtCore import QObject, Signal

from desktop.core.timing.readings import Side
from desktop.usecases.fill_card import CardState
from desktop.viewmodels.card.card_pictures import Pictures, View, pictures_of
from desktop.viewmodels.card.form_session import FormSession
from desktop.viewmodels.hangar.hangar_entry import Typing, is_at_propeller, is_by_keypad
from desktop.viewmodels.hangar.hangar_shown import Entry, Hangar
from desktop.viewmodels.hangar.hangar_words import (
    NOTHING,
    Tile,
    is_split,
    reason_of,
    rotation_of,
    tiles_of,
    turning_of,
    verdict_of,
)
from desktop.viewmodels.pieces.fields import Field, Kind, Place, Shows, asked_fields, fields_of

TO_FILL = "To fill in here"
ALL_DONE = "all done"
AT_THE_CARD = "at the card: Escape leads there"
MOST_LINES = 4
NOT_WRITABLE = "The card takes no readings now."


class HangarDesk(QObject):
    """Stands over the session of a card; ``changed`` carries a Hangar after every key that changed something."""

    changed = Signal(object)

    def __init__(
        self, session: FormSession, number: int = 0, side: Side | None = None, parent: QObject | None = None
    ) -> None:
        super().__init__(parent)
        self._session = session
        self._side = side
        self._place_id = ""
        self._typing: Typing | None = None
        self._is_work = False
        self._message = ""
        self._is_refused = False
        self._pictures: tuple[CardState, Side | None, Pictures] | None = None
        session.state_changed.connect(self._follow)
        session.refused.connect(self._refuse)
        self._show_place(number)

    @property
    def number(self) -> int:
        """The number of the present place, from 0."""
        ids = [place.id for place in self._session.places]
        return ids.index(self._place_id) if self._place_id in ids else 0

    @property
    def place(self) -> Place:
        """The present place."""
        return self._session.places[self.number]

    def shown(self) -> Hangar:
        """Return what is to be shown now."""
        place, state, side = self.place, self._session.state, self._side
        places = self._session.places
        field = self._typing.field if self._typing else None
        return Hangar(
            place,
            f"{self.number + 1} of {len(places)}",
            self._is_work,
            turning_of(state, field),
            tiles_of(place, state, side, self._last_typed()),
            self._entry(),
            verdict_of(place, state, side),
            reason_of(place, places, state, side),
            self._session.not_normal(),
            self._drawn(),
            self._next_words(),
            self._more(),
            rotation_of(place, state),
            self._message,
            self._is_refused,
        )

    def step(self, by: int) -> None:
        """Go on, or back: from the boxes of a step to its readings, and from there to the step that follows."""
        self._say("")
        has_two = self._has_two_views()
        if by > 0 and has_two and not self._is_work:
            self._is_work = True
        elif by < 0 and has_two and self._is_work:
            self._is_work = False
        else:
            if by > 0:
                self._session.read(self.place)
            number = self.number + by
            if not 0 <= number < len(self._session.places):
                self._say("This is the last step." if by > 0 else "This is the first step.")
            else:
                self._show_place(number, from_behind=by < 0)
                return
        self._emit()

    def show_boxes(self) -> None:
        """Show instruction and boxes of the present step again, or its readings."""
        if self._has_two_views():
            self._is_work = not self._is_work
        self._emit()

    def move(self, by: int) -> None:
        """Go to the field after the present one, or before it, within the step."""
        fields = self._fields()
        if not fields:
            return
        keys = [field.key for field in fields]
        present = self._typing.field.key if self._typing else ""
        place = keys.index(present) + by if present in keys else (0 if by > 0 else len(keys) - 1)
        self._say("")
        self._type_into(fields[min(max(place, 0), len(fields) - 1)])
        self._emit()

    def type(self, sign: str) -> None:
        """Take a sign of the keypad; the first figure after the last reading begins the next approach."""
        self._say("")
        if self._has_two_views():
            self._is_work = True
        if self._typing is None:
            self._type_into(self._begins_another())
        if self._typing is not None:
            self._typing = self._typing.typed(sign)
        self._emit()

    def rub_out(self) -> None:
        """Take the last sign away again."""
        if self._typing is not None:
            self._typing = self._typing.rubbed_out()
        self._emit()

    def enter(self) -> None:
        """Keep what was typed and go to the next open field of the step; with nothing typed, only go there."""
        typing = self._typing
        if typing is None:
            self._emit()
            return
        field = typing.field
        if not typing.text and not typing.side and not self._session.is_open(field):
            self._go_on(field)
            return
        trouble = typing.trouble()
        if not trouble and not self._session.is_writable(field):
            trouble = NOT_WRITABLE
        if trouble:
            self._say(trouble, refused=True)
            self._emit()
            return
        self._say("")
        self._session.commit(field, typing.value())
        trouble = self._session.trouble_at(field)
        if trouble or self._is_refused:
            self._say(f"{self._message} {trouble}".strip(), refused=True)
            self._emit()
            return
        self._go_on(field)

    def leave(self) -> None:
        """Follow the session no more."""
        self._session.state_changed.disconnect(self._follow)
        self._session.refused.disconnect(self._refuse)

    def _show_place(self, number: int, *, from_behind: bool = False) -> None:
        place = self._session.places[max(0, min(number, len(self._session.places) - 1))]
        self._place_id = place.id
        self._side = place.side or self._side
        self._is_work = is_at_propeller(place) and (from_behind or not place.boxes)
        self._typing = None
        self._type_into(self._open_field(None) or self._board_field(None))
        self._emit()

    def _go_on(self, after: Field) -> None:
        self._typing = None
        self._type_into(self._open_field(after) or self._board_field(after))
        self._emit()

    def _type_into(self, field: Field | None) -> None:
        if field is not None:
            self._typing = Typing(field, is_split(self._session.state))
            self._session.began(field)

    def _fields(self) -> tuple[Field, ...]:
        if self.place.id == "measure":  # the way of measuring is chosen at the card, its one reading with it
            return ()
        return tuple(field for field in fields_of(self.place) if is_by_keypad(field))

    def _open_field(self, after: Field | None) -> Field | None:
        """Return the next field of the step that is open, round to the first."""
        asked = {field.key for field in asked_fields(self.place)}
        fields = [field for field in self._fields() if field.key in asked]
        keys = [field.key for field in fields]
        start = keys.index(after.key) + 1 if after and after.key in keys else 0
        return next((field for field in fields[start:] + fields[:start] if self._session.is_open(field)), None)

    def _board_field(self, after: Field | None) -> Field | None:
        """Return the next thing of the safe-state board, which asks for nothing and is gone through in its order."""
        board = [field for field in self._fields() if field.path.startswith("@safe.")]
        keys = [field.key for field in board]
        start = keys.index(after.key) + 1 if after and after.key in keys else 0
        return board[start] if start < len(board) else None

    def _begins_another(self) -> Field | None:
        """Return the first field of the entry that comes next, else the first field of the step."""
        new = [field for group in self.place.groups if group.is_new for field in group.fields if is_by_keypad(field)]
        return next(iter((*new, *self._fields())), None)

    def _entry(self) -> Entry | None:
        typing = self._typing
        if typing is not None:
            stands = self._session.value(typing.field)
            shown = "" if stands in (None, False) else ("yes" if stands is True else str(stands))
            unit = f", {typing.field.unit}" if typing.field.unit else ""
            return Entry(f"{typing.field.label}{unit}", typing.echo, typing.hint(), shown)
        if not self._fields():
            asked = [field for field in asked_fields(self.place) if self._session.is_open(field)]
            return Entry(TO_FILL, "", "", AT_THE_CARD) if asked else None
        is_new = any(group.is_new for group in self.place.groups)
        hint = "Figures begin another reading." if is_new else "Up or Down: change one."
        return Entry(TO_FILL, "", hint, ALL_DONE)

    def _drawn(self) -> Pictures:
        """Return the drawings; they are made again only for another card or another magneto."""
        state, side = self._session.state, self._side
        if self._pictures is None or self._pictures[0] is not state or self._pictures[1] is not side:
            self._pictures = (state, side, pictures_of(state, side, View.PROPELLER))
        return self._pictures[2]

    def _last_typed(self) -> Tile:
        """Return the last reading that stands in the place."""
        typed = [
            Tile(f"Last reading: {field.label}", str(value))
            for field in self._fields()
            if field.kind is Kind.TEXT and (value := self._session.value(field)) is not None
        ]
        return typed[-1] if typed else Tile("Last reading", NOTHING)

    def _more(self) -> str:
        """Return what stands under the instruction; at the last place what stands against the card."""
        if self.place.shows is not Shows.ALL:
            return self.place.more or ("" if self._fields() else self._filled())
        lines = self._session.last_lines()
        rest = len(lines) - MOST_LINES
        return "\n".join((*lines[:MOST_LINES], *((f"and {rest} more, at the card",) if rest > 0 else ())))

    def _filled(self) -> str:
        """Return what stands at a place that is filled at the card, so that it can be looked at from the propeller."""
        session = self._session
        filled = [(field, session.value(field)) for field in fields_of(self.place)]
        return "   ".join(_said(field, value) for field, value in filled if value not in (None, "", False))

    def _has_two_views(self) -> bool:
        return is_at_propeller(self.place) and bool(self.place.boxes)

    def _next_words(self) -> str:
        if self._has_two_views() and not self._is_work:
            return "the readings"
        places = self._session.places
        return places[self.number + 1].title if self.number + 1 < len(places) else ""

    def _follow(self, _state: object) -> None:
        """Take up what changed; a field that is gone takes what was typed into it along."""
        if self._typing is not None and self._typing.field.key not in [field.key for field in self._fields()]:
            self._typing = None
        self._emit()

    def _refuse(self, words: str) -> None:
        self._say(words, refused=True)
        self._emit()

    def _say(self, words: str, *, refused: bool = False) -> None:
        self._message, self._is_refused = words, refused

    def _emit(self) -> None:
        self.changed.emit(self.shown())


def _said(field: Field, value: object) -> str:
    words = dict(field.choices).get(str(value).lower() if isinstance(value, bool) else str(value), "")
    text = words or ("-".join(str(one) for one in value) if isinstance(value, tuple) else str(value))
    return f"{field.label}: {text} {field.unit}".strip()
