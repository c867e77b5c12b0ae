"""Whether there is a screen."""

from collections.abc import Mapping


def has_screen(environ: Mapping[str, str], platform: str) -> bool:
    """Tell whether a person would see a window: a display, and no platform that only pretends to have one."""
    if environ.get("QT_QPA_PLATFORM", "").split(":")[0] in ("offscreen", "minimal"):
        return False
    return platform in ("darwin", "win32") or bool(environ.get("DISPLAY") or environ.get("WAYLAND_DISPLAY"))


def could_show_window(environ: Mapping[str, str], platform: str) -> bool:
    """Tell whether a window can be made at all: there is a screen, or a platform was named that needs none."""
    return bool(environ.get("QT_QPA_PLATFORM")) or has_screen(environ, platform)
