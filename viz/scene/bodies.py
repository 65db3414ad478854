"""The parts of one front corner as painted meshes, each in the neutral frame axes, left-hand convention.

Sizes that no scenario gives (plate thickness, bolt sizes) are ordinary workshop sizes and only dress the
drawing. What the solver gives (seats, holes, wheel centre, arm end, joints) is where it says, to scale.
"""

from __future__ import annotations

from math import cos, isfinite, pi, radians, tan

import numpy as np

from kinematics.corner.bush import seat_axes, seat_centres
from kinematics.corner.contact import tread_radius
from kinematics.corner.stub import SeatedStub, spin_axis
from kinematics.frames import Array, cross, unit
from kinematics.parts import Corner, CornerSetting, Tyre
from viz.scene.meshes import Mesh, ball, bar, eccentric, lug, merge, paint, pipe, revolved, rod

PIN = 5.0
"""Radius of the kingpin."""
HOLE = 5.3
"""Radius of a bush's hole."""
PLATE = 12.0
"""Thickness of a yoke's plates, and of a bush."""
FLANGE = 3.0
"""Thickness of a bush's flange."""
GAP = 11.0
"""Room for spacers between the stub's barrel and a plate."""
BARREL = 10.5
EYE = 10.0
BALL = 6.3
UNDER = 13.0
"""How far a steering arm or a spade lies from the middle of its joint."""


def bush_radius(corner: Corner, *settings: CornerSetting) -> float:
    """Outer radius of the bushes drawn: room for a hole rated 6 degrees, or for the largest one fitted."""
    offsets = [float(np.max(o)) for s in settings for o in (s.top_offset, s.bottom_offset)]
    return HOLE + 2.5 + max(corner.yoke.span * tan(radians(6.0)), *offsets)


def yoke(corner: Corner, radius: float) -> tuple[Mesh, Array]:
    """The C-shaped bracket with its two seats, and the point (3,) on its back where the frame holds it."""
    k0, _, outboard = seat_axes(corner.yoke)
    ring, back, solids = radius + 6.0, radius + 26.0, []
    bottom, top = seat_centres(corner.yoke)
    for seat in (bottom, top):
        solids.append(pipe(seat - 0.5 * PLATE * k0, seat + 0.5 * PLATE * k0, ring, radius + 0.1, 64))
        solids.append(bar(seat - (radius + 2.0) * outboard, seat - back * outboard, 22.0, PLATE - 0.6, k0))
    low, high = (seat - back * outboard for seat in (bottom - 0.5 * PLATE * k0, top + 0.5 * PLATE * k0))
    solids.append(bar(low, high, 24.0, 10.0, outboard))
    hold = np.asarray(corner.yoke.centre, float) - (back + 2.0) * outboard
    return paint("yoke", *solids), hold


def bushes(corner: Corner, setting: CornerSetting, seated: SeatedStub, radius: float) -> Mesh:
    """Both eccentric bushes with their holes where the solver has them, and a mark at each clock."""
    k0, forward, outboard = seat_axes(corner.yoke)

    def towards(offset: Array | float, clock: Array | float) -> Array | None:
        angle = float(clock)
        return np.cos(angle) * forward + np.sin(angle) * outboard if np.any(offset) else None

    bottom, top = seat_centres(corner.yoke)
    low = towards(setting.bottom_offset, setting.bottom_clock)
    high = towards(setting.top_offset, setting.top_clock)
    return merge(
        _bush(bottom, seated.foot, seated.k, -k0, low, radius),
        _bush(top, seated.top, seated.k, k0, high, radius),
    )


def _bush(seat: Array, hole: Array, k: Array, out: Array, towards: Array | None, radius: float) -> Mesh:
    """One bush; out is the neutral axis away from the yoke, towards the clock of an eccentric hole."""

    def disc(role: str, low: float, high: float, outer: float, at_hole: bool = False) -> Mesh:
        on_seat = [seat + h * out for h in (low, high)]
        on_pin = [hole + h / (k @ out) * k for h in (low, high)]
        return paint(role, eccentric(on_pin if at_hole else on_seat, out, outer, on_pin, HOLE))

    face = 0.5 * PLATE + FLANGE + 0.1
    body = disc("bush", -0.5 * PLATE, 0.5 * PLATE, radius)
    flange = disc("bush", 0.5 * PLATE + 0.1, face, radius + 6.0)
    rim = disc("kingpin", face, face + 0.4, HOLE + 2.2, at_hole=True)
    groove = paint("mark", pipe(seat + face * out, seat + (face + 0.4) * out, radius + 0.6, radius - 0.2, 64))
    if towards is None:
        return merge(body, flange, rim, groove)
    inner, outer = (seat + (face + 0.6) * out + r * towards for r in (radius + 1.0, radius + 6.0))
    return merge(body, flange, rim, groove, paint("mark", bar(inner, outer, 5.0, 1.4, out)))


