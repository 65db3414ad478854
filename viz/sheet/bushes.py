"""The part of the sheet that shows the bushes: what each one is, becomes, and where it comes from."""

from __future__ import annotations

from collections.abc import Iterator
from math import degrees, radians

from scenarios.ask.fitting import counted
from scenarios.ask.worksheet import Figures
from scenarios.errors import exact
from scenarios.kit import (
    PLACES,
    SIDES,
    Bush,
    Size,
    Work,
    brief_clock,
    bushes,
    can_stand,
    clock_text,
    stock,
    work,
)
from viz.page.drawing import Drawing, Hole, bush_drawing, enlargement_for, hole_of, shorter_turn, where
from viz.sheet import words
from viz.sheet.blocks import BLANK, BushView, Corners, CornerView, Line, Number, Para, Table, number, size

ACTIONS: dict[Work, str] = {"leave": "Leave it", "turn": "Turn it", "swap": "Swap it"}


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
    kit = found.scenario.kit
    was, now = (bushes(kit, s.setting)[side, place] for s in (found.before, found.after))
    doing, key = work(was, now), f"{side}_{place}"
    lines: list[Line] = [
        (f"{place} bush: ", *_said(f"{key}_before", was), " → ", *_said(f"{key}_after", now))
    ]
    if doing != "leave":
        lines.append(("hole off centre ", _offset(f"{key}_before", was), " → ", _offset(f"{key}_after", now)))
    if doing == "turn":
        lines.append(_turn(side, place, was, now))
    before, after = (hole_of(getattr(s.setting, side), place) for s in (found.before, found.after))
    drawn = _drawn(side, before, after, times)
    return BushView(f"{side.capitalize()} {place} bush", ACTIONS[doing], tuple(lines), drawn)


def _said(key: str, bush: Bush) -> Line:
    if bush.size.centred:
        return (_size(key, bush.size), " (concentric)")
    return (_size(key, bush.size), " at clock\u00a0", _clock(key, bush))


def _size(key: str, said: Size) -> Number:
    """A size in its owner's word."""
    return Number(f"{key}_size_{said.unit}", said.number, str(said))


def _listed(clocks: tuple[float, ...]) -> str:
    return ", ".join(f"{clock:g}" for clock in clocks)


def _clock(key: str, bush: Bush) -> Number:
    return Number(f"{key}_clock_deg", bush.clock_deg, clock_text(bush.clock_deg))


def _offset(key: str, bush: Bush) -> Number:
    return number(f"{key}_offset_mm", bush.size.offset, 2, "mm")


def _turn(side: str, place: str, was: Bush, now: Bush) -> Line:
    turn = degrees(shorter_turn(radians(was.clock_deg), radians(now.clock_deg)))
    anticlockwise = (turn > 0.0) == (side == "left")
    way = "anticlockwise" if anticlockwise else "clockwise"
    return (
        "turn by ",
        size(f"{side}_{place}_turn_deg", round(abs(turn), 9), "deg"),
        f" {way}, seen from above",
    )


def _drawn(side: str, before: Hole, after: Hole, times: float) -> Drawing:
    words = (
        f"{side} corner from above, forward up the page, outboard at the {side}: "
        f"hole before {where(before)}, after {where(after)}"
    )
    return bush_drawing(side, before, after, times, words)


def explained(found: Figures) -> Para:
    """How the drawings are to be read."""
    times = size("enlargement", enlargement(found))
    return Para((f"{words.CLOCK} ", times, " times full size; ring and hole are not to scale."), "note")


def parts(found: Figures) -> tuple[Table, list[Para]]:
    """Bushes to fit, per size, against the kit, with a warning where it has too few."""
    kit = found.scenario.kit
    before, after = (list(bushes(kit, s.setting).values()) for s in (found.before, found.after))
    off, fitted = counted(before), counted(after)
    rows, warnings = [], []
    sizes = {str(bush.size): bush.size for bush in (*before, *after)}
    for i, one in enumerate(sorted(sizes.values(), key=lambda size: size.offset)):
        key, word, there = f"parts_{i}", str(one), stock(kit, one)
        fetched = max(0, fitted[word] - off[word])
        rows.append(
            (
                (_size(key, one),),
                (size(f"{key}_off", off[word]),),
                (size(f"{key}_fitted", fitted[word]),),
                (size(f"{key}_fetch", fetched),),
                (_in_kit(key, there),),
                BLANK,
            )
        )
        if fetched and there is not None and there < fitted[word]:
            warnings.append(_too_few(key, one, fitted[word], there))
    head = (
        "Bush",
        "On the kart now",
        "Fitted after",
        "Fetch from the box",
        "In the kit",
        "Laid out",
    )
    caption = "Bushes, all four seats (what is on the kart counts as part of the kit)"
    return Table(caption, head, tuple(rows), (2.2, 1.6, 1.5, 1.9, 1.3, 1.5)), warnings + _off_step(found)


def _in_kit(key: str, there: int | None) -> str | Number:
    if there is None:
        return "enough"
    return size(f"{key}_in_kit", there) if there else "none"


def _too_few(key: str, one: Size, wanted: int, there: int) -> Para:
    short = ("The box has too few bushes of ", _size(key, one), ": ", size(f"{key}_fitted", wanted))
    return Para((*short, " needed, ", size(f"{key}_there", there), " in the kit."), "warning")


def _off_step(found: Figures) -> list[Para]:
    kit, warnings = found.scenario.kit, []
    for (side, place), bush in bushes(kit, found.after.setting).items():
        if can_stand(kit, bush):
            continue
        key = f"{side}_{place}_after_clock_deg"
        said = Number(key, bush.clock_deg, exact(brief_clock(bush.clock_deg)))
        line = (f"The {side} {place} bush at clock ", said, " is off the kit's clock step of ")
        step: tuple[str | Number, ...] = (size("clock_step_deg", kit.clock_step_deg, "deg"),)
        if own := bush.size.clocks_deg:
            line, step = (*line[:2], " is off its own clocks, "), (_listed(own), " deg")
        warnings.append(Para((*line, *step, "."), "warning"))
    return warnings
