"""How sure figures are: a scenario as many likely karts, and what is read of all of them at once."""
