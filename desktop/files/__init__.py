"""Text and TOML from outside, turned into values and back."""
