"""Files of a scene from the command line: films, stills and GLB, and what pictures of any kind ask for."""

from __future__ import annotations

import argparse
import os
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from scenarios.ask.asked import Asked
from scenarios.errors import Refusal
from viz.cli.options.outputs import check_shown
from viz.cli.options.parser import finite
from viz.cli.viewing.standing import Subject, build, seen_best
from viz.files import Destination, check_suffix, check_targets, writing
from viz.words.numbers import number
from viz.words.progress import progress_bar
from viz.words.terminal import say

if TYPE_CHECKING:
    from kinematics.lock import Sweep
    from viz.look.palette import Theme
    from viz.scene.data import SceneData

OVERVIEW = "overview"
MOST_DRAWN = 2001
"""Positions of lock that are made ready to be drawn: a slider finer than a screen; more would fill memory."""
STILLS = (".png", ".glb")
"""Suffixes of what shows one lock position."""


def check_out(out: str, suffixes: tuple[str, ...], scenario: str | None) -> None:
    """Refuse a file that cannot be written, or whose suffix is none of these, before anything is solved."""
    target = Destination("--out", out)
    check_suffix(target, suffixes)
    check_targets([target], [scenario] if scenario else [])


@contextmanager
def refusing() -> Iterator[None]:
    """Say in one line what a machine that cannot draw comes to."""
    from viz.canvas.gl import NoGraphics

    try:
        yield
    except NoGraphics as error:
        raise Refusal(error) from error


@dataclass(frozen=True)
class Picture:
    """The picture asked for: its file or none, where the lock stands, where to look from, and the ground."""

    out: str | None
    at_deg: float | None
    view: str
    dark: bool

    @property
    def theme(self) -> Theme:
        """Light, or dark where it was asked for."""
        from viz.look.palette import DARK, LIGHT

        return DARK if self.dark else LIGHT


def add_picture_arguments(parser: argparse.ArgumentParser) -> argparse._ArgumentGroup:
    """Add what a picture needs to know; returns the group."""
    group = parser.add_argument_group("picture")
    group.add_argument(
        "--out", metavar="FILE", help="a film .gif, .mp4, .webp, a picture .png, or a .glb that moves"
    )
    at = "handwheel angle of .png, .glb, of a window at its start; else straight"
    group.add_argument("--at", metavar="DEG", type=finite, help=at)
    group.add_argument("--from-view", metavar="NAME", default=OVERVIEW, help="where to look from")
    group.add_argument("--dark", action="store_true", help="on a dark ground")
    return group


def picture_of(arguments: argparse.Namespace) -> Picture:
    """What the options of add_picture_arguments ask; refused where the file cannot be written."""
    if arguments.out is not None:
        from viz.canvas.movie import SUFFIXES

        check_out(arguments.out, (*SUFFIXES, "glb"), arguments.scenario)
    return Picture(arguments.out, arguments.at, arguments.from_view, arguments.dark)


def swept_setting(asked: Asked, name: str, at_deg: float | None = None, through: bool = False) -> Sweep:
    """The sweep of a setting, through the scenario's lock or at a handwheel angle (deg); through: both.

    What is drawn has at most MOST_DRAWN positions of it, evenly spread.
    """
    import numpy as np

    from kinematics.lock import sweep

    first, last, positions = asked.scenario.handwheel_deg
    lock = np.array([] if at_deg is None else [at_deg])
    if at_deg is None or through:
        lock = np.union1d(np.linspace(first, last, min(positions, MOST_DRAWN)), lock)
    return sweep(asked.scenario.kart, asked.scenario.settings[name], np.radians(lock))


def write_picture(out: str, asked: Asked, subject: Subject, picture: Picture) -> None:
    """Write the film, still or GLB that the suffix of out says."""
    from viz.canvas import gl, movie

    if out.lower().endswith(".glb"):
        _write_glb(out, asked, subject, picture)
        return
    gl.require()
    data = _scene(asked, seen_best(asked, subject), picture.view, _place(out, asked, picture))
    with writing(out), progress_bar(os.path.basename(out)) as progress:
        frames = movie.write(out, data, theme=picture.theme, view=picture.view, progress=progress)
    say(f"{out}: {frames} frame{'s' if frames > 1 else ''}")


def _write_glb(out: str, asked: Asked, subject: Subject, picture: Picture) -> None:
    """The kart to scale and its lock: without words a GLB can say neither what is drawn larger nor a B."""
    from viz.canvas import glb as export_glb

    for option in subject.unsaid():
        raise Refusal(f"{option} is not for a .glb, which has one kart, to scale, and no words")
    at_deg = _place(out, asked, picture) or 0.0
    _scene(asked, replace(subject, front_only=True, whole=False), OVERVIEW, at_deg)  # is it reached there
    data = _scene(asked, replace(subject, exaggeration=1.0), picture.view, at_deg, through=True)
    with writing(out):
        size = export_glb.write(out, data, at_deg=at_deg, theme=picture.theme)
    say(f"{out}: {number(size / 1e6, 1)} MB")


def _scene(
    asked: Asked, subject: Subject, view: str, place: float | None, through: bool = False
) -> SceneData:
    try:
        data = build(asked, subject, lambda name: swept_setting(asked, name, place, through))
    except ValueError as error:
        raise Refusal(f"{asked.scenario.source}: setting '{asked.settings[0]}': {error}") from error
    if view not in data.views:
        from viz.window.state import unknown

        raise unknown(view, data)
    return data.seen_from(view)


def _place(out: str, asked: Asked, picture: Picture) -> float | None:
    """The handwheel angle (deg) of a still; None: a film."""
    if not out.lower().endswith(STILLS):
        if picture.at_deg is not None:
            raise Refusal("--at is the place of a .png or .glb; a film shows the whole lock")
        return None
    check_shown(asked.scenario, picture.at_deg)
    return picture.at_deg or 0.0