def kingpin(corner: Corner, setting: CornerSetting, seated: SeatedStub) -> Mesh:
    """The kingpin through both holes with its head and nut, and the spacers above and below the stub."""
    k, shift = seated.k, float(setting.spacer_shift)
    reach = 0.5 * PLATE + FLANGE + 2.0
    low, high = seated.foot - reach * k, seated.top + reach * k
    bolt = paint("kingpin", rod(low - 14.0 * k, high + 0.5 * k, PIN))
    head = paint("steel", rod(high, high + 6.0 * k, HOLE + 1.2, 6))
    nut = paint("steel", rod(low - 7.0 * k, low, HOLE + 1.2, 6))
    barrel = [seated.foot + (0.5 * corner.yoke.span + s * half_barrel(corner) + shift) * k for s in (-1, 1)]
    ends = [seated.foot + (0.5 * PLATE + 0.8) * k, seated.top - (0.5 * PLATE + 0.8) * k]
    gaps = ((ends[0], barrel[0] - 0.1 * k), (barrel[1] + 0.1 * k, ends[1]))
    spacers = [pipe(a, b, 8.5, HOLE) for a, b in gaps if (b - a) @ k > 0.3]
    return merge(bolt, head, nut, *(paint("rim", s) for s in spacers))


def half_barrel(corner: Corner) -> float:
    """Half the length of the stub's barrel between the yoke's plates."""
    return max(0.5 * (corner.yoke.span - PLATE) - GAP, 4.0)


def stub(corner: Corner, side_role: str) -> Mesh:
    """Barrel, spindle and steering arm of the stub axle, in its neutral place."""
    k0, _, _ = seat_axes(corner.yoke)
    centre, spin = np.asarray(corner.stub.wheel_centre, float), spin_axis(corner.stub)
    middle, half = np.asarray(corner.yoke.centre, float), half_barrel(corner)
    barrel = pipe(middle - half * k0, middle + half * k0, BARREL, HOLE)
    root = _on_spindle(corner, centre, spin, k0)
    height = float(np.clip((root - middle) @ k0, -half + 9.0, half - 9.0)) if half > 9.0 else 0.0
    out = unit(root + 30.0 * spin - middle - height * k0)
    neck = bar(middle + height * k0 + (HOLE + 1.5) * out, root + 30.0 * spin, 18.0, 13.0, cross(out, k0))
    spindle = rod(root + 22.0 * spin, centre + 78.0 * spin, 8.5)
    collar = rod(root + 28.0 * spin, root + 36.0 * spin, 13.0)
    return merge(
        paint("steel", barrel, neck, spindle, collar), _steering_arm(corner, k0, middle, half, side_role)
    )


def _on_spindle(corner: Corner, centre: Array, spin: Array, k0: Array) -> Array:
    """The point of the spin axis nearest to the neutral axis (3,)."""
    square = unit(spin - (spin @ k0) * k0)
    to_axis = np.asarray(corner.yoke.centre, float) - centre
    return centre + spin * (to_axis @ square) / (spin @ square)


def _steering_arm(corner: Corner, k0: Array, middle: Array, half: float, side_role: str) -> Mesh:
    """The flat arm under the tie rod's outer joint, with the joint's bolt and ball."""
    end = np.asarray(corner.stub.arm_end, float)
    seat = end - UNDER * k0
    height = float(np.clip((seat - middle) @ k0, -half + 4.0, half - 4.0))
    out = seat - middle - height * k0
    out = unit(out - (out @ k0) * k0)
    root = middle + height * k0 + (BARREL + 7.0) * out
    strap = bar(middle + height * k0 + (HOLE + 1.5) * out, root + 3.0 * out, 13.0, 7.0, k0)
    return merge(
        paint(side_role, strap, lug(root, seat, k0, 8.0, 6.0)),
        paint(
            "steel",
            rod(seat - 6.0 * k0, end + 9.0 * k0, 3.5),
            ball(end, BALL),
            rod(seat - 9.0 * k0, seat - 3.0 * k0, 6.0, 6),
        ),
    )


