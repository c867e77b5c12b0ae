"""Draws the kept page pictures again: `python -m tests.reports.renew_pictures`. Look at each before keeping it."""

from __future__ import annotations

from tests.reports.page_pictures import KEPT, picture_of
from tests.reports.sample_papers import PICTURES


def main() -> None:
    KEPT.mkdir(exist_ok=True)
    for old in KEPT.glob("*.png"):
        old.unlink()
    for name, (paper, page) in PICTURES.items():
        # Sixteen greys are enough to tell letters apart, and halve the files.
        picture = picture_of(paper, page).quantize(16)
        picture.save(KEPT / f"{name}.png", optimize=True)
        print(KEPT / f"{name}.png")


if __name__ == "__main__":
    main()
