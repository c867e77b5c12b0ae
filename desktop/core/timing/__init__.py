"""The timing work: angles, TDC, approaches, drive, surety, and what follows from them."""
