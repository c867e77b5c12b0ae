"""Files from outside."""
