"""Cards, sentences, fonts and demo data, read through importlib.resources."""
