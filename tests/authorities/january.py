"""January, Steering Geometry and Caster Measurement, SAE 850219, 1985 (abstract read): caster by camber.

Camber is read at equal road steer to each side; caster is the difference times a factor. The shop's 1.5
is common practice. The rows were computed by independent code.
"""

SWEEP_DEG = 20.0
FACTOR = 1.461902
SHOP_FACTOR, SHOP_FACTOR_HIGH_PERCENT = 1.5, 2.6
CASTER_DEG, KINGPIN_INCLINATION_DEG = 12.8, 6.5
CAMBER_IN_DEG, CAMBER_OUT_DEG = 4.8577, -4.0356
FROM_FACTOR_DEG, EXACT_DEG = 13.001, 12.800
# Pitch of a line fixed in the wheel, locked against spin and level straight ahead, at + and - sweep.
LINE_PITCH_DEG = (1.4520, -3.0013)
