"""A record as it is signed: text that is shown, and nothing else. What you see is what you sign.

Every text is visible: no invisible sign, no line break, no space at either end, in Unicode's composed form (NFC), so
that two records that look the same are the same. ``rows_of`` and ``visible`` turn any typed text into such text.
"""

import unicodedata
from collections.abc import Iterator
from dataclasses import dataclass, fields, is_dataclass
from datetime import datetime, timedelta
from enum import StrEnum

MOST_SIGNS = 16_000
"""Most signs of one text."""
SPLIT = ": "
"""Stands between a label and its text where a record is shown, and in no label and no title."""
_SEAL_SIGNS = 64
_MAY_BE_EMPTY = ("certificate_number", "certificate_kind")
_HEX = frozenset("0123456789abcdef")
# Signs that count as printable and are not seen: the printable ones of Unicode's Default_Ignorable_Code_Point
# (DerivedCoreProperties.txt), and those that are drawn as nothing: the empty pattern of Braille, the null notehead, the
# two hieroglyphic blanks.
_UNSEEN = frozenset(
    map(
        chr,
        (
            *(0x034F, 0x115F, 0x1160, 0x17B4, 0x17B5, 0x180B, 0x180C, 0x180D, 0x180F, 0x2800, 0x3164, 0xFFA0),
            *range(0xFE00, 0xFE10),
            *(0x13441, 0x13442, 0x16FE4, 0x1D159),
            *range(0xE0100, 0xE01F0),
        ),
    )
)


class RecordKind(StrEnum):
    """Every kind of record that people sign."""

    LIMITS_SHEET = "limits sheet"
    CARD_SUBMITTED = "card submitted"
    CARD_ACCEPTED = "card accepted"
    CARD_RETURNED = "card returned"
    APPROVED = "approved for return to service"
    NOT_APPROVED = "not approved"
    CORRECTION = "correction"
    VOID = "void"
    PERSON_ENROLLED = "person enrolled"
    PERSON_WITHDRAWN = "person withdrawn"
    KEY_REPLACED = "key replaced"
    TOOL_RECORD = "tool record"
    RESTORE = "restore"


@dataclass(frozen=True, slots=True)
class Row:
    """One thing that is said: a label and its text, neither of them empty."""

    label: str
    text: str

    def __post_init__(self) -> None:
        _refuse_names(self.label)


@dataclass(frozen=True, slots=True)
class Section:
    """Rows under a title."""

    title: str
    rows: tuple[Row, ...]

    def __post_init__(self) -> None:
        _refuse_names(self.title)


@dataclass(frozen=True, slots=True)
class Signer:
    """Who signs, as they were at that time, and what the signature means, in a sentence.

    ``person`` is the id by which the shop knows them; a person without a certificate has an empty number and kind.
    """

    person: str
    name: str
    certificate_number: str
    certificate_kind: str
    rights: tuple[str, ...]
    meaning: str


@dataclass(frozen=True, slots=True)
class About:
    """Names another record by its number and by its seal: 64 small hexadecimal digits."""

    number: int
    digest: str

    def __post_init__(self) -> None:
        if type(self.number) is not int or self.number < 1 or not is_hex(self.digest):
            raise ValueError("a record is named by a number from 1 and 64 hexadecimal digits")


@dataclass(frozen=True, slots=True)
class PersonKey:
    """The key by which a person's signatures are known from now on: 64 small hexadecimal digits (Ed25519)."""

    person: str
    public_key_hex: str

    def __post_init__(self) -> None:
        if not is_hex(self.public_key_hex):
            raise ValueError("a key is 64 hexadecimal digits")


