"""Build the scene of a sweep: every part where the solver has it, at every lock position.

build makes plain data, a canvas draws it; between lock positions only matrices change.
"""

from __future__ import annotations

from functools import lru_cache

import numpy as np

from kinematics.frames import Array
from kinematics.lock import Sweep, rear_wheel_centres
from kinematics.parts import Kart
from kinematics.stance.equilibrium import Stance
from viz.scene import kart as bodies_kart
from viz.scene import pose as scene_pose
from viz.scene.camera import presets
from viz.scene.data import Body, SceneData
from viz.scene.meshes import Mesh
from viz.scene.parts import column_body, corner_bodies, holds, marks, reachable, road_bodies, sides
from viz.scene.stories.bushes import bushes
from viz.scene.stories.clock import clock
from viz.scene.stories.floor import floor
from viz.scene.words import captions, labels, legend

OF_A_CORNER = ("clock", "floor", "bushes")
"""Views of a front end whose frame is held still, whatever else is chosen."""
OF_THE_WHOLE = ("rear", "rock", "rock_right")
"""Views of a kart that stands in a load case."""
STILL = "front end with its frame held still, to scale"
"""What has to be said of these."""
FRONT_END = 560.0
"""How far the ladder runs behind the front axle when only the front end is drawn, mm."""


def build(
    sweep: Sweep,
    name: str = "",
    whole: bool = False,
    stance: Stance | None = None,
    case_name: str = "",
    exaggeration: float = 1.0,
) -> SceneData:
    """The scene of one setting's sweep; whole adds the rear axle and lengthens the frame to it.

    With a stance of the sweep the kart is drawn whole and standing on a level road in that load case, its
    heave, pitch, roll, twist and air under a wheel drawn `exaggeration` times as large. Without one the
    frame is held still and drawn rigid.

    Lock positions that the linkage cannot reach are left out. Raises ValueError for a batch of settings,
    when no position can be reached, for a stance of other lock positions, or for an exaggeration out of
    its limits.
    """
    if stance is not None:
        from viz.scene import standing as stance_scene

        return stance_scene.build(sweep, stance, name, case_name, exaggeration)
    sweep = reachable(sweep)
    parts = [body for side, corner in sides(sweep) for body in corner_bodies(side, corner, sweep.kart)]
    low, high = road_extent(sweep.kart, whole)
    road = scene_pose.road_moves(sweep, whole)
    return SceneData(
        name=name,
        handwheel_deg=np.degrees(sweep.handwheel),
        bodies=(*parts, *_kart_bodies(sweep, whole), *marks(sweep), *road_bodies(low, high, road)),
        labels=labels(sweep, road, bodies_kart.scale_start(low, high), high),
        captions=captions(sweep, name),
        legend=legend(),
        cameras=presets(sweep, whole),
        stories=(clock(sweep, name), floor(sweep, name), bushes(sweep, name)),
    )


def road_extent(kart: Kart, whole: bool) -> tuple[tuple[float, float], tuple[float, float]]:
    """Corners (x, y) of the road tile, mm: low and high."""
    half = 0.5 * max(kart.front_track, kart.rear_track if whole else 0.0) + 170.0
    rear = -250.0 if whole else kart.wheelbase - FRONT_END - 40.0
    return (rear, -half), (kart.wheelbase + 400.0, half)


def _kart_bodies(sweep: Sweep, whole: bool) -> list[Body]:
    kart, fixed, held = sweep.kart, scene_pose.still(len(sweep.handwheel)), holds(sweep)
    behind = kart.wheelbase + 60.0 if whole else FRONT_END
    made = [Body("frame", _frame_mesh(kart, _key(held), behind), fixed, "frame"), column_body(sweep)]
    if whole:
        centres = rear_wheel_centres(kart, sweep.setting)
        made.append(Body("rear", bodies_kart.rear_end(kart, centres, held, behind), fixed, "axle"))
    return made


def _key(held: tuple[Array, Array]) -> tuple[tuple[float, ...], ...]:
    return tuple(tuple(point.tolist()) for point in held)


@lru_cache(maxsize=8)
def _frame_mesh(kart: Kart, held: tuple[tuple[float, ...], ...], behind: float) -> Mesh:
    left, right = (np.array(point) for point in held)
    return bodies_kart.frame(kart, (left, right), behind)
