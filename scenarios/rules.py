"""The event's rules: what they would object to is a warning and never a refusal."""

from __future__ import annotations

from kinematics.parts import Kart, Tyre
from scenarios.records import Limits


def overall_width(track: float, tyre: Tyre) -> float:
    """Width of an axle over its treads, mm; a tyre's wall may stand out further."""
    return track + tyre.tread_width


def rule_warnings(kart: Kart, limits: Limits) -> list[str]:
    """What the event's rules would object to, one line each; never a refusal."""
    said = f"({limits.source})"
    found = []
    if not limits.wheelbase_min_mm <= kart.wheelbase <= limits.wheelbase_max_mm:
        allowed = f"{limits.wheelbase_min_mm:g} to {limits.wheelbase_max_mm:g} mm"
        found.append(f"kart.wheelbase_mm = {kart.wheelbase:g} mm is outside the rule's {allowed} {said}")
    least = limits.track_to_wheelbase_min_ratio * kart.wheelbase
    for axle, track, tyre in (
        ("front", kart.front_track, kart.front_tyre),
        ("rear", kart.rear_track, kart.rear_tyre),
    ):
        width = overall_width(track, tyre)
        if track < least:
            found.append(f"{axle}.track_mm = {track:g} mm is below the rule's {least:.4g} mm {said}")
        if width > limits.overall_width_max_mm:
            over = f"{limits.overall_width_max_mm:g} mm"
            found.append(f"{axle}: {width:g} mm over the treads is wider than the rule's {over} {said}")
    return found
