"""Electronic ignition, which this program refuses by name: it has no breaker points to time."""

import re

_WORDS = re.compile(
    r"\b(electronic ignition|electronic|solid[- ]state|fadec|cdi|ecu|capacitor discharge)\b", re.IGNORECASE
)


def electronic_word(text: str) -> str:
    """Return the word of a text that says electronic ignition, as it stands there; empty when none does."""
    found = _WORDS.search(text)
    return found[0] if found else ""
