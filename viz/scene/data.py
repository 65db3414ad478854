"""The scene as plain data: meshes, one matrix per body and lock position, labels, captions, cameras.

Any canvas (window, file, browser, notebook) can draw it; nothing here knows one.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace

import numpy as np

from kinematics.frames import Array, Mask
from viz.scene.meshes import Mesh

PARTS = ("frame", "column", "axle", "yoke", "bushes", "kingpin", "stub", "wheel", "tyre", "rod")
MARKS = ("axis", "contact", "axis_point", "load", "air", "pushed", "diagonal", "shadow", "clock")
ROLES = (*PARTS, *MARKS, "road", "driver", "second")
"""What a body is: a part of the kart, a mark, the road, the driver, or a part of a kart drawn over it."""

KEPT_CLEAR = ("tyre", "wheel")
"""Roles that words keep off, as far as there is room."""

PALE = 0.22
"""Opacity of what a story sees through."""


@dataclass(frozen=True, eq=False)
class Body:
    """One body: its mesh in neutral frame axes, mm, and its matrices (N, 4, 4) to the scene's axes.

    The scene's axes are the frame's, or the road's for a standing kart. Matrices are rigid, but for what a
    standing kart bends, presses flat or stretches to a number.
    """

    name: str
    mesh: Mesh
    matrices: Array
    role: str
    """What it is, one of ROLES; for a surface's colour see its mesh."""
    opacity: float = 1.0
    visible: Mask = field(default_factory=lambda: np.array(True))
    """Whether it is to be seen at each lock position (N,); every canvas leaves it out where it is not."""

    def __post_init__(self) -> None:
        if self.role not in ROLES:
            raise ValueError(f"{self.name}: {self.role!r} is no role of a body")
        object.__setattr__(self, "visible", np.broadcast_to(self.visible, len(self.matrices)))


@dataclass(frozen=True, eq=False)
class Label:
    """A word at a point (N, 3) in frame axes, in the colour of a role, shifted on screen by pixels."""

    text: str
    points: Array
    role: str
    shift: tuple[int, int] = (0, 0)
    texts: tuple[str, ...] = ()
    """What it says at each lock position, where that changes; an empty one is not shown."""


@dataclass(frozen=True)
class Camera:
    """Where the eye stands, what it looks at and which way is up; parallel is half the height seen, mm.

    parallel = 0 means a perspective view. rides names a body that carries the eye along, or none.
    """

    position: tuple[float, float, float]
    focus: tuple[float, float, float]
    up: tuple[float, float, float] = (0.0, 0.0, 1.0)
    parallel: float = 0.0
    rides: str = ""


@dataclass(frozen=True, eq=False)
class Story:
    """What a scene is to say in one look: from where it is seen, and what is drawn and said for that alone.

    Every array's first axis is the lock position (N). hides are roles, or bodies by name, that would be in
    the way.
    """

    cameras: Mapping[str, Camera]
    bodies: tuple[Body, ...]
    labels: tuple[Label, ...]
    captions: tuple[str, ...]
    hides: tuple[str, ...] = ()
    pales: tuple[str, ...] = ()
    """Roles, or bodies by name, that are seen through."""
    over: tuple[str, ...] = ()
    """Bodies, by name, that are laid over those of another setting to compare it with this one."""
    said_over: tuple[Label, ...] = ()
    """What is said of this setting there."""

    def hidden(self, body: Body) -> bool:
        """Whether a body of the scene is left out, or another one stands in its place."""
        return bool({body.role, body.name} & {*self.hides, *self.pales})

    def all_bodies(self, scene: tuple[Body, ...]) -> tuple[Body, ...]:
        """Its own bodies, and those of its scene that are seen through."""
        pale = [body for body in scene if {body.role, body.name} & set(self.pales)]
        return (*self.bodies, *(replace(b, name=f"pale {b.name}", opacity=PALE) for b in pale))