@dataclass(frozen=True, slots=True)
class Record:
    """What is signed. ValueError for a text that could not be shown as it is, and for a time without its offset.

    ``at`` is ISO text in whole seconds with the offset from UTC (``time_text``); ``subject`` says what it is about in a
    form of ``subjects``. ``countersigners`` sign the same bytes after the signer.
    """

    kind: RecordKind
    shop_id: str
    shop_name: str
    at: str
    subject: str
    signer: Signer
    about: tuple[About, ...] = ()
    sections: tuple[Section, ...] = ()
    keys: tuple[PersonKey, ...] = ()
    countersigners: tuple[Signer, ...] = ()

    def __post_init__(self) -> None:
        for text in texts_in(self):
            if trouble := text_trouble(text):
                raise ValueError(f"{trouble}: {text[:80]!r}")
        if not _is_time(self.at):
            raise ValueError(f"no time in whole seconds with its offset: {self.at!r}")
        people = [one.person for one in self.signers]
        if len(set(people)) != len(people):
            raise ValueError("one person signs a record once")

    @property
    def signers(self) -> tuple[Signer, ...]:
        """Everybody who signs, in the order of the signatures."""
        return (self.signer, *self.countersigners)

    def section(self, title: str) -> Section | None:
        """Return the first section with a title."""
        return next((section for section in self.sections if section.title == title), None)


def text_trouble(text: str) -> str | None:
    """Say why a text cannot be signed as it stands; None when it can."""
    if not text:
        return "an empty text says nothing"
    if len(text) > MOST_SIGNS:
        return f"a text of more than {MOST_SIGNS} signs"
    if not text.isprintable() or text != text.strip():
        return "a text with an invisible sign"
    return None if unicodedata.is_normalized("NFC", text) else "a text that is not in its composed form"


def visible(text: str) -> str:
    """Return a text as it can be signed: composed, no space at its ends, invisible signs as codes such as [U+202E]."""
    composed = unicodedata.normalize("NFC", text).strip()
    shown = "".join(sign if is_seen(sign) else f"[U+{ord(sign):04X}]" for sign in composed)
    return unicodedata.normalize("NFC", shown)


def is_seen(sign: str) -> bool:
    """Tell whether a sign is seen where it stands: printable, and neither a filler nor a selector of another sign.

    Records that were signed with a filler or a selector stay readable; none is signed any more.
    """
    return sign.isprintable() and sign not in _UNSEEN


def rows_of(label: str, text: str, blank: str = "none") -> tuple[Row, ...]:
    """Return a typed text as rows, one a line; the lines after the first are "continued". ``blank`` stands for nothing.

    No text raises.
    """
    lines = [line for line in map(visible, text.splitlines()) if line] or [blank]
    return tuple(Row(label if place == 0 else f"{label}, continued", line) for place, line in enumerate(lines))


def time_text(moment: datetime) -> str:
    """Return a moment as records carry it: whole seconds, with its offset. ValueError for one without an offset."""
    text = moment.replace(microsecond=0).isoformat()
    if not _is_time(text):
        raise ValueError("a record needs a time with its offset from UTC in whole minutes")
    return text


def is_hex(text: str, signs: int = _SEAL_SIGNS) -> bool:
    """Tell whether a text is that many small hexadecimal digits."""
    return len(text) == signs and _HEX.issuperset(text)


def texts_in(value: object) -> Iterator[str]:
    """Yield every text of a record or a part of it, in order; a certificate that is not there is no text.

    TypeError for anything that is neither text nor a part of a record.
    """
    if isinstance(value, str):
        yield value
    elif isinstance(value, tuple):
        for entry in value:
            yield from texts_in(entry)
    elif isinstance(value, About):
        yield value.digest
    elif is_dataclass(value):
        for one in fields(value):
            held = getattr(value, one.name)
            if held != "" or one.name not in _MAY_BE_EMPTY:
                yield from texts_in(held)
    else:
        raise TypeError(f"neither text nor a part of a record: {value!r:.80}")


def _is_time(text: str) -> bool:
    try:
        moment = datetime.fromisoformat(text)
    except ValueError:
        return False
    offset = moment.utcoffset()
    return (
        offset is not None
        and not offset % timedelta(minutes=1)
        and not moment.microsecond
        and moment.isoformat() == text
    )


def _refuse_names(name: str) -> None:
    if SPLIT in name:
        raise ValueError(f"a label or title may not hold {SPLIT!r}: {name[:80]!r}")
