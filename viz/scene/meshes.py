"""Simple solids, made once by trimesh, as painted meshes: the alphabet from which the parts are built.

Everything is in mm in the axes of the caller. A colour is never stored, only the role of a surface
("tyre", "bush", ...), so that one mesh serves the light and the dark theme.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise
from typing import Any

import numpy as np
import numpy.typing as npt

from kinematics.batches import once
from kinematics.frames import Array, cross, unit
from viz.look.palette import ROLES

Solid = Any
"""A trimesh.Trimesh."""
Point = npt.ArrayLike
Shape = tuple[Array, npt.NDArray[np.int64]]
"""Vertices (V, 3) and triangles (F, 3)."""


@dataclass(frozen=True, eq=False)
class Mesh:
    """Vertices (V, 3) in mm, triangles (F, 3), and the role of each vertex (V,) as an index into ROLES."""

    vertices: Array
    faces: npt.NDArray[np.int64]
    roles: npt.NDArray[np.uint8]


def paint(role: str, *solids: Solid) -> Mesh:
    """The solids as one mesh of one role."""
    meshes = [
        Mesh(
            np.asarray(s.vertices, float),
            np.asarray(s.faces, np.int64),
            np.full(len(s.vertices), ROLES.index(role), np.uint8),
        )
        for s in solids
    ]
    return merge(*meshes)


def merge(*meshes: Mesh) -> Mesh:
    """One mesh out of several; nothing is welded, so each keeps its own edges."""
    starts = np.cumsum([0, *(len(m.vertices) for m in meshes[:-1])])
    return Mesh(
        np.concatenate([m.vertices for m in meshes]),
        np.concatenate([m.faces + start for m, start in zip(meshes, starts, strict=True)]),
        np.concatenate([m.roles for m in meshes]),
    )


@lru_cache(maxsize=64)
def mirrored(mesh: Mesh) -> Mesh:
    """The mirror image in the mid-plane, its faces turned so that they still look outward."""
    return Mesh(mesh.vertices * [1.0, -1.0, 1.0], mesh.faces[:, ::-1], mesh.roles)


@lru_cache(maxsize=64)
def in_role(mesh: Mesh, role: str) -> Mesh:
    """The same mesh in one role throughout."""
    return Mesh(mesh.vertices, mesh.faces, np.full_like(mesh.roles, ROLES.index(role)))


@once
def corners(mesh: Mesh) -> Array:
    """The corners of the box round a mesh (8, 3), mm."""
    ends = np.stack([mesh.vertices.min(axis=0), mesh.vertices.max(axis=0)])
    x, y, z = np.indices((2, 2, 2)).reshape(3, -1)
    found: Array = np.column_stack([ends[x, 0], ends[y, 1], ends[z, 2]])
    return found


def axes_along(axis: Point, across: Point | None = None) -> Array:
    """Rotation (3, 3) whose columns are two square directions and the given axis, right-handed.

    across fixes the first column as far as it can; without it any square direction will do.
    """
    z = unit(axis)
    hint = np.eye(3)[np.argmin(np.abs(z))] if across is None else np.asarray(across, float)
    x = unit(hint - (hint @ z) * z)
    return np.stack([x, cross(z, x), z], axis=1)


def placed(solid: Solid, origin: Point, axes: Array) -> Solid:
    """The solid moved from its own axes to origin and axes (3, 3)."""
    matrix = np.eye(4)
    matrix[:3, :3], matrix[:3, 3] = axes, np.asarray(origin, float)
    solid.apply_transform(matrix)
    return solid


def rod(start: Point, end: Point, radius: float, sections: int = 28) -> Solid:
    """A round bar between two points; six sections make a hexagon."""
    return _stretched(start, end, _upright(radius, 0.0, sections))


def cone(base: Point, tip: Point, radius: float, sections: int = 28) -> Solid:
    """A round cone from the middle of its base to its tip."""
    from trimesh import creation

    base, tip = np.asarray(base, float), np.asarray(tip, float)
    solid = creation.cone(radius=radius, height=float(np.linalg.norm(tip - base)), sections=sections)
    return placed(solid, base, axes_along(tip - base))


def pipe(start: Point, end: Point, outer: float, inner: float, sections: int = 40) -> Solid:
    """A round bar with a hole through it."""
    return _stretched(start, end, _upright(outer, inner, sections))


@lru_cache(maxsize=256)
def _upright(outer: float, inner: float, sections: int) -> Shape:
    """A round bar from the origin to z = 1, with a hole of a radius or none."""
    from trimesh import creation

    upright = np.array([[0.0, 0.0, 0.0], [0.0, 0.0, 1.0]])
    made = (
        creation.annulus(r_min=inner, r_max=outer, segment=upright, sections=sections)
        if inner
        else creation.cylinder(radius=outer, segment=upright, sections=sections)
    )
    return np.array(made.vertices, float), np.array(made.faces, np.int64)


def _stretched(start: Point, end: Point, shape: Shape) -> Solid:
    """An upright shape of height 1 made to reach from one point to another."""
    from trimesh import Trimesh

    origin, along = np.asarray(start, float), np.asarray(end, float) - np.asarray(start, float)
    length = float(np.linalg.norm(along))
    points = (shape[0] * [1.0, 1.0, length]) @ axes_along(along).T + origin
    return Trimesh(points, shape[1], process=False)


def ball(centre: Point, radius: float, fineness: int = 2) -> Solid:
    """A sphere."""
    from trimesh import creation

    return placed(creation.icosphere(subdivisions=fineness, radius=radius), centre, np.eye(3))


def diamond(centre: Point, radius: float) -> Solid:
    """An octahedron standing on its tip."""
    from trimesh import Trimesh

    tips = radius * np.concatenate([np.eye(3), -np.eye(3)])
    faces = [[0, 1, 2], [1, 3, 2], [3, 4, 2], [4, 0, 2], [1, 0, 5], [3, 1, 5], [4, 3, 5], [0, 4, 5]]
    return Trimesh(tips + np.asarray(centre, float), faces, process=False)


def bar(start: Point, end: Point, width: float, thickness: float, across: Point) -> Solid:
    """A flat bar between two points; its thickness lies along across, as far as that is square to it."""
    from trimesh import creation

    start, end = np.asarray(start, float), np.asarray(end, float)
    length = float(np.linalg.norm(end - start))
    box = creation.box(extents=(thickness, width, length))
    return placed(box, 0.5 * (start + end), axes_along(end - start, across))


def lug(start: Point, end: Point, axis: Point, radius: float, thickness: float) -> Solid:
    """A flat plate with two round ends, its faces square to axis."""
    from trimesh import Trimesh

    start, end, half = np.asarray(start, float), np.asarray(end, float), 0.5 * thickness * unit(axis)
    along, across, _ = axes_along(axis, end - start).T
    angle = np.linspace(-0.5 * np.pi, 0.5 * np.pi, 15)[:, None]
    bulge = radius * (np.cos(angle) * along + np.sin(angle) * across)
    outline = np.concatenate([end + bulge, start - bulge])
    count, lower = len(outline), np.arange(len(outline))
    after, fan = (lower + 1) % count, np.arange(1, count - 1)
    faces = [
        np.stack([lower, after, after + count], axis=-1),
        np.stack([lower, after + count, lower + count], axis=-1),
        np.stack([0 * fan, fan + 1, fan], axis=-1),
        np.stack([0 * fan, fan, fan + 1], axis=-1) + count,
    ]
    return Trimesh(np.concatenate([outline - half, outline + half]), np.concatenate(faces), process=False)


def tubes(points: Sequence[Point], radius: float) -> list[Solid]:
    """A bent tube through the points, its corners rounded by balls."""
    ends = [np.asarray(p, float) for p in points]
    legs = [rod(a, b, radius, 20) for a, b in pairwise(ends)]
    return legs + [ball(p, radius) for p in ends]


def revolved(profile: Array, centre: Point, axis: Point, sections: int = 96) -> Solid:
    """A ring turned about an axis: profile (P, 2) is a closed loop of radius and distance along the axis.

    One vertex of every ring lies exactly in each of the `sections` half-planes.
    """
    from trimesh import Trimesh

    radius, along = np.asarray(profile, float).T
    angle = 2.0 * np.pi * np.arange(sections) / sections
    ring = np.stack([np.cos(angle), np.sin(angle)], axis=-1)
    flat = radius[None, :, None] * ring[:, None, :]
    points = np.concatenate([flat, np.broadcast_to(along[None, :, None], (*flat.shape[:2], 1))], axis=-1)
    solid = Trimesh(points.reshape(-1, 3), _grid_faces(sections, len(radius)), process=False)
    if solid.volume < 0.0:
        solid.invert()
    return placed(solid, centre, axes_along(axis))


@lru_cache(maxsize=64)
def _grid_faces(rows: int, columns: int) -> npt.NDArray[np.int64]:
    """Triangles of a grid of rows x columns vertices that closes on itself both ways."""
    i, j = np.meshgrid(np.arange(rows), np.arange(columns), indexing="ij")
    right, down = (i + 1) % rows, (j + 1) % columns
    a, b, c, d = i * columns + j, right * columns + j, right * columns + down, i * columns + down
    return np.stack([a, b, c, a, c, d], axis=-1).reshape(-1, 3)


def eccentric(
    outer: Sequence[Point], axis: Point, radius: float, inner: Sequence[Point], hole: float
) -> Solid:
    """A disc whose hole is off its centre.

    outer and inner are the centres of the disc and of the hole at the lower and the upper face, so a hole
    may also lean; the hole's rim stays a circle square to axis.
    """
    from trimesh import Trimesh

    sections = 64
    angle = 2.0 * np.pi * np.arange(sections) / sections
    x, y, _ = axes_along(axis).T
    ring = np.cos(angle)[:, None] * x + np.sin(angle)[:, None] * y
    low, high = (np.asarray(p, float) for p in outer)
    hole_low, hole_high = (np.asarray(p, float) for p in inner)
    rings = [low + radius * ring, high + radius * ring, hole_high + hole * ring, hole_low + hole * ring]
    faces = _grid_faces(sections, 4)
    is_upward = (high - low) @ np.asarray(axis, float) > 0.0
    return Trimesh(np.stack(rings, axis=1).reshape(-1, 3), faces[:, :: 1 if is_upward else -1], process=False)
