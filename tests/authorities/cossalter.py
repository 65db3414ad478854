"""Cossalter, Motorcycle Dynamics, 2nd ed. 2006, chapter 1 (from memory): no kingpin inclination.

sin(camber) = sin(turn) sin(caster), tan(steer) = tan(turn) cos(caster), the turn being about the axis.
"""

CASTER_DEG, TURN_DEG = 20.0, 20.0
CAMBER_DEG, STEER_DEG = 6.717713, 18.881721
