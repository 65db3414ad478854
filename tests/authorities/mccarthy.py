"""McCarthy & Soh, Geometric Design of Linkages, Springer 2011, appendix A, (A.1)-(A.7): the form of the
closure of a four-bar. The spatial example is constructed; its numbers were computed by independent code
(Rodrigues rotation and scalar root finding).
"""

COLUMN_FOOT, COLUMN_INCLINATION_DEG = (-150.0, 0.0, 130.0), 45.0
INNER_JOINT = (-190.0, 25.0, 90.0)
KINGPIN_POINT, CASTER_DEG, KINGPIN_INCLINATION_DEG = (27.62625, 430.0, 0.0), 12.0, 10.0
OUTER_JOINT = (-85.0, 405.0, 130.0)
ROD_LENGTH_MM = 396.2638010215
# Handwheel and stub turn, deg, printed to 1e-6.
TURNS_DEG = (
    (-60.0, -32.612834),
    (-45.0, -27.726920),
    (-30.0, -20.250717),
    (-10.0, -7.374394),
    (0.0, 0.0),
    (10.0, 7.896296),
    (30.0, 25.304099),
    (45.0, 40.621222),
)
OTHER_ASSEMBLY_AHEAD_DEG = 126.752578
BINDS_AT_DEG = 58.611745
OUT_OF_REACH_DEG = 60.0
