"""A path of the readings, said in words: ``left.approach[2].light`` is "left magneto, approach 2, light"."""

import re

_PART = re.compile(r"([a-z_]+)(?:\[([0-9]+)\])?")
_FIRST = {"left": "left magneto", "right": "right magneto", "measure": "way of measuring"}
_WORDS = {
    "began": "from",
    "stop": "stop contacts",
    "run_up": "run-up",
    "with_rotation": "with rotation",
    "against_rotation": "against rotation",
    "with": "with rotation",
    "against": "against rotation",
}


def path_words(path: str) -> str:
    """Return a path in words, from the table to the field."""
    words = []
    for place, part in enumerate(_PART.findall(path)):
        name, number = part
        said = _FIRST.get(name) if place == 0 else None
        said = said or _WORDS.get(name) or name.replace("_", " ")
        words.append(f"{said} {number}" if number else said)
    return ", ".join(words)
