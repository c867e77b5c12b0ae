"""What the keypad can fill in a place, and the reading while its figures are typed."""

from dataclasses import dataclass, replace

from desktop.core.timing.typed_paths import Value
from desktop.viewmodels.hangar.hangar_words import needs_side
from desktop.viewmodels.pieces.fields import Field, Kind, Place, fields_of

BEFORE, AFTER, COMPRESSION = "before", "after", "compression"
MOST_SIGNS = 12
YES_NO = "1 yes   0 no"
AT_THE_BLADE = ("stop[", "left.approach[", "right.approach[")
ON_THE_DISC = (*AT_THE_BLADE, "measure.centre_by_feel")
_TAKEN = (*ON_THE_DISC, "run_up.", "@step.", "@safe.")


def is_by_keypad(field: Field) -> bool:
    """Tell whether figures can fill a field: a reading, a tick, or one of a few words."""
    if not field.path.startswith(_TAKEN):
        return False
    if field.kind is Kind.TEXT and field.path.startswith("@step."):
        return bool(field.unit) or field.label.startswith("Reading")
    return True


def is_on_disc(field: Field) -> bool:
    """Tell whether a field is read on the disc or on the engine's marks."""
    return field.kind is Kind.TEXT and field.path.startswith(ON_THE_DISC)


def is_at_propeller(place: Place) -> bool:
    """Tell whether a place is filled while the propeller is turned: stop contacts and approaches."""
    return any(field.path.startswith(AT_THE_BLADE) for field in fields_of(place))


@dataclass(frozen=True, slots=True)
class Typing:
    """Figures as they are typed into one field. ``side`` is before, after or nothing."""

    field: Field
    is_split: bool
    text: str = ""
    side: str = ""

    @property
    def takes_side(self) -> bool:
        """Whether a side of TDC belongs to the reading."""
        return self.is_split and is_on_disc(self.field)

    @property
    def echo(self) -> str:
        """What was typed so far, as it will stand in the field; of a choice its word."""
        if self.field.kind is Kind.TICK:
            return {"1": "yes", "0": "no"}.get(self.text, self.text)
        if self.field.kind is Kind.CHOICE:
            chosen = self._choice()
            return chosen or self.text
        return f"{self.text} {self.side}".strip()

    def typed(self, sign: str) -> "Typing":
        """Return it with one more sign: a figure, a point, - for before, + for after, / for from compression."""
        if sign == "/" and self.field.path.endswith(".from"):
            return replace(self, text=COMPRESSION, side="")
        if sign in "+-" and self.takes_side:
            return replace(self, side=AFTER if sign == "+" else BEFORE)
        if sign.isdecimal() and self.field.kind is not Kind.TEXT:
            return replace(self, text=sign)
        is_number = self.field.kind is Kind.TEXT and self.text != COMPRESSION and len(self.text) < MOST_SIGNS
        if is_number and (sign.isdecimal() or (sign == "." and "." not in self.text)):
            return replace(self, text=self.text + sign)
        return self

    def rubbed_out(self) -> "Typing":
        """Return it with one sign less: the side first, then the figures from the end; a word goes whole."""
        if self.side:
            return replace(self, side="")
        return replace(self, text="" if self.text == COMPRESSION else self.text[:-1])

    def trouble(self) -> str:
        """Say why it cannot be kept yet; empty when it can."""
        if self.field.kind is Kind.TICK and self.text not in ("0", "1"):
            return "Type 1 for yes or 0 for no."
        if self.field.kind is Kind.CHOICE and not self._choice():
            return f"Type a figure from 1 to {len(self.field.choices)}."
        if self.field.kind is Kind.TEXT and not self.text.strip("."):
            return "Type the figures first."
        if self.takes_side and not self.side and self.text != COMPRESSION and needs_side(self.text):
            return "Which side of TDC? - is before, + is after."
        return ""

    def value(self) -> Value:
        """Return what is kept; ``trouble`` is empty."""
        if self.field.kind is Kind.TICK:
            return self.text == "1"
        if self.field.kind is Kind.CHOICE:
            return self.field.choices[int(self.text) - 1][0]
        return f"{self.text.rstrip('.')} {self.side}".strip()

    def hint(self) -> str:
        """Return which keys fill the field."""
        if self.field.kind is Kind.TICK:
            return YES_NO
        if self.field.kind is Kind.CHOICE:
            return "   ".join(f"{number} {words}" for number, (_, words) in enumerate(self.field.choices, 1))
        sides = "- before   + after" if self.takes_side else ""
        compression = "/ from compression" if self.field.path.endswith(".from") else ""
        return "   ".join(part for part in (sides, compression) if part) or "0 to 9 and the point"

    def _choice(self) -> str:
        place = int(self.text or "0") - 1
        return self.field.choices[place][1] if 0 <= place < len(self.field.choices) else ""
