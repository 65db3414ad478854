"""The kart of mirone_2010.py, the numbers that its paper does not give fitted to its rows.

Not given: scrub radius, height of the centre of gravity, the share of the frame's compliance in front. Only
the product of scrub and road-steer ratio is told by the loads, so the ratio is fixed in the middle of its
implied range. Also fixed, since the rows do not tell them apart: the torsion axis at 60 mm, thin-disc tyres
(the tread's shape is not given), both front wheels turned alike (nor are the steering arms).
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from math import inf

import numpy as np
from scipy.optimize import least_squares

from kinematics.corner.stub import seat_stub, turned
from kinematics.frames import mirror, turn
from kinematics.parts import CONCENTRIC, Column, Corner, Frame, Kart, Stub, Tyre, Yoke
from kinematics.stance.equilibrium import Stance, equilibrium
from tests.authorities import mirone_2010 as paper

RATIO, AXIS_HEIGHT = 0.35, 60.0
AS_PRINTED = [3, 2, 0, 1]  # rear outside, rear inside, front inside, front outside in a left turn
TORSION_DEG = 0.02  # weight of a torsion reading against one of load in the fit

LOCK, LATERAL = np.array([row[0] for row in paper.LOADS]), np.array([row[1] for row in paper.LOADS])
LOADS = np.array([row[2] for row in paper.LOADS])
TORSION_LOCK, TORSION = np.array(paper.TORSION).T


def kart(scrub, cog_height, front_share, nm_per_deg=paper.FRAME_NM_PER_DEG) -> Kart:
    """The paper's kart with the numbers it does not give; wheel centres on the axis in side view."""
    caster, inclination = np.radians([paper.CASTER_DEG, paper.INCLINATION_DEG])
    x, y, radius = paper.WHEELBASE_MM, 0.5 * paper.FRONT_TRACK_MM, paper.FRONT_RADIUS_MM
    centre = (x, y - scrub - radius * np.tan(inclination), radius)
    stub = Stub((x, y, radius), 0.0, 0.0, (x - 100.0, y - scrub, radius))
    corner = Corner(Yoke(centre, caster, inclination, 70.0), stub, (x - 170.0, 25.0, 80.0))
    front, rear = 0.5 * paper.WEIGHT_N * paper.FRONT_SHARE, 0.5 * paper.WEIGHT_N * (1.0 - paper.FRONT_SHARE)
    return Kart(
        wheelbase=x,
        front_track=paper.FRONT_TRACK_MM,
        rear_track=paper.REAR_TRACK_MM,
        front_tyre=Tyre(radius, 0.0, inf, paper.FRONT_TYRE_N_PER_MM),
        rear_tyre=Tyre(paper.REAR_RADIUS_MM, 0.0, inf, paper.REAR_TYRE_N_PER_MM),
        left=corner,
        right=corner,
        column=Column((x - 150.0, 0.0, 100.0), np.radians(45.0), np.radians(90.0)),
        frame=Frame(nm_per_deg * 1e3 * 180.0 / np.pi, front_share, AXIS_HEIGHT),
        loads=(front, front, rear, rear),
        cog_height=cog_height,
    )


def stand(of: Kart, wheel_deg, lateral_g) -> Stance:
    """Stance (n,) at steering-wheel angles in degrees, + left."""
    seated, delta = seat_stub(of.left, CONCENTRIC), RATIO * np.radians(np.asarray(wheel_deg, float))
    left, right = (
        (turned(seated, seated.wheel_centre, d), turn(seated.spin, seated.k, d)) for d in (delta, -delta)
    )
    return equilibrium(of, *left, *(mirror(v) for v in right), 0.0, lateral_g)


def loads(of: Kart, wheel_deg, lateral_g):
    """Wheel loads (n, 4) in the paper's order."""
    return stand(of, wheel_deg, lateral_g).loads[..., AS_PRINTED]


def torsion_deg(of: Kart, wheel_deg, lateral_g=0.3):
    return np.degrees(stand(of, wheel_deg, lateral_g).twist)


@dataclass(frozen=True)
class Fit:
    """The numbers that the paper does not give and those of its own that a fit may leave free."""

    told: str
    rows: tuple[int, ...]
    """Load rows that the fit saw; the whole torsion curve it always saw."""
    scrub: float = 120.0
    cog_height: float = 300.0
    front_share: float = 0.5
    nm_per_deg: float = paper.FRAME_NM_PER_DEG
    lateral_g: tuple[float, ...] = tuple(LATERAL.tolist())

    @property
    def kart(self) -> Kart:
        return kart(self.scrub, self.cog_height, self.front_share, self.nm_per_deg)

    @property
    def loads(self):
        """(5, 4) N in the paper's order."""
        return loads(self.kart, LOCK, np.array(self.lateral_g))

    @property
    def rms(self):
        """Of the misses of all twenty loads, N."""
        return float(np.sqrt(np.mean((self.loads - LOADS) ** 2)))

    @property
    def torsion_miss(self):
        """(5,) deg."""
        return torsion_deg(self.kart, TORSION_LOCK) - TORSION


