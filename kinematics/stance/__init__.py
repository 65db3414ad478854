"""Four wheels on the road: springs, energy, equilibrium, and what a standing kart shows."""
