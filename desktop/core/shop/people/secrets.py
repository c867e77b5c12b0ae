"""A signing secret: what may be one, how long one waits after wrong tries, and when the key is locked.

A secret of few characters is found by trying all of them, so there is a least length and a list of bad choices, and
nothing else: no rules of composition, no change by date (NIST SP 800-63B, section 5.1.1.2, from memory).
"""

import re
import unicodedata
from collections.abc import Iterator, Sequence
from collections.abc import Set as AbstractSet
from dataclasses import dataclass
from datetime import datetime, timedelta
from itertools import pairwise
from math import ceil

LEAST_CHARACTERS = 8
MOST_CHARACTERS = 256
MOST_TRIES = 10
"""Wrong tries in a row that lock a key."""

# So few signs, said over and over, are one choice among few: "abcabcabc", "20312031".
_SHORT_PIECE = 4
_STEP = timedelta(minutes=1)
_ENDS = re.compile(r"^[\W\d_]+|[\W\d_]+$")
_BETWEEN = re.compile(r"[\W_]+")


@dataclass(frozen=True, slots=True)
class Tries:
    """How often a key was tried, and how often when its secret was last right; both only grow.

    ``last`` is the time of the newest try, None before the first. Raise ValueError unless 0 <= forgiven <= begun.
    """

    begun: int = 0
    forgiven: int = 0
    last: datetime | None = None

    def __post_init__(self) -> None:
        if not 0 <= self.forgiven <= self.begun:
            raise ValueError("no more tries can be forgiven than were begun")

    @property
    def wrong(self) -> int:
        """The wrong tries in a row."""
        return self.begun - self.forgiven

    @property
    def is_locked(self) -> bool:
        """Whether a second records keeper has to unlock the key."""
        return self.wrong >= MOST_TRIES


def secret_bytes(secret: str) -> bytes:
    """Return the bytes of a secret: the same for every way in which a keyboard composes its signs.

    NFC as in RFC 8265, section 4.2.2. No text raises: the exception would hold the secret.
    """
    return unicodedata.normalize("NFC", secret).encode("utf-8", "surrogatepass")


def secret_troubles(secret: str, names: Sequence[str], bad_choices: AbstractSet[str]) -> tuple[str, ...]:
    """Say what keeps a text from being a signing secret, each with what to do; nothing for one that may be it.

    ``names`` are the person's name and initials and the shop's name; ``bad_choices`` are in small letters. No sentence
    repeats anything of the secret.
    """
    composed = unicodedata.normalize("NFC", secret)
    signs = len(composed)
    if signs < LEAST_CHARACTERS:
        return (f"The secret has {signs} characters. Choose one of at least {LEAST_CHARACTERS}: four words are good.",)
    if signs > MOST_CHARACTERS:
        return (f"The secret has more than {MOST_CHARACTERS} characters. Choose a shorter one.",)
    if not composed.isprintable():
        return ("An invisible sign stands in the secret. Type it again, without pasting.",)
    likenesses = set(_likenesses(composed))
    if likenesses & _forms(names):
        return ("The secret is a name that everybody here knows. Choose words that have nothing to do with you.",)
    if likenesses & bad_choices or any(_is_one_run(one) for one in likenesses):
        return ("The secret is one that is tried first. Choose four words that do not belong together.",)
    return ()


def seconds_to_wait(tries: Tries, now: datetime) -> int:
    """Return how many seconds from ``now`` the key cannot be tried: 1 after one wrong try, then twice as long each.

    A time before the last try counts as no time passed: setting the clock back never shortens a wait.
    """
    if not tries.wrong or tries.last is None:
        return 0
    whole = 1 << min(tries.wrong - 1, MOST_TRIES)
    passed = max(0.0, (now - tries.last).total_seconds())
    return max(0, ceil(whole - passed))


def is_clock_back(tries: Tries, now: datetime) -> bool:
    """Tell whether the clock was set back: it stands before the last try by more than a minute.

    A clock that is kept right over a network steps back by less.
    """
    return tries.last is not None and tries.last - now > _STEP


def joined(in_file: Tries, on_machine: Tries | None) -> Tries:
    """Return what counts of two counts of one key: the larger, so that setting one of them back resets nothing.

    Neither count of the result is smaller than either side's.
    """
    if on_machine is None:
        return in_file
    wrong = max(in_file.wrong, on_machine.wrong)
    forgiven = max(in_file.forgiven, on_machine.forgiven)
    begun = max(in_file.begun, on_machine.begun, forgiven + wrong)
    times = [one.last for one in (in_file, on_machine) if one.last is not None]
    return Tries(begun, begun - wrong, max(times, default=None))


def with_one_more(tries: Tries, now: datetime) -> Tries:
    """Return the count with one more try: it is written down before the secret is looked at."""
    return Tries(tries.begun + 1, tries.forgiven, now)


def after_right_secret(tries: Tries, up_to: int | None = None) -> Tries:
    """Return the count after a right secret, whose try was number ``up_to``, or with everything forgiven."""
    return Tries(tries.begun, max(tries.forgiven, tries.begun if up_to is None else up_to), tries.last)


def is_set_back(in_file: Tries, on_machine: Tries | None) -> bool:
    """Tell whether the file's count was set back.

    This machine saw more tries than the file tells of, or wrong ones that the file has forgiven without it. The other
    way round is no sign of anything: the file was at another machine.
    """
    if on_machine is None:
        return False
    older = in_file.begun < on_machine.begun
    return older or (in_file.begun == on_machine.begun and in_file.forgiven > on_machine.forgiven)


def _likenesses(secret: str) -> Iterator[str]:
    """Give what a secret comes down to: in small letters, without signs between, its ends bared, not said twice."""
    plain = secret.casefold()
    for begun in (plain, _BETWEEN.sub("", plain)):
        one, shorter = begun, begun
        while shorter:
            one = shorter
            yield one
            shorter = _said_once(one)
            if shorter == one:
                shorter = _ENDS.sub("", one)
            if shorter == one:
                break


def _said_once(text: str) -> str:
    # A text is a piece said over and over when it stands inside itself doubled, and not at the beginning.
    return text[: (text + text).find(text, 1)]


def _is_one_run(text: str) -> bool:
    """Tell whether a text is a short piece over and over, or signs that follow each other: "hgfedcba"."""
    if _said_once(text) != text:
        return len(_said_once(text)) <= _SHORT_PIECE
    steps = {ord(after) - ord(before) for before, after in pairwise(text)}
    return len(text) >= _SHORT_PIECE and steps in ({1}, {-1})


def _forms(names: Sequence[str]) -> set[str]:
    found: set[str] = set()
    for name in names:
        plain = unicodedata.normalize("NFC", name).casefold()
        words = [word for word in _BETWEEN.split(plain) if word]
        whole = "".join(words)
        found |= {plain, whole, _ENDS.sub("", whole), "".join(reversed(words))}
        found |= {word for word in words if len(word) > 1}
    return found - {""}
