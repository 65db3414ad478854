"""A GLB file as VTK's importer reads and plays it: a reader apart from the library that wrote it."""

from __future__ import annotations

import json
import struct
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import numpy as np
from vtkmodules.util.numpy_support import vtk_to_numpy
from vtkmodules.vtkCommonCore import vtkIndent
from vtkmodules.vtkIOImport import vtkGLTFImporter
from vtkmodules.vtkRenderingOpenGL2 import vtkGenericOpenGLRenderWindow


def header(path: Path) -> Any:
    """The JSON of a GLB file."""
    content = path.read_bytes()
    return json.loads(content[20 : 20 + struct.unpack("<I", content[12:16])[0]])


class Played:
    """The meshes of a file, each under the name of its body; nothing is drawn."""

    def __init__(self, path: Path) -> None:
        self._window = vtkGenericOpenGLRenderWindow()
        self._importer = vtkGLTFImporter()
        self._importer.SetRenderWindow(self._window)
        self._importer.SetFileName(str(path))
        self._importer.Update()
        self.animations = [
            self._importer.GetAnimationName(i) for i in range(self._importer.GetNumberOfAnimations())
        ]
        self.actors: dict[str, list[Any]] = {}
        found = self._importer.GetImportedActors()
        tree = ElementTree.fromstring(self._importer.GetSceneHierarchy().SerializeToXML(vtkIndent()))
        for node in tree.iter():
            if "flat_actor_id" in node.attrib:
                actor = found.GetItemAsObject(int(node.attrib["flat_actor_id"]))
                self.actors.setdefault(node.attrib["label"].split(": ")[0], []).append(actor)

    def play(self, seconds: float) -> None:
        """Move everything to a moment of the first animation."""
        self._importer.EnableAnimation(0)
        self._importer.UpdateAtTimeValue(seconds)

    def points(self, body: str) -> Any:
        """Where a body's points stand now (V, 3), m."""
        parts = []
        for actor in self.actors[body]:
            matrix = actor.GetUserMatrix() or actor.GetMatrix()
            m = np.array([[matrix.GetElement(i, j) for j in range(4)] for i in range(3)])
            parts.append(vtk_to_numpy(self._of(actor).GetPoints().GetData()) @ m[:, :3].T + m[:, 3])
        return np.concatenate(parts)

    def normals(self, body: str) -> Any:
        """The normals of a body (V, 3)."""
        return np.concatenate(
            [vtk_to_numpy(self._of(a).GetPointData().GetNormals()) for a in self.actors[body]]
        )

    @staticmethod
    def _of(actor: Any) -> Any:
        return actor.GetMapper().GetInput()
