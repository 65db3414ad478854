"""By how much readings change with the numbers of a kart, and how sure each reading is."""

from __future__ import annotations

import numpy as np

from kinematics.frames import Array
from scenarios.gauged.foretold import Foreteller
from scenarios.gauged.space import Space

STEP = 2e-4
"""Of a score, for a slope: so small a part of what is not known of a number, and still a million times the
round-off of a reading."""


def sigmas(foreteller: Foreteller) -> Array:
    """Standard uncertainties (m,) of readings, in their own units: theirs, or their kind's."""
    spreads = {one.name: one.uncertain.spread for one in foreteller.inputs}
    usual = [spreads[one.where] if one.of_number else one.kind.spread for one in foreteller.readings]
    return np.array([one.uncertainty or own for one, own in zip(foreteller.readings, usual, strict=True)])


def sloped(foreteller: Foreteller, space: Space, scores: Array) -> tuple[Array, Array]:
    """What readings should be (m,) at scores (p,), inf where they cannot be read, and their slopes (m, p)."""
    count = len(scores)
    beside = np.concatenate([np.zeros((1, count)), STEP * np.eye(count)])
    found, known = foreteller.foretold(*space.at(scores + beside))
    middle = found[0]
    slopes = (np.where(known[1:], found[1:], middle) - middle) / STEP
    return np.where(known[0], middle, np.inf), slopes.T
