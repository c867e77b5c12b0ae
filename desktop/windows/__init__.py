"""Widgets: they build, lay out and connect; they paint drawings. Nothing is parsed or decided here."""
