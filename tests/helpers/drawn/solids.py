"""Bodies of a scene as solids: which of them cut through each other."""

from itertools import combinations

import numpy as np

from viz.scene.data import MARKS

WELDED = {"frame", "axle", "yoke", "bushes", "kingpin"}
"""What is held by the frame."""


def moved(body, points):
    """Points (3,) or (P, 3) of a body carried to every lock position (N, ..., 3)."""
    homogeneous = np.concatenate([points, np.ones((*np.shape(points)[:-1], 1))], axis=-1)
    return np.einsum("nij,...j->n...i", body.matrices, homogeneous)[..., :3]


def boxes(data, index):
    """Bounds (low, high) of each body at a lock position, by name."""
    return {
        b.name: (p.min(axis=0), p.max(axis=0))
        for b in data.bodies
        for p in [moved(b, b.mesh.vertices)[index]]
    }


def touching(a, b, index):
    """Whether the surfaces of two bodies cut each other at a lock position (VTK's collision detection)."""
    import pyvista as pv
    from vtkmodules.vtkCommonMath import vtkMatrix4x4
    from vtkmodules.vtkFiltersModeling import vtkCollisionDetectionFilter

    places = [moved(body, body.mesh.vertices)[index] for body in (a, b)]
    low, high = (
        np.max([place.min(axis=0) for place in places], axis=0),
        np.min([place.max(axis=0) for place in places], axis=0),
    )
    finder = vtkCollisionDetectionFilter()
    for port, (body, place) in enumerate(zip((a, b), places, strict=True)):
        faces = within(place[body.mesh.faces], low, high)
        if not faces.any():
            return False
        finder.SetInputData(port, pv.PolyData.from_regular_faces(place, body.mesh.faces[faces]))
        finder.SetMatrix(port, vtkMatrix4x4())
    finder.SetCollisionModeToFirstContact()
    finder.Update()
    return finder.GetNumberOfContacts() > 0


def within(triangles, low, high):
    """Which triangles (n, 3, 3) come into a box: no other can cut what lies in it."""
    return ((triangles.max(axis=1) >= low) & (triangles.min(axis=1) <= high)).all(axis=-1)


def cuts(data, index, known=lambda a, b: False):
    """Pairs of bodies that cut each other, but for pairs known to be fixed to each other."""
    parts = [b for b in data.bodies if b.role not in (*MARKS, "road")]
    place, found = boxes(data, index), []
    for a, b in combinations(parts, 2):
        (low_a, high_a), (low_b, high_b) = place[a.name], place[b.name]
        apart = np.any(low_a > high_b) or np.any(low_b > high_a)
        welded = {a.role, b.role} <= WELDED and "frame" in (a.name, b.name)
        if not apart and not welded and not known(a.name, b.name) and touching(a, b, index):
            found.append((a.name, b.name))
    return found
