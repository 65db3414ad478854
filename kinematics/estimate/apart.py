"""Which values readings cannot tell apart: the combinations along which no reading changes.

Everything is in units of what was known beforehand: a slope of 1 is a reading that tells a value as well as
it was known without it.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
import numpy.typing as npt

from kinematics.frames import Array

TOUCHED = 2.0
"""A value is one that readings speak of where they would, were all others known, halve what is not known of
it."""
UNTOLD = 1.0
"""A combination is not told where readings say less of it than was known beforehand."""
LEFT = 0.8
"""Of what was not known of a value that readings speak of, what may be left of it without its being named."""
NAMED = 0.15
"""Of the largest share in a combination, the least that is named."""


class Together(NamedTuple):
    """Values that readings tell only together: they may all move by these shares and no reading shows it."""

    which: tuple[int, ...]
    """Largest share first."""
    shares: tuple[float, ...]
    """-1..1, of what was known of each beforehand; the first is above 0."""


def touched(slopes: Array) -> npt.NDArray[np.intp]:
    """The values, by place, of which readings with these slopes (m, p) speak at all."""
    return np.flatnonzero(np.sqrt(np.sum(slopes**2, axis=0)) > TOUCHED)


def told_together(slopes: Array) -> list[Together]:
    """The combinations of touched values that readings with these slopes (m, p) do not tell."""
    places = touched(slopes)
    if not places.size:
        return []
    some = slopes[:, places]
    _, singular, ways = np.linalg.svd(some, full_matrices=True)
    size = np.zeros(len(places))
    size[: len(singular)] = singular
    found = [_named(way, places) for way in _reduced(ways[size < UNTOLD])]
    named = {place for one in found for place in one.which}
    left = np.linalg.inv(np.eye(slopes.shape[1]) + slopes.T @ slopes)[np.ix_(places, places)]
    missed = [at for at, place in enumerate(places) if left[at, at] > LEFT**2 and place not in named]
    return [*found, *(_named(left[at], places) for at in missed)]


def _reduced(ways: Array) -> Array:
    """The same directions (q, p) as combinations of few values each: every one has a value of its own."""
    ways = ways.copy()
    for row in range(len(ways)):
        place = np.unravel_index(np.argmax(np.abs(ways[row:])), ways[row:].shape)
        top, pivot = row + int(place[0]), int(place[1])
        ways[[row, top]] = ways[[top, row]]
        ways[row] /= ways[row, pivot]
        others = np.arange(len(ways)) != row
        ways[others] -= ways[others, pivot][:, None] * ways[row]
    return ways


def _named(way: Array, places: npt.NDArray[np.intp]) -> Together:
    order = np.argsort(-np.abs(way), kind="stable")
    order = order[np.abs(way[order]) >= NAMED * np.abs(way).max()]
    shares = way[order] / np.linalg.norm(way[order]) * np.sign(way[order[0]])
    return Together(tuple(int(one) for one in places[order]), tuple(float(one) for one in shares))
