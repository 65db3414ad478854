"""What is left on the inside rear wheel, as a bar: its load standing, less cornering, less steering."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from kinematics.lock import sweep
from kinematics.parts import GRAVITY
from kinematics.stance.equilibrium import RL, RR
from kinematics.standing.stand import inside_is_left, inside_rear_load, lateral_g, stand, stood
from viz.handout.content import Content
from viz.page.svg import tag
from viz.words.numbers import PAGE, number

WIDTH, HEIGHT = 400.0, 22.0
"""Of the bar, in the units of its drawing."""
PARTS = ("carries", "steering", "cornering")


@dataclass(frozen=True)
class Share:
    """Of the inside rear's load standing straight ahead: what cornering takes, what steering takes; kg."""

    standing: float
    cornering: float
    steering: float

    @property
    def carries(self) -> float:
        """What is left."""
        return self.standing - self.cornering - self.steering

    @property
    def said(self) -> str:
        """All of it in words."""
        took = [_took(name, by) for name, by in (("cornering", self.cornering), ("steering", self.steering))]
        left = number(self.carries, 1, hand=PAGE)
        return f"Inside rear: {number(self.standing, 1)} kg standing {' '.join(took)} = {left} kg"

    def widths(self, whole: float) -> list[float]:
        """Of the three parts of its bar, when a load of `whole` kg fills it."""
        return [round(WIDTH * max(0.0, float(getattr(self, name))) / whole, 2) for name in PARTS]


def _took(name: str, by: float) -> str:
    return f"{PAGE.minus if by >= 0.0 else '+'} {number(abs(by), 1)} {name}"


Shares = Mapping[str, Sequence[Share | None]]
"""By slot, at every stop; None where the kart has no stance."""


def shares(content: Content) -> Shares:
    """The shares in the load case of the pictures: cornering alone is the kart straight ahead under its g."""
    found = {}
    for slot, run in content.stops.items():
        swept, case = run.sweep, content.case
        ahead = sweep(swept.kart, swept.setting, np.zeros(swept.handwheel.shape))
        now, pulled = stand(swept, case), stood(ahead, lateral_g(swept, case), case.longitudinal_g)
        still = stood(ahead, 0.0, 0.0)
        left = inside_is_left(swept, now)
        first, second = (np.where(left, one.loads[..., RL], one.loads[..., RR]) for one in (still, pulled))
        last = inside_rear_load(swept, now)
        known = swept.reach & ~(now.tips | pulled.tips | still.tips)
        rows = np.stack([first, first - second, second - last], axis=-1) / GRAVITY
        found[slot] = [
            Share(*row) if there else None for row, there in zip(rows.tolist(), known, strict=True)
        ]
    return found


def whole(found: Shares) -> float:
    """The load that fills a bar, kg: the largest that there is standing, so that bars compare."""
    return max((one.standing for row in found.values() for one in row if one is not None), default=1.0)


def drawn(share: Share | None, slot: str, filled: float) -> str:
    """A bar with what it says below; the script moves both."""
    widths, at, rects = ([0.0] * 3 if share is None else share.widths(filled)), 0.0, []
    for name, wide in zip(PARTS, widths, strict=True):
        rects.append(tag("rect", "", x=at, width=wide, height=HEIGHT, class_=name))
        at = round(at + wide, 2)
    box = f"0 0 {WIDTH:g} {HEIGHT:g}"
    svg = tag("svg", "".join(rects), id=f"bar{slot}", viewBox=box, aria_hidden="true", class_="bar")
    return svg + tag("p", "" if share is None else share.said, id=f"says{slot}", class_="says")


def data(found: Shares) -> dict[str, list[list[object] | None]]:
    """For the script: widths and words of every stop."""
    filled = whole(found)
    return {
        slot: [None if one is None else [one.widths(filled), one.said] for one in row]
        for slot, row in found.items()
    }
