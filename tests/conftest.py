"""What all tests share: no display is needed, and Hypothesis repeats itself."""

import os
from collections.abc import Iterator

import pytest
from hypothesis import HealthCheck, settings

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

settings.register_profile("steady", derandomize=True, deadline=None, suppress_health_check=[HealthCheck.too_slow])
settings.load_profile("steady")


@pytest.fixture(autouse=True)
def nothing_is_left_over(request: pytest.FixtureRequest) -> Iterator[None]:
    """Delete the windows of a test when it ends, and fail when one is still there."""
    yield
    if "qtbot" not in request.fixturenames:
        return
    from PySide6.QtCore import QCoreApplication, QEvent  # noqa: PLC0415 - only tests of windows load Qt
    from PySide6.QtWidgets import QApplication  # noqa: PLC0415 - the same

    for widget in QApplication.topLevelWidgets():
        widget.deleteLater()
    QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete.value)
    QApplication.processEvents()
