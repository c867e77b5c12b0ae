"""The demo: three invented jobs worked out and printed, and an invented shop built the way people would build it."""

from desktop.demo.three_jobs import heading_of, run_demo, shown_card

__all__ = ["heading_of", "run_demo", "shown_card"]