def tie_rod(outer: Array, inner: Array, bolts: tuple[Array, Array], side_role: str) -> Mesh:
    """The tie rod from its outer to its inner joint (3,); each eye looks along its bolt as far as it can."""
    along = unit(inner - outer)
    eyes = [(p, axes_square(bolt, along)) for p, bolt in zip((outer, inner), bolts, strict=True)]
    solids = [pipe(p - 3.5 * look, p + 3.5 * look, EYE, BALL + 0.2) for p, look in eyes]
    ends = [(outer, along), (inner, -along)]
    solids += [rod(p + (EYE - 1.5) * d, p + 46.0 * d, 4.0) for p, d in ends]
    nuts = [rod(p + 34.0 * d, p + 40.0 * d, 7.0, 6) for p, d in ends]
    body = rod(outer + 40.0 * along, inner - 40.0 * along, 7.0)
    return merge(paint("steel", *solids, *nuts), paint(side_role, body))


def axes_square(direction: Array, axis: Array) -> Array:
    """The unit direction nearest to the one given and square to a unit axis (3,)."""
    return unit(direction - (direction @ axis) * axis)


def tread_profile(tyre: Tyre, samples: int = 17) -> Array:
    """The tread's cross-section (samples, 2): radius and distance from the wheel plane."""
    half = 0.5 * tyre.tread_width
    if half == 0.0:
        return np.array([[tyre.radius, 0.0]])
    across = np.linspace(-half, half, samples if isfinite(tyre.crown_radius) else 3)
    return np.stack([tread_radius(tyre, across), across], axis=-1)


def tyre_solid_profile(tyre: Tyre, samples: int = 17) -> Array:
    """Closed cross-section (P, 2) of tread, sidewalls and beads; no wall reaches lower than its shoulder."""
    tread = tread_profile(tyre, samples)
    shoulder, bead, half = tread[-1, 0], rim_radius(tyre), 0.5 * tyre.tread_width
    wall = shoulder - bead
    bulge = [(shoulder - 0.12 * wall, half + 0.04 * wall), (shoulder - 0.4 * wall, half + 0.10 * wall)]
    foot = [(bead + 0.1 * wall, half + 0.02 * wall), (bead, max(half - 0.08 * wall, 6.0))]
    outer = np.array(bulge + foot)
    return np.concatenate([tread, outer, outer[::-1] * [1.0, -1.0]])


def rim_radius(tyre: Tyre) -> float:
    """Radius of the rim drawn, mm: inside the shoulders even of a tyre as round as a ball."""
    return min(0.52 * tyre.radius, 0.8 * float(tread_profile(tyre)[-1, 0]))


def tyre(part: Tyre, centre: Array, spin: Array, sections: int = 96, samples: int = 17) -> Mesh:
    """The tyre as the solver sees it: a surface of revolution with the tread's own crown and shoulders."""
    return paint("tyre", revolved(tyre_solid_profile(part, samples), centre, spin, sections))


def wheel(part: Tyre, centre: Array, spin: Array, side_role: str, bore: float = 8.8) -> Mesh:
    """Tyre and rim about a unit spin axis outboard."""
    return merge(tyre(part, centre, spin), rim(part, centre, spin, side_role, bore))


def rim(part: Tyre, centre: Array, spin: Array, side_role: str, bore: float = 8.8) -> Mesh:
    """Rim, spokes and hub about a unit spin axis outboard; a stripe of the side's colour on the rim."""
    outer, half = rim_radius(part) - 0.3, max(0.5 * part.tread_width - 4.0, 10.0)
    flange = [
        (outer, -half),
        (outer, half),
        (outer - 5.0, half),
        (outer - 9.0, 0.3 * half),
        (outer - 9.0, -0.3 * half),
    ]
    ring = revolved(np.array([*flange, (outer - 5.0, -half)]), centre, spin)
    lip = [(outer + 0.2, half), (outer + 0.2, half + 2.0), (outer - 5.0, half + 2.0), (outer - 5.0, half)]
    stripe = revolved(np.array(lip), centre, spin)
    hub = pipe(centre - 26.0 * spin, centre + 34.0 * spin, 20.0, bore)
    nut = pipe(centre + 34.0 * spin, centre + 43.0 * spin, 13.5, bore / cos(pi / 6), 6)
    spokes = [
        bar(centre + 17.0 * d, centre + (outer - 7.0) * d, 17.0, 9.0, spin) for d in _spoke_directions(spin)
    ]
    return merge(
        paint("rim", ring, hub, *spokes),
        paint("steel", nut),
        paint(side_role, stripe),
    )


def _spoke_directions(spin: Array) -> list[Array]:
    up = axes_square(np.array([0.0, 0.0, 1.0]), spin)
    fore = cross(up, spin)
    return [np.cos(a) * up + np.sin(a) * fore for a in 2.0 * np.pi * (np.arange(5) / 5.0)]
