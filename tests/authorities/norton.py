"""Norton, Design of Machinery, example 4-1 (from memory): a planar four-bar, both assemblies.

Links in order: crank, coupler, rocker, ground; the crank's and the rocker's angle from the ground line.
"""

CRANK, COUPLER, ROCKER, GROUND = 40.0, 120.0, 80.0, 100.0
CRANK_DEG = 40.0
OPEN_DEG, CROSSED_DEG = 57.325, -98.005
