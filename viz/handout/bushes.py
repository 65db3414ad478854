"""The bench drawing of a hand-out: both bushes of both corners from above, A and B in one drawing."""

from __future__ import annotations

import re
from html import escape

from scenarios.kit import PLACES, SIDES
from viz.handout.content import Content
from viz.page.drawing import Hole, Names, bush_drawing, enlargement_for, hole_of, where
from viz.page.svg import drawn, tag
from viz.tables.headline import fitted_line

PAIR = Names("A", "B", "A and B", "A, B", first_solid=True)
ALONE = Names("", "", "", "")
"""One setting on its own needs no name."""


def bushes(content: Content) -> str:
    """The corners beside each other, the left one at the left as the kart is seen from above."""
    holes = [hole for side in SIDES for place in PLACES for hole in _holes(content, side, place)]
    times = enlargement_for(max(hole.offset for hole in holes))
    corners = "".join(_corner(content, side, times) for side in SIDES)
    return tag("div", corners, class_="corners") + tag("p", escape(_explained(content, times)), class_="note")


def _holes(content: Content, side: str, place: str) -> list[Hole]:
    settings = [content.scenario.settings[name] for name in content.names.values()]
    return [hole_of(getattr(setting, side), place) for setting in settings]


def _corner(content: Content, side: str, times: float) -> str:
    pair = "".join(_bush(content, side, place, times) for place in PLACES)
    fitted = "".join(tag("li", escape(line)) for line in fitted_lines(content, side))
    title = f"{side.capitalize()} corner (the driver's {side})"
    inside = f"{tag('h3', title)}<div class='pair'>{pair}</div>{tag('ul', fitted)}"
    return tag("article", inside, class_="corner")


def fitted_lines(content: Content, side: str) -> list[str]:
    """What is fitted at a corner in each slot, in words."""
    lines = {slot: fitted_line(content.scenario, name, side) for slot, name in content.names.items()}
    told = {slot: line.removeprefix(f"{side}:").lstrip() for slot, line in lines.items()}
    return [re.sub(r"(?<= )-(?=\d)", "−", f"{slot}: {text}") for slot, text in told.items()]


def _bush(content: Content, side: str, place: str, times: float) -> str:
    holes = _holes(content, side, place)
    told = ", ".join(f"{slot} {where(hole)}" for slot, hole in zip(content.names, holes, strict=True))
    alt = f"{side} {place} bush from above, forward up the page: hole of {told}"
    names = PAIR if len(holes) == 2 else ALONE
    drawing = bush_drawing(side, holes[0], holes[-1], times, alt, names)
    return tag("figure", drawn(drawing) + tag("figcaption", f"{place.capitalize()} bush"))


def _explained(content: Content, times: float) -> str:
    both = "Solid: A. Dashed and hollow: B. An arrow: the same bush turned from A to B. "
    return (
        "Seen along the kingpin from above, forward up the page. Clock: 0 forward, 90 outboard, "
        "180 rearward, 270 inboard, the same reading on both corners. Triangle: where the hole is nearest to "
        f"the rim. {both if len(content.names) == 2 else ''}Hole offsets are {times:g} times full size; "
        "ring and hole are not to scale."
    )
