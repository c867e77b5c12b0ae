"""Rules: data and one pure function each, and the rulebook that says them."""
