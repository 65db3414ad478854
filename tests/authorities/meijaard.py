"""Meijaard, Papadopoulos, Ruina, Schwab, Linearized dynamics equations for the balance and steer of a
bicycle: a benchmark and review, Proc. R. Soc. A 463 (2007) 1955-1982: the benchmark bicycle's front wheel,
a thin disc, its frame held still. The rows were computed by independent code for that geometry.
"""

TILT_DEG, TRAIL_MM, RADIUS_MM = 18.0, 80.0, 350.0
# Rows: turn about the axis deg, rise of the contact mm, camber deg, steer deg; printed to 1e-5.
ROWS = (
    (10.0, 0.35370, 3.07598, 9.51975),
    (20.0, 1.36262, 6.06692, 19.09362),
    (30.0, 2.87522, 8.88829, 28.77087),
)
