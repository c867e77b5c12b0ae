"""The shop file: one SQLite database, opened, checked, changed in whole transactions, and searched."""
