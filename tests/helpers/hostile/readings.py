"""Files of readings and of points that nobody means, and karts that nobody measures, each from a number."""

from __future__ import annotations

import random

from scenarios.bundled import example_readings
from tests.helpers.hostile.inputs import Input, scenario_text
from tests.helpers.hostile.values import NUMBERS, odd

POINTS = """position,point,x_mm,y_mm,z_mm
0,a,1045,500,130
0,b,1045,400,230
1,a,1005,495,131
1,b,1035,398,230
2,a,1085,494,129
2,b,1053,399,229
"""
FIT = (
    (),
    ("--apart",),
    ("--forgiving",),
    ("--no-prior",),
    ("--tables",),
    ("--json", "-"),
    ("--out", "out.toml"),
    ("--number", "kart.cog_height_mm", "--no-prior"),
    ("--number", "kart.cog_height_mm", "--others-exact"),
)
KNOW = ("kart.cog_height_mm", "caster_left_deg", "inside_rear_load_at_lock_left_n@30@slow corner", "nope", "")
SLIPS = (-1.0, 0.0, 0.1, 0.9, 1.05, 1.5, 9.81, 10.0)


def _spoiled(rng: random.Random, text: str) -> str:
    """A table of cells with a few of them changed, taken out or put twice."""
    lines = [line for line in text.splitlines() if not line.startswith("#")]
    for _ in range(rng.randint(1, 4)):
        at = rng.randrange(len(lines))
        cells = lines[at].split(",")
        place = rng.randrange(len(cells))
        how = rng.random()
        if how < 0.1:
            lines.insert(rng.randrange(len(lines)), lines[at])
        elif how < 0.2:
            del cells[place]
        elif how < 0.4:
            cells[place] = rng.choice([*NUMBERS, odd(rng)])
        elif how < 0.9 and cells[place].replace(".", "").lstrip("-").isdigit():
            cells[place] = f"{float(cells[place]) * rng.choice(SLIPS):.6g}"
        lines[at] = ",".join(cells)
    return "\n".join(lines if rng.random() < 0.95 else lines[: rng.randrange(len(lines))]) + "\n"


def read(number: int) -> Input:
    """The input of a number; its file is for the caller to write."""
    rng = random.Random(number)
    kind = rng.choices(["readings", "points", "kart"], [40, 15, 45])[0]
    if kind == "points":
        text = _spoiled(rng, POINTS)
        within = rng.choice(["1", "2", *NUMBERS])
        return Input(
            kind, ("axis", "--points", "p.csv", "--within", within), "p.csv", text.encode("utf-8", "ignore")
        )
    if kind == "readings":
        text = _spoiled(rng, example_readings("training-kart").read_text("utf-8"))
        argv = ("fit", "training-kart", "r.csv", *rng.choice(FIT))
        return Input(kind, argv, "r.csv", text.encode("utf-8", "ignore"))
    content = scenario_text(rng).encode("utf-8", "surrogatepass")
    if rng.random() < 0.5:
        example = str(example_readings("training-kart"))
        return Input(kind, ("fit", "kart.toml", example, *rng.choice(FIT)), "kart.toml", content)
    know = ("--know", rng.choice(KNOW)) if rng.random() < 0.5 else ()
    more = rng.choice([(), ("--out", "b.csv"), ("--minutes", "15", "--tables")])
    return Input(kind, ("measure", "kart.toml", *know, *more), "kart.toml", content)
