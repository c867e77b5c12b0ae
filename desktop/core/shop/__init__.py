"""The shop's work: task cards."""
