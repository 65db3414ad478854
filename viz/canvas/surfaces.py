"""Bodies as surfaces that VTK draws: shaded with creases, or pale for a kart laid over another."""

from __future__ import annotations

from typing import Any

import numpy as np

from kinematics.batches import once
from viz.look.palette import Theme
from viz.scene.data import Body
from viz.scene.meshes import Mesh

CREASE = 32.0
"""Edges sharper than this many degrees stay sharp in the shading."""
THINNED, LARGE = 0.6, 3000
"""Share of its triangles that a body with more than so many goes without where it is to be drawn quickly."""


def actor(plotter: Any, surface: Any, body: Body) -> Any:
    """The actor of a body, put on a plotter; its matrix is to be set."""
    from vtkmodules.vtkCommonMath import vtkMatrix4x4

    made = plotter.add_mesh(
        surface,
        scalars="colour",
        rgb=True,
        opacity=body.opacity,
        name=body.name,
        specular=0.15,
        specular_power=20.0,
        ambient=0.12,
        smooth_shading=False,
        reset_camera=False,
        render=False,
    )
    made.SetUserMatrix(vtkMatrix4x4())
    made.GetProperty().SetInterpolationToPhong()
    made.GetProperty().SetLighting(not pale(body))
    if body.opacity == 1.0 or pale(body):  # closed, so that no face is seen from behind
        made.GetProperty().BackfaceCullingOn()
    if body.opacity < 1.0:  # where it lies in a solid part's own surface, the solid part is seen
        made.mapper.SetResolveCoincidentTopologyToPolygonOffset()
        made.mapper.SetRelativeCoincidentTopologyPolygonOffsetParameters(0.0, 16.0)
    return made


def surface(body: Body, theme: Theme, quick: bool = False) -> Any:
    """A PyVista surface with a colour and a normal at every point.

    quick: large ones in fewer triangles, which are what drawing without a graphics card waits for.
    """
    make = _quick if quick and len(body.mesh.faces) > LARGE else shaded
    made = make(body.mesh).copy(deep=False)
    made.point_data["colour"] = theme.palette()[made.point_data["role"]]
    return made


def pale(body: Body) -> bool:
    """Whether it is a part of a second kart, in one even colour: it tells where it is, and no more."""
    return body.role == "second" and body.opacity < 1.0


@once
def shaded(mesh: Mesh) -> Any:
    """The surface with a normal at every point, as any plotter and theme has it."""
    return _with_normals(_plain(mesh))


@once
def _quick(mesh: Mesh) -> Any:
    return _with_normals(_thinned(mesh, THINNED))


def _plain(mesh: Mesh) -> Any:
    import pyvista as pv

    made = pv.PolyData.from_regular_faces(mesh.vertices, mesh.faces)
    made.point_data["role"] = mesh.roles
    return made


def _with_normals(made: Any) -> Any:
    return made.compute_normals(
        cell_normals=False, split_vertices=True, feature_angle=CREASE, consistent_normals=False
    )


def _thinned(mesh: Mesh, share: float) -> Any:
    """The surface without that share of its triangles; each role by itself, so that no colour runs."""
    import pyvista as pv

    of, parts = mesh.roles[mesh.faces[:, 0]], []
    for role in np.unique(of):
        part = pv.PolyData.from_regular_faces(mesh.vertices, mesh.faces[of == role]).clean().decimate(share)
        part.point_data["role"] = np.full(part.n_points, role, dtype=mesh.roles.dtype)
        parts.append(part)
    return pv.merge(parts, merge_points=False) if len(parts) > 1 else parts[0]
