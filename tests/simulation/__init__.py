"""A simulated engine, a mechanic at it, and tests in which the program must find out what is true of that engine."""
