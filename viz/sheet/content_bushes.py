"""The part of the sheet that shows the bushes: what each one is, becomes, and where it comes from."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from math import degrees, isclose

from kinematics.parts import Kart
from scenarios.ask.worksheet import SIDES, Figures, rated_deg
from viz.page.drawing import Drawing, Hole, bush_drawing, enlargement_for, hole_of, shorter_turn
from viz.sheet import words
from viz.sheet.blocks import BLANK, BushView, Corners, CornerView, Line, Para, Table
from viz.sheet.numbers import number, size

PLACES = ("top", "bottom")
SAME_SIZE_DEG = 1e-6


def corners(found: Figures) -> Corners:
    """Both corners with their bushes, drawn to one enlargement."""
    views = {side: _corner(found, side, enlargement(found)) for side in SIDES}
    return Corners(views["left"], views["right"])


def enlargement(found: Figures) -> float:
    """How many times full size the hole offsets are drawn."""
    holes = [hole_of(getattr(s.setting, side), p) for s in (found.before, found.after) for side, p in _all()]
    return enlargement_for(max(hole.offset for hole in holes))


def _all() -> Iterator[tuple[str, str]]:
    return ((side, place) for side in SIDES for place in PLACES)


def _corner(found: Figures, side: str, times: float) -> CornerView:
    title = f"{side.upper()} corner (the driver's {side})"
    return CornerView(side, title, tuple(_bush(found, side, place, times) for place in PLACES))


def _bush(found: Figures, side: str, place: str, times: float) -> BushView:
    before, after = (hole_of(getattr(s.setting, side), place) for s in (found.before, found.after))
    action = _action(before, after)
    kart = found.scenario.kart
    was, now = (_said(kart, side, place, when, h) for when, h in (("before", before), ("after", after)))
    lines: list[Line] = [(f"{place} bush: ", *was, " → ", *now)]
    if action != "Leave it":
        lines.append(("hole off centre ", *_offset(side, place, before, after)))
    if action == "Turn it":
        lines.append(_turn(side, place, before, after))
    return BushView(
        f"{side.capitalize()} {place} bush", action, tuple(lines), _drawn(side, before, after, times)
    )


def _action(before: Hole, after: Hole) -> str:
    if (before.centred and after.centred) or before == after:
        return "Leave it"
    same = isclose(before.offset, after.offset, abs_tol=1e-9)
    if same and abs(shorter_turn(before.clock, after.clock)) < 1e-9:
        return "Leave it"
    return "Turn it" if same else "Swap it"


def _said(kart: Kart, side: str, place: str, when: str, hole: Hole) -> Line:
    key = f"{side}_{place}_{when}"
    rated = rated_deg(getattr(kart, side).yoke, hole.offset)
    if hole.centred:
        return (size(f"{key}_size_deg", rated, "deg"), " (concentric)")
    clock = round(degrees(hole.clock) % 360.0, 9) % 360.0
    return (size(f"{key}_size_deg", rated, "deg"), " at clock\u00a0", size(f"{key}_clock_deg", clock))


def _offset(side: str, place: str, before: Hole, after: Hole) -> Line:
    was, now = (
        number(f"{side}_{place}_{when}_offset_mm", hole.offset, 2, "mm")
        for when, hole in (("before", before), ("after", after))
    )
    return (was, " → ", now)


def _turn(side: str, place: str, before: Hole, after: Hole) -> Line:
    turn = shorter_turn(before.clock, after.clock)
    anticlockwise = (turn > 0.0) == (side == "left")
    way = "anticlockwise" if anticlockwise else "clockwise"
    return (
        "turn by ",
        size(f"{side}_{place}_turn_deg", round(degrees(abs(turn)), 9), "deg"),
        f" {way}, seen from above",
    )


def _drawn(side: str, before: Hole, after: Hole, times: float) -> Drawing:
    words = (
        f"{side} corner from above, forward up the page, outboard at the {side}: "
        f"hole before {_where(before)}, after {_where(after)}"
    )
    return bush_drawing(side, before, after, times, words)


def _where(hole: Hole) -> str:
    return "in the middle" if hole.centred else f"off centre towards clock {degrees(hole.clock) % 360.0:.4g}"


def explained(found: Figures) -> Para:
    """How the drawings are to be read."""
    times = size("enlargement", enlargement(found))
    return Para((f"{words.CLOCK} ", times, " times full size; ring and hole are not to scale."), "note")


def bushes_of(found: Figures, when: str) -> Counter[float]:
    """How many bushes of each rated size (deg) a state takes, concentric ones too."""
    state = found.before if when == "before" else found.after
    kart = found.scenario.kart
    rated = (
        rated_deg(getattr(kart, side).yoke, hole_of(getattr(state.setting, side), place).offset)
        for side, place in _all()
    )
    return Counter(round(r, 6) for r in rated)


def in_box(found: Figures, rated: float) -> tuple[bool, int | None]:
    """Whether the kit holds a size, and how many of it; None is enough."""
    kit = found.scenario.kit
    if not kit.sizes_deg or (rated < SAME_SIZE_DEG and 0.0 not in kit.sizes_deg):
        return True, None  # a kit without sizes says nothing, and a concentric bush is always on hand
    for there, count in zip(kit.sizes_deg, kit.counts, strict=True):
        if abs(there - rated) < SAME_SIZE_DEG:
            return True, count
    return False, None


def parts(found: Figures) -> tuple[Table, list[Para]]:
    """Bushes to fit, per size, against the kit, with a warning where it has too few."""
    off, fitted = bushes_of(found, "before"), bushes_of(found, "after")
    rows, warnings = [], []
    for i, rated in enumerate(sorted(fitted | off)):
        key = f"parts_{i}"
        listed, count = in_box(found, rated)
        stock: Line = (
            (size(f"{key}_in_kit", count),) if count is not None else (("enough" if listed else "none"),)
        )
        fetched = max(0, fitted[rated] - off[rated])
        rows.append(
            (
                (size(f"{key}_size_deg", rated, "deg"),),
                (size(f"{key}_off", off[rated]),),
                (size(f"{key}_fitted", fitted[rated]),),
                (size(f"{key}_fetch", fetched),),
                stock,
                BLANK,
            )
        )
        if fetched and (not listed or (count is not None and count < fitted[rated])):
            warnings.append(_too_few(key, rated, fitted[rated], count if listed else 0))
    head = (
        "Bush, rated size",
        "On the kart now",
        "Fitted after",
        "Fetch from the box",
        "In the kit",
        "Laid out",
    )
    caption = "Bushes, all four seats (what is on the kart counts as part of the kit)"
    return Table(caption, head, tuple(rows), (2.2, 1.6, 1.5, 1.9, 1.3, 1.5)), warnings + _off_step(found)


def _too_few(key: str, rated: float, wanted: int, there: int | None) -> Para:
    return Para(
        (
            "The box has too few bushes of ",
            size(f"{key}_size_deg", rated, "deg"),
            ": ",
            size(f"{key}_fitted", wanted),
            " needed, ",
            size(f"{key}_there", there or 0),
            " in the kit.",
        ),
        "warning",
    )


def _off_step(found: Figures) -> list[Para]:
    step = found.scenario.kit.clock_step_deg
    warnings = []
    for side, place in _all():
        hole = hole_of(getattr(found.after.setting, side), place)
        clock = round(degrees(hole.clock) % 360.0, 9) % 360.0
        if step and not hole.centred and abs(clock - step * round(clock / step)) > SAME_SIZE_DEG:
            said = size(f"{side}_{place}_after_clock_deg", clock)
            line = (f"The {side} {place} bush at clock ", said, " is off the kit's clock step of ")
            warnings.append(Para((*line, size("clock_step_deg", step, "deg"), "."), "warning"))
    return warnings