@dataclass(frozen=True)
class Seen:
    """From which views something is to be seen: from these alone where there are any, and not from others."""

    only: tuple[str, ...] = ()
    never: tuple[str, ...] = ()

    def at(self, view: str) -> bool:
        """Whether it is seen from a view."""
        return (not self.only or view in self.only) and view not in self.never

    def but(self, views: tuple[str, ...]) -> Seen:
        """The same, but from some views not at all."""
        return self if self.only else Seen(never=(*self.never, *views))

    def among(self, views: tuple[str, ...]) -> Seen | None:
        """From which of some views alone it is to be seen; None where from none of them."""
        seen = tuple(view for view in views if self.at(view))
        return Seen(only=seen) if seen else None


@dataclass(frozen=True, eq=False)
class SceneData:
    """Everything drawn for one sweep; every array's first axis is the lock position (N)."""

    name: str
    handwheel_deg: Array
    bodies: tuple[Body, ...]
    labels: tuple[Label, ...]
    captions: tuple[str, ...]
    legend: str
    cameras: Mapping[str, Camera]
    stated: str = ""
    """What has to be said of the drawing whenever it is shown."""
    notes: tuple[str, ...] = ()
    """How the kart stands, in one line for each lock position; empty without a stance."""
    stories: tuple[Story, ...] = ()
    """What it can be drawn to say in one look."""

    @property
    def views(self) -> tuple[str, ...]:
        """The names of all views, those that tell something last."""
        return (*self.cameras, *(view for one in self.stories for view in one.cameras))

    def told_bodies(self) -> list[tuple[Body, Seen]]:
        """Every body, those of its stories too, with the views from which it is to be seen.

        A body that two stories have by the same name is one and the same.
        """
        found = []
        for body in self.bodies:
            never = [view for one in self.stories if one.hidden(body) for view in one.cameras]
            found.append((body, Seen(never=tuple(never))))
        told: dict[str, tuple[Body, tuple[str, ...]]] = {}
        for one in self.stories:
            for body in one.all_bodies(self.bodies):
                views = told[body.name][1] if body.name in told else ()
                told[body.name] = body, (*views, *one.cameras)
        return found + [(body, Seen(only=views)) for body, views in told.values()]

    def told_labels(self) -> list[tuple[Label, Seen]]:
        """Every label, those of its stories too, with the views from which it is to be seen."""
        stories = tuple(view for one in self.stories for view in one.cameras)
        own = [(label, Seen(never=stories)) for label in self.labels]
        return own + [(label, Seen(only=tuple(one.cameras))) for one in self.stories for label in one.labels]

    def seen_from(self, view: str) -> SceneData:
        """The scene as a view shows it: as it is, or as it is told there."""
        for one in self.stories:
            if view in one.cameras:
                return replace(
                    self,
                    bodies=tuple(body for body, seen in self.told_bodies() if seen.at(view)),
                    labels=tuple(label for label, seen in self.told_labels() if seen.at(view)),
                    captions=one.captions,
                    legend="",
                    cameras={**one.cameras, **self.cameras},
                    stories=(),
                )
        return self

    @property
    def count(self) -> int:
        """Number of lock positions."""
        return len(self.handwheel_deg)

    @property
    def straight(self) -> int:
        """Index of the position nearest to straight ahead."""
        return int(np.argmin(np.abs(self.handwheel_deg)))

    def has(self, name: str) -> bool:
        """Whether there is a body of that name."""
        return any(body.name == name for body in self.bodies)

    def body(self, name: str) -> Body:
        """The body of that name; a KeyError when there is none."""
        return {b.name: b for b in self.bodies}[name]

    def camera(self, view: str, index: int) -> Camera:
        """The camera of a view at a lock position, carried along where it rides on a body."""
        every: Mapping[str, Camera] = self.cameras
        for one in self.stories:
            every = {**every, **one.cameras}
        camera = every[view]
        if not camera.rides:
            return camera
        matrix = self.body(camera.rides).matrices[index]
        spots = [matrix[:3, :3] @ p + matrix[:3, 3] for p in (camera.position, camera.focus)]
        position, focus, up = (tuple(v.tolist()) for v in (*spots, matrix[:3, :3] @ camera.up))
        return replace(camera, position=position, focus=focus, up=up)

    def nearest(self, handwheel_deg: float) -> int:
        """Index of the position nearest to a handwheel angle in degrees."""
        return int(np.argmin(np.abs(self.handwheel_deg - handwheel_deg)))
