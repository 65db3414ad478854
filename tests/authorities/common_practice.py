"""What the kart trade does: common practice, no source. Figures are plausible, none is a measurement."""

# A bush rated 1.5 deg clocked in steps of 18 deg: the first step from the caster extreme, deg.
BUSH_DEG, STEP_DEG = 1.5, 18.0
STEP_CAMBER_DEG, STEP_CASTER_DEG = 0.4635, 0.0734
# The same as a workshop reports it, to its printed digits.
REPORTED_CAMBER_DEG, REPORTED_CASTER_DEG = 0.47, 0.07

BUSH_SIZES_DEG = (0.0, 5.0)
DELIVERED_BUSH_DEG = 3.0
BUILT_IN_CASTER_DEG, BUILT_IN_CASTER_RANGE_DEG = 12.0, (9.0, 20.0)

# Tie rods have a left- and a right-hand thread, M8x1.25 as a rule: one turn moves two pitches.
ROD_PITCH_MM, ROD_TURN_MM = 1.25, 2.5
