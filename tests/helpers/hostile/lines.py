"""Command lines that nobody means: options with values that are right, odd or out of any range."""

from __future__ import annotations

import random
from collections.abc import Callable

from tests.helpers.hostile.values import NUMBERS, odd

WANTS = (
    *("camber_left_deg=now", "caster_left_deg=now+1", "camber_left_deg=now+1e308"),
    *("camber_left_deg", "=", "x=1"),
    *("wheel_drop_left_mm@30=>1", "inside_rear_load_n@30@slow corner=now-20", "toe_total_mm=0..1", "=now"),
    *("camber_left_deg@9e99=now", "lift_off_steer_left_deg@fast corner=>30 or none", "camber_left_deg=1..-1"),
    *("camber_left_deg@30@nowhere=1", "camber_left_deg=nan", "wheel_drop_left_mm@=1"),
    *("camber_left_deg=now*2",),
)
PARTS = (
    *("top=1deg@90, bottom=2mm@180", "top=0, bottom=0", "top=3@45", "hub=5", "rod=260"),
    *("toe=0.1", "spacer=2"),
    *("top=1e308mm@0", "top=-1@0", "top=nan@0", "bottom=5mm@1e9", "top", "top=@"),
    *("=", "hub=1e6, hub=1", "rod=50"),
    *("top=14deg@0, bottom=14deg@180", "rod=1e-300", "toe=9.99", "hub=149, spacer=-59", ",,,", "tpo=1"),
)
NAMES = ("as-delivered", "more-caster", "less-caster", "as given", "slow corner", "fast corner", "nope", "")
PLACES = (
    "out.json",
    "out.csv",
    "out.svg",
    "out.html",
    "none/out.json",
    ".",
    "-",
    "/dev/null",
    "/dev/full",
    "OUT",
)


def _long(rng: random.Random) -> str:
    return rng.choice([odd(rng), "x" * 400, *NAMES, *NUMBERS[:20]])


OPTIONS: dict[str, Callable[[random.Random], list[str]]] = {
    "--setting": lambda rng: [rng.choice([*NAMES, _long(rng)])],
    "--case": lambda rng: [rng.choice([*NAMES, _long(rng)])],
    "--from": lambda rng: [rng.choice([*NAMES, _long(rng)])],
    "--to": lambda rng: [rng.choice([*NAMES, _long(rng)])],
    "--mark": lambda rng: [rng.choice([*NAMES, _long(rng)])],
    "--based-on": lambda rng: [rng.choice(NAMES)],
    "--both": lambda rng: [rng.choice([*PARTS, _long(rng)])],
    "--left": lambda rng: [rng.choice([*PARTS, _long(rng)])],
    "--right": lambda rng: [rng.choice([*PARTS, _long(rng)])],
    "--lock": lambda rng: [rng.choice([*NUMBERS, "-40", "30"]), rng.choice([*NUMBERS, "60", "75"])],
    "--positions": lambda rng: [rng.choice(["2", "3", "7", "61", *NUMBERS])],
    "--at": lambda rng: [rng.choice([*NUMBERS, "20"])],
    "--want": lambda rng: [rng.choice([*WANTS, *WANTS[:5], _long(rng)])],
    "--colour": lambda rng: [rng.choice([*WANTS, "camber_left_deg@20", "inside_rear_load_n@30@slow corner"])],
    "--sides": lambda rng: [rng.choice(["both", "each", "left", "right", "x"])],
    "--rods": lambda rng: [rng.choice(["reset", "alone", "spacers", "x"])],
    "--limit": lambda rng: [rng.choice(["1", "3", *NUMBERS])],
    "--pick": lambda rng: [rng.choice(["1", "3", *NUMBERS])],
    "--keep-as": lambda rng: [rng.choice([*NAMES, "kept", _long(rng)])],
    "--caster": lambda rng: [rng.choice(["12", "14", *NUMBERS])],
    "--inclination": lambda rng: [rng.choice(["10", *NUMBERS])],
    "--top": lambda rng: [rng.choice(["1", "2deg", "1.5mm", "0", *NUMBERS])],
    "--bottom": lambda rng: [rng.choice(["1", "2deg", "1.5mm", "0", *NUMBERS])],
    "--side": lambda rng: [rng.choice(["left", "right", "x"])],
    "--json": lambda rng: [rng.choice([*PLACES, "-", "-"])],
    "--csv": lambda rng: [rng.choice([*PLACES, "-"])],
    "--plot": lambda rng: [rng.choice(PLACES)],
    "--out": lambda rng: [rng.choice(["out.glb", "out.html", "out.glb", *PLACES])],
    "--exaggerate": lambda rng: [rng.choice(NUMBERS)],
    "--against": lambda rng: [rng.choice(NAMES)],
    "--all-rows": lambda rng: [],
    "--front-only": lambda rng: [],
    "--dark": lambda rng: [],
    "--help": lambda rng: [],
}
RUN = ("--setting", "--both", "--left", "--right", "--based-on", "--lock", "--positions")
OWN = {
    "sweep": (*RUN, "--case", "--at", "--all-rows", "--json", "--csv"),
    "compare": (*RUN, "--case", "--from", "--rods", "--at", "--json", "--csv"),
    "choose": ("--want", "--from", "--left", "--sides", "--rods", "--limit", "--pick", "--keep-as", "--json"),
    "map": ("--json", "--csv", "--colour", "--want", "--mark", "--sides", "--limit", "--from"),
    "clocks": ("--caster", "--top", "--bottom", "--inclination", "--side", "--from"),
    "sheet": ("--to", "--from", "--both", "--left", "--out"),
    "view": ("--out", "--case", "--setting", "--both", "--at", "--front-only", "--against", "--exaggerate"),
    "columns": ("--json",),
}
NEEDED = {
    "choose": ("--want", "camber_left_deg=now"),
    "map": ("--csv", "map.csv"),
    "clocks": ("--caster", "12", "--top", "1", "--bottom", "2"),
    "sheet": ("--to", "more-caster", "--out", "sheet.html"),
    "view": ("--out", "kart.glb"),
}
WEIGHTS = {
    "sweep": 30,
    "compare": 6,
    "choose": 10,
    "map": 4,
    "clocks": 2,
    "sheet": 3,
    "view": 2,
    "columns": 1,
}


