"""What to do when something in a shop file is not as it was kept; the same words everywhere."""

VERIFY = "run 'sparkwright verify' on the shop file, and restore the newest backup that is sound."
"""What to do, after a colon."""
CHECK = f"{VERIFY[0].upper()}{VERIFY[1:]}"
"""The same as a sentence of its own."""
RESTORE = "Restore the newest backup that is sound."
REMAKE = "Make the lists again from the records: sparkwright doctor SHOP --remake-lists"
"""What to do when only a list is not as the records say; no point follows the command."""
