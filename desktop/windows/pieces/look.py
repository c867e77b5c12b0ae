"""Colour, type and space of the windows: an engineering drawing on a clean bench, light, dark or high contrast."""

from dataclasses import dataclass

from PySide6.QtGui import QColor, QFont, QFontDatabase, QPalette
from PySide6.QtWidgets import QApplication, QWidget

TEXT_FAMILY = "Atkinson Hyperlegible Next"
CODE_FAMILY = "B612 Mono"
SCALES = (100, 125, 150, 175, 200)


@dataclass(frozen=True, slots=True)
class Colours:
    """The colours of one theme, by what they are used for."""

    ground: str
    sheet: str
    ink: str
    quiet: str
    line: str
    act: str
    good: str
    ask: str
    stop: str


LIGHT = Colours("#F6F4EE", "#FFFFFF", "#1D2730", "#56616B", "#C8C3B7", "#0F5C73", "#2B6A3A", "#7A4B00", "#A1261D")
DARK = Colours("#14191D", "#1D242A", "#ECE8DF", "#A9B3BA", "#3C4750", "#7CC3DA", "#8FCF9B", "#E8B85C", "#F39A8F")
CONTRAST = Colours("#000000", "#000000", "#FFFFFF", "#E8E8E8", "#FFFFFF", "#FFE45C", "#8CFFA0", "#FFC94D", "#FFB3A8")
"""High contrast: text at least 7 to 1, lines at least 3 to 1 on both grounds."""
THEMES = (LIGHT, DARK, CONTRAST)


