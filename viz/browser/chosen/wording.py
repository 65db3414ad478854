"""What the scenario refuses or warns of, in the words that stand on the page instead of a file's keys."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from scenarios.kit import PLACES
from scenarios.schema.changes import AT_A_CORNER, CHANGES

BUSHES = {
    f"{place}_{key}": f"{place} bush, {told}"
    for place in PLACES
    for key, told in (
        ("rated_deg", "size"),
        ("offset_mm", "size"),
        ("clock_deg", "clock"),
    )
}
LABELS = {
    **BUSHES,
    "tie_rod_toe_deg": "toe",
    "tie_rod_length_mm": "tie rod",
    **{change.key: change.told.partition(",")[0] for change in (*AT_A_CORNER, *CHANGES)},
    "mass_kg": "ballast",
    "at_mm": "place of the ballast",
}
"""How the page calls a key of a setting."""
_PLACE = re.compile(r"\bsetting\.([AB])((?:\.\w+(?:\[\d+\])?)*)( = )?")
_DEG = re.compile(r"(?<=\d) deg\b(?!/)")
_MORE = re.compile(r" \(and \d+ more\)$")


def plain(text: str) -> str:
    """A line of a refusal or warning: 'A, left top bush, size 99°: must be at least 0 and at most 15°'."""
    said = _PLACE.sub(_called, text.removeprefix("this page: "))
    return _DEG.sub("°", _MORE.sub("", said)).replace("the kit", "the box")


def _called(found: re.Match[str]) -> str:
    parts = [part.partition("[")[0] for part in found[2].split(".") if part]
    side = next((part for part in parts if part in ("left", "right")), "")
    key = next((LABELS[part] for part in reversed(parts) if part in LABELS), "")
    told = f"{side} {key}".strip()
    return f"{found[1]}{', ' if told else ''}{told}{' ' if found[3] else ''}"


def folded(lines: Sequence[str]) -> Iterator[str]:
    """Lines in their order; what is said of left and of right alike is said once."""
    for line in lines:
        if line.replace(" right ", " left ") in lines and " right " in line:
            continue
        twin = line.replace(" left ", " right ")
        yield line.replace(" left ", " left and right ") if twin in lines and twin != line else line
