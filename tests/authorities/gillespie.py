"""Gillespie, Fundamentals of Vehicle Dynamics, SAE 1992, chapter 8 (from memory, and for the moment as
transcribed in public notes); the camber form also in Dixon, Suspension Geometry and Computation, Wiley 2009
(from memory). Both are small-angle forms: loose checks, their misses stated in per cent.
"""

import numpy as np


def camber(caster, inclination, steer):
    """Textbook small-angle camber of a wheel without static camber, rad, + steer at the inside wheel."""
    return caster * np.sin(steer) + inclination * (1.0 - np.cos(steer))


def moment_of_loads(load_left, load_right, scrub, inclination, caster, steer):
    """Moment of the vertical loads about both steering axes; drops the cross term.

    The book's axes are SAE's (z down), so its steer and moment are positive to the right; here both have
    been turned round: + to the left.
    """
    lean = -(load_left + load_right) * scrub * np.sin(inclination) * np.sin(steer)
    return lean - (load_left - load_right) * scrub * np.sin(caster) * np.cos(steer)


MISS_PERCENT = (1.0, 28.0)
"""How far the moment is off on kart geometry."""
