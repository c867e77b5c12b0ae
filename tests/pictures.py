"""Pictures of every place and paper, to be looked at: ``python -m tests.pictures FOLDER``."""

import os
import sys
from collections.abc import Iterator
from pathlib import Path

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

from PySide6.QtGui import QImage
from PySide6.QtWidgets import QApplication

from desktop import assembly
from desktop.app import application, make_window, page_pictures
from desktop.demo import heading_of
from desktop.files.demo_jobs import demo_jobs
from desktop.usecases.fill_card import look_at
from desktop.windows.look import DARK, LIGHT, Look
from desktop.windows.main_window import MainWindow

LOOKS = {"light": Look(LIGHT, 100), "dark": Look(DARK, 100), "large": Look(LIGHT, 200)}
PAPER_DPI = 96


def take_pictures(folder: Path) -> Iterator[Path]:
    """Write a picture of each place of each demo card in each look, and of each page of its paper."""
    folder.mkdir(parents=True, exist_ok=True)
    application()
    for job, typed in demo_jobs():
        window = make_window()
        window.session.begin_with(look_at(typed, assembly.rulebook()))
        window.show()
        for name, look in LOOKS.items():
            window.set_look(look)
            for number, place in enumerate(window.session.places):
                window.page.show_place(number)
                yield _grab(window, folder / f"{job.name}-{name}-{number + 1:02}-{place.id}.png")
        window.close()
        checked = assembly.check_typed(typed)
        for blank in (False, True):
            for size in ("letter", "a4"):
                pdf = assembly.paper_of(checked, heading_of(job), "a4" if size == "a4" else "letter", blank=blank)
                kind = "blank" if blank else "filled"
                for number, page in enumerate(page_pictures(pdf, PAPER_DPI), 1):
                    picture = folder / f"{job.name}-paper-{size}-{kind}-{number:02}.png"
                    image = QImage(page.pixels, page.width, page.height, page.stride, QImage.Format.Format_RGB888)
                    image.save(str(picture))
                    yield picture


def _grab(window: MainWindow, place: Path) -> Path:
    for _ in range(3):  # a layout takes its heights a round later than its widths
        QApplication.processEvents()
    window.grab().save(str(place))
    return place


if __name__ == "__main__":
    if len(sys.argv) != 2:
        sys.exit("Name the folder for the pictures: python -m tests.pictures FOLDER")
    for written in take_pictures(Path(sys.argv[1])):
        print(written)
