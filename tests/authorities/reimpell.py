"""Reimpell, Stoll, Betzler, The Automotive Chassis, 2nd ed. 2001, 3.7 (from memory): Ackermann steering.

cot(outside) - cot(inside) = (distance between the axes on the road) / wheelbase.
"""

WHEELBASE_MM, BETWEEN_AXES_MM = 1045.0, 800.0
# Inside and outside steer, deg, printed to 1e-6.
ROWS_DEG = ((10.0, 8.830646), (20.0, 15.889255), (30.0, 21.820384))