@dataclass(frozen=True, slots=True)
class Look:
    """A theme and a size of text, 100 to 200 percent."""

    colours: Colours = LIGHT
    percent: int = 100

    def other_theme(self) -> "Look":
        """Return the same size of text in the theme that follows: light, dark, high contrast."""
        return Look(THEMES[(THEMES.index(self.colours) + 1) % len(THEMES)], self.percent)

    def resized(self, steps: int) -> "Look":
        """Return the same theme so many steps larger, or smaller, within the sizes that there are."""
        place = min(max(SCALES.index(self.percent) + steps, 0), len(SCALES) - 1)
        return Look(self.colours, SCALES[place])

    def dress(self, window: QWidget) -> None:
        """Give a window, and with it the whole application, this look."""
        application = QApplication.instance()
        if isinstance(application, QApplication):
            application.setPalette(self.palette())
        window.setStyleSheet(self.sheet())

    def points(self, size: float) -> float:
        """Return a size of the type scale at this percentage."""
        return size * self.percent / 100

    def pixels(self, length: int) -> int:
        """Return a length of the grid at this percentage."""
        return round(length * self.percent / 100)

    def font(self, size: float = 11, *, bold: bool = False, code: bool = False) -> QFont:
        """Return a font of the type scale, with figures of one width."""
        font = QFont(CODE_FAMILY if code else TEXT_FAMILY)
        font.setPointSizeF(self.points(size))
        font.setBold(bold)
        font.setFeature(QFont.Tag("tnum"), 1)
        return font

    def palette(self) -> QPalette:
        """Return the palette of the theme; it is set explicitly, since desktops do not agree on dark."""
        palette = QPalette()
        roles = {
            QPalette.ColorRole.Window: self.colours.ground,
            QPalette.ColorRole.Base: self.colours.sheet,
            QPalette.ColorRole.AlternateBase: self.colours.ground,
            QPalette.ColorRole.Button: self.colours.sheet,
            QPalette.ColorRole.Text: self.colours.ink,
            QPalette.ColorRole.WindowText: self.colours.ink,
            QPalette.ColorRole.ButtonText: self.colours.ink,
            QPalette.ColorRole.PlaceholderText: self.colours.quiet,
            QPalette.ColorRole.ToolTipBase: self.colours.sheet,
            QPalette.ColorRole.ToolTipText: self.colours.ink,
            QPalette.ColorRole.Highlight: self.colours.act,
            QPalette.ColorRole.HighlightedText: self.colours.sheet,
            QPalette.ColorRole.Link: self.colours.act,
        }
        for role, colour in roles.items():
            palette.setColor(role, QColor(colour))
        for role in (QPalette.ColorRole.Text, QPalette.ColorRole.WindowText, QPalette.ColorRole.ButtonText):
            palette.setColor(QPalette.ColorGroup.Disabled, role, QColor(self.colours.quiet))
        return palette

    def sheet(self) -> str:
        """Return the style sheet of the theme at this size of text."""
        c = self.colours
        pad = self.pixels(8)
        return f"""
            QWidget {{ font-family: "{TEXT_FAMILY}"; font-size: {self.points(11)}pt; color: {c.ink}; }}
            QMainWindow, QDialog, QScrollArea, QWidget#ground {{ background: {c.ground}; }}
            QWidget#sheet, QScrollArea#sheet {{ background: {c.sheet}; }}
            QScrollArea {{ border: none; }}
            QLabel {{ background: transparent; }}
            QLabel#title {{ font-size: {self.points(20)}pt; font-weight: bold; }}
            QLabel#task {{ font-size: {self.points(13)}pt; color: {c.quiet}; }}
            QLabel#group {{ font-size: {self.points(13)}pt; font-weight: bold; }}
            QLabel#quiet {{ color: {c.quiet}; }}
            QLabel#small {{ color: {c.quiet}; font-size: {self.points(9)}pt; }}
            QLabel#fault {{ color: {c.stop}; }}
            QLabel#refusal {{ color: {c.stop}; font-weight: bold; }}
            QLineEdit, QComboBox {{
                background: {c.sheet}; border: 1px solid {c.quiet}; padding: {pad // 2}px {pad}px;
                font-size: {self.points(13)}pt; min-height: {self.pixels(26)}px; selection-background-color: {c.act};
                selection-color: {c.sheet};
            }}
            QLineEdit {{ placeholder-text-color: {c.quiet}; }}
            QLineEdit:focus, QComboBox:focus {{ border: 2px solid {c.act}; padding: {pad // 2 - 1}px {pad - 1}px; }}
            QLineEdit[wrong="true"], QComboBox[wrong="true"] {{ border: 2px solid {c.stop}; }}
            QComboBox QAbstractItemView {{ background: {c.sheet}; border: 1px solid {c.quiet}; }}
            QComboBox::drop-down {{ border: none; width: {self.pixels(24)}px; }}
            QComboBox::down-arrow {{ image: none; }}
            QPushButton {{
                background: {c.sheet}; border: 1px solid {c.quiet}; padding: {pad}px {2 * pad}px;
            }}
            QPushButton:focus {{ border: 2px solid {c.act}; }}
            QPushButton#act {{ background: {c.act}; color: {c.sheet}; border: 2px solid {c.act}; font-weight: bold; }}
            QPushButton#act:focus {{ border: 2px solid {c.ink}; }}
            QPushButton:disabled {{ color: {c.quiet}; }}
            QTableView {{ background: {c.sheet}; border: none; outline: none; }}
            QHeaderView, QHeaderView::section {{
                background: {c.ground}; color: {c.quiet}; border: none; font-size: {self.points(9)}pt;
            }}
            QHeaderView::section {{
                border-bottom: 1px solid {c.line}; padding: {pad // 2}px {pad // 2}px {pad // 2}px {self.pixels(12)}px;
            }}
            QHeaderView::section:first {{ padding-left: {self.pixels(24)}px; }}
            QToolTip {{ background: {c.sheet}; color: {c.ink}; border: 1px solid {c.quiet}; padding: {pad // 2}px; }}
            QMenuBar, QMenu {{ background: {c.ground}; }}
            QMenuBar::item {{ padding: {pad // 2}px {pad}px; background: transparent; }}
            QMenuBar::item:selected, QMenu::item:selected {{ background: {c.act}; color: {c.sheet}; }}
            QMenu {{ border: 1px solid {c.quiet}; }}
            QMenu::item {{ padding: {pad // 2}px {3 * pad}px; }}
            QFrame#rule {{ background: {c.line}; border: none; max-height: 1px; min-height: 1px; }}
            QFrame#edge-stops {{ background: {c.stop}; border: none; }}
            QFrame#edge-explain {{ background: {c.ask}; border: none; }}
            QFrame#edge-note {{ background: {c.line}; border: none; }}
        """


def load_fonts(faces: tuple[bytes, ...]) -> None:
    """Load the shipped faces. Raise RuntimeError when one is missing: text would become boxes."""
    for face in faces:
        QFontDatabase.addApplicationFontFromData(face)
    missing = {TEXT_FAMILY, CODE_FAMILY} - set(QFontDatabase.families())
    if missing:
        raise RuntimeError(f"the shipped fonts could not be loaded: {', '.join(sorted(missing))}")
