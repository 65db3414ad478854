"""Figures of many settings that are read off a turn: jacking rates, lift-off, least loads."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from kinematics.choose.targets import Figure, FourWheels
from kinematics.figures.columns import Figure as Read
from kinematics.figures.turn import SCANNED, WHOLE_TURN, jacking_figures, some_case_figures
from kinematics.figures.turning import COARSE_SCAN, SCAN_STEPS
from kinematics.frames import Array
from kinematics.lock import Mask
from kinematics.parts import Kart, LoadCase, Setting

Values = tuple[Array, Mask]


def poses_in_turn(figures: Sequence[Figure], coarse: bool) -> int:
    """About how many poses of a setting are held at a time for these figures."""
    scan = COARSE_SCAN if coarse else SCAN_STEPS
    return scan + 4 if any(figure.name in SCANNED for figure in figures) else 4


def scans(figures: Sequence[Figure]) -> int:
    """How many turns have to be scanned for these figures: cases, each way on its own."""
    asked = [figure for figure in figures if figure.name in SCANNED]
    return len({(figure.case, "_left_" in figure.name) for figure in asked})


def jacking_of(kart: Kart, setting: Setting, figures: Sequence[Figure]) -> list[Values]:
    """Jacking rates of the rigid kart, each (...), and where known."""
    found = jacking_figures(kart, setting)
    return [(found[figure.name].value, found[figure.name].known) for figure in figures]


def turned(
    kart: Kart, setting: Setting, wheels: FourWheels, figures: Sequence[Figure], coarse: bool
) -> list[Values]:
    """Figures of load cases read off a turn, each (...), and where known; inf where there surely is none."""
    by_name = {case.name: case for case in wheels.load_cases}
    found: dict[tuple[str, float | None], dict[str, Read]] = {}
    for lock in {_lock(figure): None for figure in figures}:
        asked: dict[LoadCase, list[str]] = {}
        for figure in figures:
            if _lock(figure) == lock:
                asked.setdefault(by_name[str(figure.case)], []).append(figure.name)
        for case, read in some_case_figures(kart, setting, asked, lock or 0.0, coarse).items():
            found[case.name, lock] = read
    of_each = [found[str(figure.case), _lock(figure)][figure.name] for figure in figures]
    return [(np.asarray(one.value), np.asarray(one.known)) for one in of_each]


def _lock(figure: Figure) -> float | None:
    return None if figure.name in WHOLE_TURN else figure.handwheel
