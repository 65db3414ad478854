"""Meshes and matrices as bytes for the browser: each mesh is sent once, then only matrices change.

A mesh is known by a digest of its content, so that what two settings, or two visitors, have in common is
prepared and sent only once.
"""

from __future__ import annotations

from functools import lru_cache
from hashlib import blake2b
from typing import Any

import numpy as np

from kinematics.frames import Array
from viz.canvas.surfaces import CREASE
from viz.scene.meshes import Mesh

Packed = dict[str, Any]
COARSEST = 0.1
"""How far an outline may leave the edge that it stands for, as VTK's polyline filter counts it."""


class _Keyed:
    """A mesh that is equal to another when its content is: the key of the cache below."""

    def __init__(self, mesh: Mesh) -> None:
        self.mesh = mesh
        content = blake2b(digest_size=12)
        for part in (mesh.vertices, mesh.faces, mesh.roles):
            content.update(np.ascontiguousarray(part).tobytes())
        self.digest = content.hexdigest()

    def __hash__(self) -> int:
        return hash(self.digest)

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _Keyed) and other.digest == self.digest


@lru_cache(maxsize=192)
def digest(mesh: Mesh) -> str:
    """The name under which a mesh is sent: 24 hexadecimal digits of its content."""
    return _Keyed(mesh).digest


def surface(mesh: Mesh) -> Packed:
    """Points, normals, roles and triangles as little-endian bytes; edges sharper than CREASE stay sharp."""
    return _surface(_Keyed(mesh))


def outline(mesh: Mesh) -> Packed:
    """The mesh's sharp edges alone, as points and lines through them: how the second setting is drawn.

    A processor draws a line slower than a triangle, so curves have as few points as the eye needs.
    """
    return _outline(_Keyed(mesh))


@lru_cache(maxsize=96)
def _surface(keyed: _Keyed) -> Packed:
    poly = _poly(keyed.mesh).compute_normals(
        cell_normals=False, split_vertices=True, feature_angle=CREASE, consistent_normals=False
    )
    return {
        "points": _f4(poly.points),
        "normals": _f4(poly.point_data["Normals"]),
        "roles": np.asarray(poly.point_data["role"], np.uint8).tobytes(),
        "polys": np.asarray(poly.faces, "<u4").tobytes(),
    }


@lru_cache(maxsize=96)
def _outline(keyed: _Keyed) -> Packed:
    sharp = edges(keyed.mesh)
    joined = sharp.strip(join=True, max_length=len(sharp.points))
    smooth = joined.decimate_polyline(0.95, maximum_error=COARSEST)
    return {
        "points": _f4(smooth.points),
        "roles": np.zeros(len(smooth.points), np.uint8).tobytes(),
        "lines": np.asarray(smooth.lines, "<u4").tobytes(),
    }


def edges(mesh: Mesh) -> Any:
    """The mesh's sharp edges as a PyVista body of two-point lines."""
    return _poly(mesh).extract_feature_edges(
        feature_angle=CREASE,
        boundary_edges=True,
        feature_edges=True,
        manifold_edges=False,
        non_manifold_edges=False,
    )


def _poly(mesh: Mesh) -> Any:
    import pyvista as pv

    poly = pv.PolyData.from_regular_faces(mesh.vertices, mesh.faces)
    poly.point_data["role"] = mesh.roles
    return poly


def _f4(values: Array) -> bytes:
    return np.asarray(values, "<f4").tobytes()


def moves(matrices: Array) -> bytes:
    """Matrices (N, 4, 4) as single-precision bytes, column by column, as the browser wants them."""
    return np.asarray(np.swapaxes(matrices, -1, -2), "<f4").tobytes()
