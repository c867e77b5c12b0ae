"""What counts as a reason: a sentence that somebody else understands ten years later."""

LEAST_WORDS = 3
LEAST_SIGNS = 12


def is_reason(text: str) -> bool:
    """Tell whether a text is at least a short sentence: three words and twelve signs."""
    words = [word for word in text.split() if any(sign.isalnum() for sign in word)]
    return len(words) >= LEAST_WORDS and len(text.strip()) >= LEAST_SIGNS
