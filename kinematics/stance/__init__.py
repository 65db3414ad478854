"""Four wheels on the road: springs, energy, equilibrium."""
