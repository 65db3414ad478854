"""What a loaded scenario is: frozen records around the kart and its settings."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import Any

from kinematics.drive.rear_axle import AxleGrip
from kinematics.figures.figure import Given
from kinematics.parts import Kart, LoadCase, Setting
from scenarios.kit import Kit


@dataclass(frozen=True)
class Limits:
    """What the event's rules allow; they warn and never refuse."""

    wheelbase_min_mm: float
    wheelbase_max_mm: float
    track_to_wheelbase_min_ratio: float
    overall_width_max_mm: float
    source: str


@dataclass(frozen=True)
class RearAxle:
    """The rear tyres lengthwise, for the yaw moment of the one-piece rear axle."""

    longitudinal_stiffness_n_per_n: float
    """Force per unit of slip and per unit of wheel load."""
    friction_ratio: float
    """Largest force over wheel load."""


@dataclass(frozen=True)
class Scenario:
    """A kart, what may be fitted to it, and what to look at."""

    name: str
    """The built-in name, or the file's name without its suffix."""
    source: str
    """Where it came from, as shown in messages."""
    title: str
    kart: Kart
    kit: Kit
    settings: Mapping[str, Setting]
    """In the file's order, never empty."""
    notes: Mapping[str, str]
    """The note of each setting, '' when it has none."""
    default_setting: str
    load_cases: tuple[LoadCase, ...]
    handwheel_deg: tuple[float, float, int]
    """From, to (deg, + left turn) and number of positions."""
    toe_diameter_mm: float
    """The diameter at which toe in mm is stated."""
    thread_pitch_mm: float
    """Pitch of the tie rods' threads; one turn of a left/right-hand rod moves two pitches."""
    pneumatic_trail_mm: float
    """The side force acts this far behind the contact centre."""
    workshop: Mapping[str, Any]
    """Tool sizes, torques and spacers by their keys; only what the file gives."""
    limits: Limits
    rear_axle: RearAxle
    resolved: dict[str, Any]
    """Every input after defaults and overrides, JSON-ready; `from_mapping` makes the same scenario of it."""
    warnings: tuple[str, ...]
    """What was computed all the same but should be looked at, one line each."""

    @cached_property
    def digest(self) -> str:
        """SHA-256 (hex) of the resolved inputs, whatever the order of their keys."""
        from hashlib import sha256  # a document asks for it, a table on the screen does not

        text = json.dumps(self.resolved, sort_keys=True, separators=(",", ":"), allow_nan=False)
        return sha256(text.encode()).hexdigest()

    @property
    def given(self) -> Given:
        """What figures take for granted besides kart and setting."""
        grip = AxleGrip(self.rear_axle.friction_ratio, self.rear_axle.longitudinal_stiffness_n_per_n)
        return Given(self.toe_diameter_mm, self.pneumatic_trail_mm, grip)

    def cases(self, names: Iterable[str]) -> tuple[LoadCase, ...]:
        """The load cases of these names, in their order."""
        by_name = {case.name: case for case in self.load_cases}
        return tuple(by_name[name] for name in names)
