"""Files of a scene from the command line: films, stills and GLB, and what pictures of any kind ask for."""

from __future__ import annotations

import argparse
import os
from collections.abc import Iterator
from contextlib import contextmanager
from math import degrees
from typing import TYPE_CHECKING

from scenarios.errors import Refusal, suggestion
from viz.cli.asked import Choice
from viz.cli.standing import build
from viz.files import Target, check_suffix, check_targets
from viz.words.progress import progress_bar

if TYPE_CHECKING:
    from kinematics.lock import Sweep
    from viz.look.palette import Theme
    from viz.scene.data import SceneData

STILLS = (".png", ".glb")
"""Suffixes of what shows one lock position."""


def check_out(out: str, suffixes: tuple[str, ...], scenario: str | None) -> None:
    """Refuse a file that cannot be written, or whose suffix is none of these, before anything is solved."""
    target = Target("--out", out)
    check_suffix(target, suffixes)
    check_targets([target], [scenario] if scenario else [])


@contextmanager
def refusing() -> Iterator[None]:
    """Say in one line what a machine that cannot draw, or a full disk, comes to."""
    from viz.canvas.gl import NoGraphics

    try:
        yield
    except NoGraphics as error:
        raise Refusal(error) from error
    except BrokenPipeError:
        raise
    except OSError as error:
        raise Refusal(f"cannot write the picture: {error.strerror or error}") from error


def swept_setting(choice: Choice, name: str, only_deg: float | None = None) -> Sweep:
    """The sweep of a setting, through the scenario's lock or at a single handwheel angle (deg)."""
    import numpy as np

    from kinematics.lock import sweep

    lock = np.linspace(*choice.scenario.handwheel_deg) if only_deg is None else np.array([only_deg])
    return sweep(choice.scenario.kart, choice.scenario.settings[name], np.radians(lock))


def theme_of(arguments: argparse.Namespace) -> Theme:
    """Light, or dark where it was asked for."""
    from viz.look.palette import DARK, LIGHT

    return DARK if arguments.dark else LIGHT


def write_picture(out: str, choice: Choice, arguments: argparse.Namespace) -> None:
    """Write the film, still or GLB that the suffix of out says."""
    from viz.canvas import gl, movie

    if out.lower().endswith(".glb"):
        _write_glb(out, choice, arguments)
        return
    gl.require()
    data = _scene(out, choice, arguments)
    with progress_bar(os.path.basename(out)) as progress:
        frames = movie.write(
            out, data, theme=theme_of(arguments), view=arguments.from_view, progress=progress
        )
    print(f"{out}: {frames} frame{'s' if frames > 1 else ''}")


def _write_glb(out: str, choice: Choice, arguments: argparse.Namespace) -> None:
    """The kart to scale with its frame held still: a GLB can neither say an exaggeration nor bend a frame."""
    from viz.canvas import glb as export_glb

    given = {
        "--case": bool(arguments.case),
        "--exaggerate": arguments.exaggerate is not None,
        "--against": arguments.against is not None,
    }
    for option in (name for name, value in given.items() if value):
        raise Refusal(f"{option} is not for a .glb, which has one kart to scale, its frame held still")
    arguments.whole = not arguments.front_only
    size = export_glb.write(out, _scene(out, choice, arguments), theme=theme_of(arguments))
    print(f"{out}: {size / 1e6:.1f} MB")


def _scene(out: str, choice: Choice, arguments: argparse.Namespace) -> SceneData:
    place = _place(out, choice, arguments)
    try:
        data = build(choice, arguments, lambda name: swept_setting(choice, name, place))
    except ValueError as error:
        raise Refusal(f"{choice.scenario.source}: setting '{choice.settings[0]}': {error}") from error
    view = arguments.from_view
    if view not in data.cameras:
        raise Refusal(f"view '{view}' is unknown{suggestion(view, data.cameras)}")
    return data


def _place(out: str, choice: Choice, arguments: argparse.Namespace) -> float | None:
    """The handwheel angle (deg) of a still; None: a film."""
    if not out.lower().endswith(STILLS):
        if arguments.at is not None:
            raise Refusal("--at is the place of a .png or .glb; a film shows the whole lock")
        return None
    at, stop = arguments.at or 0.0, degrees(choice.scenario.kart.column.stop)
    if abs(at) > stop + 1e-9:
        raise Refusal(f"--at {at:g} deg is beyond the mechanical stop of ±{stop:g} deg")
    return at
