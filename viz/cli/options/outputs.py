"""What commands write and print alike: where data and plot go, checked first, written when all is ready."""

from __future__ import annotations

import argparse
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import count
from math import degrees
from typing import TYPE_CHECKING, Any, AnyStr, Protocol, TypeVar

from scenarios.errors import Refusal
from viz.cli.options.parser import finite
from viz.files import Destination, Output, check_suffix, check_targets, write_all
from viz.words.progress import Progress, progress_bar
from viz.words.terminal import say, warn
from viz.words.width import WIDE, WIDEST, WIDTH

if TYPE_CHECKING:
    from matplotlib.figure import Figure

    from kinematics.figures.turning import Pulse
    from kinematics.tolerance.band import Band
    from scenarios import Scenario
    from scenarios.ask.answer import FirstAnswer

PLOT_SUFFIXES = ("png", "svg", "pdf")


@dataclass(frozen=True)
class Outputs:
    """The files asked for, checked, and the looks of a plot."""

    targets: Sequence[Destination]
    dark: bool = False

    @property
    def to_stdout(self) -> bool:
        """Whether data goes to stdout, where nothing else may then be printed."""
        return any(target.to_stdout for target in self.targets)


def add_output_arguments(group: argparse._ArgumentGroup, json: str, csv: str, plot: str) -> None:
    """Add --json, --csv, --plot, --dark and --at; the texts say what each holds."""
    group.add_argument("--json", metavar="FILE", help=f"{json}; '-' is stdout")
    group.add_argument("--csv", metavar="FILE", help=f"{csv}; '-' is stdout")
    group.add_argument("--plot", metavar="FILE", help=f"{plot}, as .png, .svg or .pdf")
    group.add_argument("--dark", action="store_true", help="the plot on a dark ground")
    at = "handwheel angle of the figures at lock; left out: that of the case, else lock's end"
    group.add_argument("--at", metavar="DEG", type=finite, help=at)


def add_answer_arguments(group: argparse._ArgumentGroup) -> None:
    """Add what is printed besides, or instead of, the first answer."""
    group.add_argument("--tables", action="store_true", help="every figure and column after the answer")
    says = "how sure the answer is: a band with each number, or none; left out: bands"
    group.add_argument("--sure", choices=("bands", "none"), default="bands", help=says)
    add_wide_argument(group)


def add_wide_argument(group: argparse._ActionsContainer) -> None:
    """Add how wide what is printed may be."""
    says = f"lines as wide as the terminal, {WIDE} to {WIDEST} columns; left out: {WIDTH}"
    group.add_argument("--wide", action="store_true", help=says)


def outputs_of(arguments: argparse.Namespace) -> Outputs:
    """The files of --json, --csv and --plot; refused where one cannot be written or has a wrong suffix."""
    given = {option: getattr(arguments, option, None) for option in ("json", "csv", "plot")}
    targets = [Destination(f"--{option}", path) for option, path in given.items() if path is not None]
    for target in targets:
        if target.option == "--plot":
            check_suffix(target, PLOT_SUFFIXES)
    dark = getattr(arguments, "dark", False)
    if dark and given["plot"] is None:
        raise Refusal("--dark needs --plot FILE beside it")
    source = getattr(arguments, "scenario", None)
    check_targets(targets, [source] if source else [])
    return Outputs(targets, dark)


Content = Callable[[], "Iterable[bytes] | Figure"]
"""Makes what a file holds, in pieces; a figure becomes the kind of picture that the file's suffix says."""


def deliver(
    outputs: Outputs,
    contents: Mapping[str, Content],
    report: Callable[[], Iterable[str]],
    warnings: Iterable[str],
) -> None:
    """Prepare every output, by its option, and what is printed, write, then warn and print."""
    ready = [Output(target, _pieces(contents[target.option](), target)) for target in outputs.targets]
    lines: list[str] = []
    if not outputs.to_stdout:
        with progress_bar("lines") as progress:
            lines = list(_told(report(), progress))
    if outputs.to_stdout:
        write_all(ready)
        warn(warnings)
        return
    with progress_bar("writing") as progress:
        write_all([replace(output, content=_told(output.content, progress)) for output in ready])
    warn(warnings)
    say(*lines)


class Lazy(Protocol):
    """What is solved when it is first read, or all at once."""

    def work_out(self) -> None:
        """Solve all of it."""


Told = TypeVar("Told", bound=Lazy)


def worked_out(answer: Callable[[Pulse], Told]) -> Told:
    """An answer with all that it tells solved; meanwhile it is shown that work goes on."""
    with progress_bar("turns") as progress:
        done = count(1)
        told = answer(lambda: progress(next(done), 0))
        told.work_out()
    return told


def as_data(answered: Callable[[], FirstAnswer], sure: bool, changes: bool = False) -> dict[str, Any] | None:
    """The first answer as a document holds it; nothing where it is not asked how sure it is."""
    if not sure:
        return None
    from scenarios.documents.answer import document

    with progress_bar("settings") as progress:
        return document(answered(), changes, progress)


def shades(names: Sequence[str], of: Callable[[str], dict[str, Band]]) -> list[dict[str, Band]]:
    """The bands of the columns of settings, by name, as a plot shows them."""
    with progress_bar("settings") as progress:
        found = []
        for done, name in enumerate(names, 1):
            found.append(of(name))
            progress(done, len(names))
        return found


def _pieces(made: Iterable[bytes] | Figure, target: Destination) -> Iterable[bytes]:
    if isinstance(made, Iterable):
        return made
    from viz.plots.lock import figure_bytes

    return [figure_bytes(made, check_suffix(target, PLOT_SUFFIXES))]


def _told(pieces: Iterable[AnyStr], progress: Progress) -> Iterator[AnyStr]:
    """The pieces; how long they are together is told, and not of how much."""
    size = 0
    for piece in pieces:
        yield piece
        size += len(piece)
        progress(size, 0)


def check_shown(scenario: Scenario, at_deg: float | None) -> None:
    """Refuse a handwheel angle beyond the lock that is drawn, or beyond the mechanical stop."""
    check_at(scenario, at_deg)
    first, last, _ = scenario.handwheel_deg
    if at_deg is not None and not first - 1e-9 <= at_deg <= last + 1e-9:
        raise Refusal(
            f"{scenario.source}: --at {at_deg:g} deg is not within the lock shown, "
            f"{first:g} to {last:g} deg; widen it with --lock"
        )


def check_at(scenario: Scenario, at_deg: float | None) -> None:
    """Refuse a handwheel angle beyond the mechanical stop."""
    stop = degrees(scenario.kart.column.stop)
    if at_deg is not None and abs(at_deg) > stop + 1e-9:
        raise Refusal(
            f"{scenario.source}: --at {at_deg:g} deg is beyond the mechanical stop of ±{stop:g} deg"
        )
