"""Camber of a wheel without static camber or toe, turned about a leaning kingpin.

The exact relation sin(camber) = tan(caster) sin(steer) cos(camber) + tan(kpi) (1 - cos(steer) cos(camber)),
evaluated by independent code (Rodrigues rotation and scalar root finding); printed to 1e-4 deg.
Rows: caster, kingpin inclination, road steer (+ inside wheel), camber, deg.
"""

CAMBER_ROWS_DEG = (
    (12.8, 6.5, 10.0, 2.3638),
    (12.8, 6.5, 20.0, 4.8577),
    (12.8, 6.5, 30.0, 7.3966),
    (12.8, 6.5, -10.0, -2.1556),
    (12.8, 6.5, -20.0, -4.0356),
    (12.8, 6.5, -30.0, -5.5852),
    (20.0, 10.0, 30.0, 11.8287),
    (20.0, 10.0, -30.0, -8.8792),
    (10.0, 0.0, 20.0, 3.4512),
    (10.0, 0.0, -20.0, -3.4512),
    (0.0, 10.0, 30.0, 1.3561),
    (0.0, 10.0, -30.0, 1.3561),
)

# Thin disc of radius 130 mm, wheel centre on the axis line in side view, scrub 150 mm: road steer in deg
# and height of the contact over that straight ahead, mm, printed to 1e-3 mm.
DISC_RADIUS_MM, DISC_SCRUB_MM, DISC_AXIS_DEG = 130.0, 150.0, (12.8, 6.5)
DISC_RISE = (
    (-30.0, 16.657),
    (-20.0, 11.921),
    (-10.0, 6.291),
    (10.0, -6.687),
    (20.0, -13.490),
    (30.0, -20.136),
)