def command_line(rng: random.Random, file: str) -> tuple[str, ...]:
    """A command with options of its own, some of another, their values right or not."""
    command = rng.choices(list(WEIGHTS), list(WEIGHTS.values()))[0]
    words = [command, file] if rng.random() < 0.95 else [file, command]
    given = dict(zip(NEEDED.get(command, ())[::2], NEEDED.get(command, ())[1::2], strict=True))
    options = [option for option in given if rng.random() < 0.95]
    options += rng.sample(OWN[command], rng.randint(1, min(4, len(OWN[command]))))
    options += [rng.choice(list(OPTIONS))] if rng.random() < 0.08 else []
    for option in dict.fromkeys(options):
        usual = option in given and rng.random() < 0.6
        values = [given[option]] if usual else OPTIONS[option](rng)
        words += [f"{option}={values[0]}"] if values and rng.random() < 0.2 else [option, *values]
    return tuple(word.replace("\0", "") for word in words)


PLAIN = {
    ("sweep",): 8,
    ("sweep", "--json", "-"): 4,
    ("sweep", "--csv", "-"): 2,
    ("sweep", "--plot", "plot.svg"): 0.05,
    ("scenario", "check"): 10,
    ("compare",): 0.8,
    ("choose", "--want", "camber_left_deg=now+0.5"): 1,
    ("clocks", "--caster", "12", "--top", "1", "--bottom", "2"): 0.15,
    ("map", "--json", "-"): 0.5,
    ("sheet", "--both", "top=1deg@90, bottom=1deg@0", "--out", "sheet.html"): 0.6,
    ("sheet", "--both", "top=1deg@90, bottom=1deg@0", "--out", "sheet.pdf"): 0.1,
    ("view", "--out", "kart.png"): 0.02,
    ("handout", "--stops", "5", "--out", "kart.html"): 0.005,
}
"""Plain questions about a file and how often each is asked; what takes longer is asked less."""


def about(rng: random.Random, file: str) -> tuple[str, ...]:
    """A plain question about a file."""
    words = rng.choices(list(PLAIN), list(PLAIN.values()))[0]
    at = 2 if words[0] == "scenario" else 1
    return (*words[:at], file, *words[at:])