BOUNDS = {
    "scrub": (50.0, 250.0),
    "cog_height": (150.0, 450.0),
    "front_share": (0.0, 1.0),
    "nm_per_deg": (80.0, 500.0),
    "lateral_g": (0.0, 1.5),
}


def fitted(start: Fit, free: tuple[str, ...]) -> Fit:
    """The fit that starts there, these of its numbers free, by least squares on its rows and the torsion."""
    sizes = [np.size(getattr(start, name)) for name in free]
    rows, ends = list(start.rows), np.cumsum(sizes)[:-1]

    def at(x) -> Fit:
        parts = (part.tolist() for part in np.split(x, ends))
        return replace(
            start, **{n: p[0] if len(p) == 1 else tuple(p) for n, p in zip(free, parts, strict=True)}
        )

    def misses(x):
        one = at(x)
        load = (one.loads - LOADS)[rows] / paper.READING_N
        return np.concatenate([load.ravel(), one.torsion_miss / TORSION_DEG])

    first = np.hstack([getattr(start, name) for name in free])
    bounds = tuple(np.repeat([BOUNDS[name][end] for name in free], sizes) for end in (0, 1))
    return at(least_squares(misses, first, bounds=bounds, x_scale=first).x)


UNKNOWN = ("scrub", "cog_height", "front_share")
TWO_ROWS = (0, 3)
"""The largest lock and the largest lateral acceleration among the rows."""


def fits() -> list[Fit]:
    """On two load rows; on all; with the frame's stiffness free; with each row's lateral g free too.

    Loads tell only the product of g and the height of the centre of gravity: in the last the height stays.
    """
    every = tuple(range(len(LOADS)))
    two = fitted(Fit("two load rows", TWO_ROWS), UNKNOWN)
    whole = fitted(Fit("all rows", every), UNKNOWN)
    softer = fitted(Fit("all, stiffness free", every), (*UNKNOWN, "nm_per_deg"))
    start = replace(softer, told="all, stiffness and g free")
    return [two, whole, softer, fitted(start, ("scrub", "front_share", "nm_per_deg", "lateral_g"))]


FOUND_ELSEWHERE_N = (24.7, 21.5, 15.3, 5.9)
"""RMS of the twenty loads that a solver of the same model, written without this code, found for `fits`."""


def summary(of: list[Fit]) -> list[tuple[str, ...]]:
    """A line a fit: told, scrub mm, height mm, front share, N·m/deg, RMS N, found elsewhere, torsion deg."""
    return [
        (
            one.told,
            f"{one.scrub:.0f}",
            f"{one.cog_height:.0f}",
            f"{one.front_share:.2f}",
            f"{one.nm_per_deg:.0f}",
            f"{one.rms:.1f}",
            f"{elsewhere:.1f}",
            f"{np.abs(one.torsion_miss).max():.3f}",
        )
        for one, elsewhere in zip(of, FOUND_ELSEWHERE_N, strict=True)
    ]


SUMMED = (
    "fitted on",
    "scrub mm",
    "height mm",
    "front share",
    "N·m/deg",
    "RMS N",
    "elsewhere",
    "torsion off °",
)


def each_row(of: list[Fit]) -> list[tuple[str, ...]]:
    """A line a row of the paper: where, published, what each fit computes more than that (* seen by it)."""

    def load(one: Fit, i: int) -> str:
        g = one.lateral_g[i]
        asked = "" if g == LATERAL[i] else f" at {g:.2f} g"
        return f"{_numbers(one.loads[i] - LOADS[i])}{asked}{'*' if i in one.rows else ' '}"

    rows = [
        (f"{lock:.0f}° at {g:.2f} g, N", _numbers(published), *(load(one, i) for one in of))
        for i, (lock, g, published) in enumerate(paper.LOADS)
    ]
    return rows + [
        (f"torsion at {lock:.0f}°, °", f"{published:.3f}", *(f"{one.torsion_miss[i]:+.3f}*" for one in of))
        for i, (lock, published) in enumerate(paper.TORSION)
    ]


def _numbers(values) -> str:
    return " ".join(f"{round(float(v)):4d}" for v in values)


LISTED = ("steering wheel", "published", "two rows", "all rows", "stiffness free", "stiffness and g free")
