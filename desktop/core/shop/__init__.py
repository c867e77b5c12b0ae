"""The shop's work: people, aircraft, tools, work orders with their states, and task cards."""
