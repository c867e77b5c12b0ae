"""The pure core: values and rules, standard library only."""
