"""View-models: what a page shows and does, on QtCore only."""
