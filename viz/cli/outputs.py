"""Where data and plot of sweep, compare and map go, checked before anything is computed."""

from __future__ import annotations

import argparse

from scenarios.errors import Refusal
from viz.cli.parser import finite
from viz.files import Target, check_suffix, check_targets

PLOT_SUFFIXES = ("png", "svg", "pdf")


def add_output_arguments(group: argparse._ArgumentGroup, json: str, csv: str, plot: str) -> None:
    """Add --json, --csv, --plot, --dark and --at; the texts say what each holds."""
    group.add_argument("--json", metavar="FILE", help=f"{json}; '-' is stdout")
    group.add_argument("--csv", metavar="FILE", help=f"{csv}; '-' is stdout")
    group.add_argument("--plot", metavar="FILE", help=f"{plot}, as .png, .svg or .pdf")
    group.add_argument("--dark", action="store_true", help="the plot on a dark ground")
    at = "handwheel angle of the figures at lock; left out: lock's end"
    group.add_argument("--at", metavar="DEG", type=finite, help=at)


def output_targets(arguments: argparse.Namespace) -> list[Target]:
    """The files of --json, --csv and --plot; refused where one cannot be written or has a wrong suffix."""
    given = {option: getattr(arguments, option) for option in ("json", "csv", "plot")}
    targets = [Target(f"--{option}", path) for option, path in given.items() if path is not None]
    for target in targets:
        if target.option == "--plot":
            check_suffix(target, PLOT_SUFFIXES)
    if arguments.dark and arguments.plot is None:
        raise Refusal("--dark needs --plot FILE beside it")
    check_targets(targets, [arguments.scenario] if arguments.scenario else [])
    return targets
