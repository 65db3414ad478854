"""What two bushes do to a kingpin: the left yoke close up, its two holes, and the axis through them.

Beside the axis through both holes stands the one that concentric bushes would give; what lies between them is
what the bushes do.
"""

from __future__ import annotations

from math import degrees

import numpy as np

from kinematics.corner.bush import seat_axes, seat_centres
from kinematics.corner.wheel import axis_angles
from kinematics.frames import FLAT_ROAD, Array, Number
from kinematics.lock import Sweep
from kinematics.parts import Corner
from viz.scene import bodies as parts
from viz.scene.camera import at_the_yoke
from viz.scene.data import Body, Label, Story
from viz.scene.meshes import Mesh, ball, merge, paint, rod
from viz.scene.pose import still
from viz.scene.words import heading
from viz.words.numbers import number

FACE = 0.5 * parts.PLATE + parts.FLANGE + 1.0
"""From a seat's middle to just above the face of its bush, mm."""
REACH = 40.0
"""How far both axes are drawn beyond the seats, mm."""


OTHERS = ("yoke_right", "bushes_right", "kingpin", "stub", "rod", "wheel", "contact", "axis", "axis_point")
"""What would be in the way."""


def bushes(swept: Sweep, name: str) -> Story:
    """The story of a sweep's left corner; it is the same at all lock positions (N)."""
    corner, seated = swept.left.corner, swept.left.seated
    fixed, seats = still(len(swept.handwheel)), seat_centres(corner.yoke)
    axes = seat_axes(corner.yoke)
    made = [
        Body("neutral_line", _line("steel", seats, axes[0]), fixed, "clock"),
        Body("axis_line", _line("axis", (seated.foot, seated.top), seated.k), fixed, "clock"),
    ]
    holes, leans, quarters = _labels(swept, seats, axes)
    return Story(
        cameras={"bushes": at_the_yoke(corner)},
        bodies=(*made, Body("pegs", _pegs(seats, axes, _radius(swept)), fixed, "clock")),
        labels=(*holes, leans, *quarters),
        captions=tuple(
            f"through both holes, {_leans(corner, seated.k)}\n{heading(name, degrees(angle))}"
            for angle in swept.handwheel
        ),
        hides=(*OTHERS, "frame", "column", "axle", "road"),
        pales=("yoke_left",),
        over=("axis_line",),
        said_over=(*holes, leans),
    )


def _radius(swept: Sweep) -> float:
    return parts.bush_radius(swept.left.corner, swept.left.setting)


def _labels(
    swept: Sweep, seats: tuple[Array, Array], axes: tuple[Array, Array, Array]
) -> tuple[tuple[Label, Label], Label, tuple[Label, ...]]:
    """What is said of both holes, of the axis, and of the clock's quarters and the neutral axis."""
    setting, seated, (k0, forward, outboard) = swept.left.setting, swept.left.seated, axes
    face, out = seats[1] + FACE * k0, _radius(swept) + 22.0

    def label(text: str, place: Array, role: str, shift: tuple[int, int] = (0, 0)) -> Label:
        return Label(text, np.broadcast_to(place, (len(swept.handwheel), 3)), role, shift)

    top = _hole("top", setting.top_offset, setting.top_clock)
    bottom = _hole("bottom", setting.bottom_offset, setting.bottom_clock)
    lean = _leans(swept.left.corner, seated.k)
    quarters = (
        label("0° forward", face + out * forward, "scale"),
        label("90° outboard", face + out * outboard, "scale"),
        label("with concentric bushes", seats[0] - REACH * k0, "scale", (0, -16)),
    )
    holes = label(top, seated.top, "axis", (-190, 40)), label(bottom, seated.foot, "axis", (-190, -40))
    return holes, label(lean, seated.top + 0.7 * REACH * seated.k, "axis", (190, 0)), quarters


def _line(role: str, through: tuple[Array, Array], along: Array) -> Mesh:
    return paint(role, rod(through[0] - REACH * along, through[1] + REACH * along, 1.1))


def _pegs(seats: tuple[Array, Array], axes: tuple[Array, Array, Array], radius: float) -> Mesh:
    """The clock's four quarters round each bush; a larger peg forward."""
    k0, forward, outboard = axes
    quarters = (forward, outboard, -forward, -outboard)
    return merge(
        *(
            paint("mark", ball(seat + out * FACE * k0 + (radius + 9.0) * to, 2.6 if to is forward else 1.6))
            for seat, out in zip(seats, (-1.0, 1.0), strict=True)
            for to in quarters
        )
    )


def _hole(which: str, offset: Number, clock: Number) -> str:
    if not np.any(offset):
        return f"{which} hole in the middle"
    return f"{which} hole {number(float(offset), 2)} mm off, at {number(degrees(float(clock)) % 360.0, 0)}°"


def _leans(corner: Corner, k: Array) -> str:
    """How much further back, and inward, the axis leans than with concentric bushes."""
    k0 = seat_axes(corner.yoke)[0]
    now, then = (np.degrees(axis_angles(axis, FLAT_ROAD)) for axis in (k, k0))
    caster, inclination = (float(a - b) for a, b in zip(now, then, strict=True))
    ways = ((caster, "further back", "further forward"), (inclination, "inward", "outward"))
    said = [
        f"{number(abs(by), 1)}° {more if by > 0.0 else less}" for by, more, less in ways if abs(by) >= 0.05
    ]
    return f"the kingpin leans {' and '.join(said)}" if said else "the kingpin stands as the seats do"
