"""The shop's work."""
