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

    finder = vtkCollisionDetectionFilter()
    for port, body in enumerate((a, b)):
        matrix = vtkMatrix4x4()
        matrix.DeepCopy(body.matrices[index].ravel())
        finder.SetInputData(port, pv.PolyData.from_regular_faces(body.mesh.vertices, body.mesh.faces))
        finder.SetMatrix(port, matrix)
    finder.SetCollisionModeToFirstContact()
    finder.Update()
    return finder.GetNumberOfContacts() > 0


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
