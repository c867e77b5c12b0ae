"""The desktop program: its rooms, from the command line down to the pure core."""
