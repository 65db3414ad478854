"""Where the inside rear leaves the road: found between the positions of a scanned turn."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from kinematics.figures.turning import Turn, at, leaves
from kinematics.frames import Array, Mask


@dataclass(frozen=True)
class LiftOff:
    """Where the inside rear leaves the road, each (...): rad, steer + in the turn; 0 where it does not."""

    handwheel: Array
    steer: Array
    lifts: Mask
    stays: Mask
    """Where it is sure to stay down: as far as the linkages go the kart stands, and that wheel with it."""


def lift_off(scan: Turn) -> LiftOff:
    """Where the inside rear leaves the road in a closely scanned turn of settings (...)."""
    lifts, first = leaves(scan)
    handwheel, steer = _where_load_ends(scan, first)
    stays = ~lifts & scan.known[..., 0] & (scan.known | ~scan.reach).all(axis=-1)
    return LiftOff(np.where(lifts, handwheel, 0.0), np.where(lifts, steer, 0.0), lifts, stays)


def _where_load_ends(scan: Turn, up: npt.NDArray[np.intp]) -> tuple[Array, Array]:
    """Handwheel and road steer (...) rad where the load, carried on in a straight line, comes to zero.

    In the first step there is nothing yet to carry on: there the clearance is carried back to zero.
    """
    before, last = np.maximum(up - 2, 0), np.maximum(up - 1, 0)
    outward = np.abs(scan.handwheel)
    ahead, step = at(outward, last) - at(outward, before), at(outward, up) - at(outward, last)
    fall = at(scan.load, before) - at(scan.load, last)
    way = np.where(fall > 0.0, at(scan.load, last) * ahead / np.where(fall > 0.0, fall, 1.0), 0.0)
    way = np.where(up == 1, step - _back(scan, outward, up), way)
    share = np.where(step > 0.0, np.clip(way / np.where(step > 0.0, step, 1.0), 0.0, 1.0), 0.0)
    return _between(scan.handwheel, up, share), _between(scan.steer, up, share)


def _back(scan: Turn, outward: Array, up: npt.NDArray[np.intp]) -> Array:
    """How far (...) before a position the clearance there and at the next one comes to zero."""
    after = np.minimum(up + 1, outward.shape[-1] - 1)
    clear, rise = at(scan.clearance, up), at(scan.clearance, after) - at(scan.clearance, up)
    ahead = at(outward, after) - at(outward, up)
    back: Array = clear * ahead / np.where(rise > 0.0, rise, np.inf)
    return back


def _between(values: Array, up: npt.NDArray[np.intp], share: Array) -> Array:
    before = at(values, np.maximum(up - 1, 0))
    there: Array = before + share * (at(values, up) - before)
    return there
