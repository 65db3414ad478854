"""`lockarc view`: the kart moving through lock, in a window or written to a file."""

from __future__ import annotations

import argparse
import os
from collections.abc import Iterator
from contextlib import contextmanager
from math import degrees
from typing import TYPE_CHECKING, Any

from viz.cli_parser import finite, suggestion
from viz.cli_run import Choice, add_run_arguments, chosen, concerning
from viz.cli_setting import HELP
from viz.cli_view_stance import add_standing_arguments, build, check_standing, settings_shown, window_options
from viz.output import Target, check_suffix, check_targets
from viz.terminal import Refusal, warn

if TYPE_CHECKING:
    from kinematics.parts import Setting
    from kinematics.sweep import Sweep
    from viz.movie import Progress
    from viz.scene_data import SceneData
    from viz.scene_theme import Theme

DESCRIPTION = """\
Shows the kart moving through lock as the solver has it, standing on the road in a load case: four
wheels with their loads, the frame as it twists, the inside rear where it leaves the road, and in
front bushes with their holes, kingpin, stub axle, tie rod, spade and column. A window with a
display; without one, or with --out, a file."""


def add_to(commands: Any) -> None:
    """Add the command to the parser."""
    parser = commands.add_parser(
        "view", help="see the parts move: a window, a film or a picture", description=DESCRIPTION, epilog=HELP
    )
    add_run_arguments(parser)
    add_standing_arguments(parser)
    output = parser.add_argument_group("picture")
    output.add_argument("--out", metavar="FILE", help="a film .gif, .mp4, .webp or a picture .png")
    output.add_argument("--at", metavar="DEG", type=finite, help="handwheel angle of a .png, else straight")
    output.add_argument("--from-view", metavar="NAME", default="overview", help="where to look from")
    output.add_argument("--dark", action="store_true", help="on a dark ground")
    parser.set_defaults(run=run)


def run(arguments: argparse.Namespace) -> int:
    """Solve the sweep, then open the window or write the file."""
    out: str | None = arguments.out
    if out is not None:
        _check_out(out, arguments.scenario)
    choice = chosen(arguments)
    if len(choice.settings) != 1:
        raise Refusal(f"view shows one setting, not {len(choice.settings)}: {', '.join(choice.settings)}")
    check_standing(choice, arguments)
    if out is None and not _has_display():
        out = _unnamed(choice)
        _check_out(out, arguments.scenario)
    warn(concerning(choice.scenario.warnings, settings_shown(choice, arguments)))
    with _refusing():
        if out is None:
            _show(choice, arguments)
        else:
            _write(out, choice, arguments)
    return 0


def _check_out(out: str, scenario: str | None) -> None:
    from viz.movie import SUFFIXES

    target = Target("--out", out)
    check_suffix(target, SUFFIXES)
    check_targets([target], [scenario] if scenario else [])


def _has_display() -> bool:
    from viz.gl import has_display

    return has_display()


def _unnamed(choice: Choice) -> str:
    """A name for a film that was not named; one that is there already is not written over."""
    name = f"{choice.scenario.name}-{choice.settings[0]}.gif".replace(" ", "-")
    if os.path.exists(name):
        raise Refusal(f"no display for a window, and {name} is there already: name a file with --out")
    return name


@contextmanager
def _refusing() -> Iterator[None]:
    """Say in one line what a machine that cannot draw, or a full disk, comes to."""
    from viz.gl import NoGraphics

    try:
        yield
    except NoGraphics as error:
        raise Refusal(error) from error
    except BrokenPipeError:
        raise
    except OSError as error:
        raise Refusal(f"cannot write the picture: {error.strerror or error}") from error


def _swept(choice: Choice, name: str, only_deg: float | None = None) -> Sweep:
    """The sweep of a setting, through the scenario's lock or at a single handwheel angle (deg)."""
    import numpy as np

    from kinematics.sweep import sweep

    lock = np.linspace(*choice.scenario.handwheel_deg) if only_deg is None else np.array([only_deg])
    return sweep(choice.scenario.kart, choice.scenario.settings[name], np.radians(lock))


def _place(out: str, choice: Choice, arguments: argparse.Namespace) -> float | None:
    """The handwheel angle (deg) of a still; None: a film."""
    if not out.lower().endswith(".png"):
        if arguments.at is not None:
            raise Refusal("--at is the place of a .png; a film shows the whole lock")
        return None
    at, stop = arguments.at or 0.0, degrees(choice.scenario.kart.column.stop)
    if abs(at) > stop + 1e-9:
        raise Refusal(f"--at {at:g} deg is beyond the mechanical stop of ±{stop:g} deg")
    return at


def _theme(arguments: argparse.Namespace) -> Theme:
    from viz.scene_theme import DARK, LIGHT

    return DARK if arguments.dark else LIGHT


def _show(choice: Choice, arguments: argparse.Namespace) -> None:
    from kinematics.sweep import sweep
    from viz import gl, window

    gl.require(window=True)
    name = choice.settings[0]
    swept = _swept(choice, name)

    def resweep(setting: Setting) -> Sweep:
        return sweep(swept.kart, setting, swept.handwheel)

    options = window_options(choice, arguments, lambda setting: _swept(choice, setting))
    try:
        window.show(swept, resweep, name, _theme(arguments), options)
    except ValueError as error:
        raise Refusal(f"{choice.scenario.source}: setting '{name}': {error}") from error


def _scene(out: str, choice: Choice, arguments: argparse.Namespace) -> SceneData:
    place = _place(out, choice, arguments)
    try:
        data = build(choice, arguments, lambda name: _swept(choice, name, place))
    except ValueError as error:
        raise Refusal(f"{choice.scenario.source}: setting '{choice.settings[0]}': {error}") from error
    view = arguments.from_view
    if view not in data.cameras:
        raise Refusal(f"view '{view}' is unknown{suggestion(view, data.cameras)}")
    return data


def _write(out: str, choice: Choice, arguments: argparse.Namespace) -> None:
    from viz import gl, movie

    gl.require()
    data = _scene(out, choice, arguments)
    with _progress(out) as progress:
        frames = movie.write(out, data, theme=_theme(arguments), view=arguments.from_view, progress=progress)
    print(f"{out}: {frames} frame{'s' if frames > 1 else ''}")


@contextmanager
def _progress(out: str) -> Iterator[Progress]:
    """A progress bar on stderr while someone watches it there."""
    from rich.console import Console
    from rich.progress import Progress as Bar

    console = Console(stderr=True)
    with Bar(console=console, transient=True, disable=not console.is_terminal) as bar:
        task = bar.add_task(os.path.basename(out), total=None)
        yield lambda done, total: bar.update(task, completed=done, total=total)
