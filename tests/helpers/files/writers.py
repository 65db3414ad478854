"""Every way in which a command writes a file, and whether a file of its kind is whole."""

from __future__ import annotations

import csv
import io
import json
import struct
import tomllib
from pathlib import Path
from xml.etree import ElementTree

from scenarios.bundled import example_readings

KART = "KART"
"""Stands for the scenario, of which a test may have a quicker one."""
READ = str(example_readings("training-kart"))
"""Readings of the kart."""
FEW = ("--positions", "3")
BRIEFLY = (*FEW, "--case", "slow corner", "--sure", "none")
"""A run of which the least is worked out: it is its writing that matters."""
OTHER = ("--setting", "more-caster")
WANT = ("--want", "caster_left_deg=now+1")
WRITERS = {
    "sweep.json": ("sweep", KART, *BRIEFLY, "--json"),
    "sweep.csv": ("sweep", KART, *BRIEFLY, "--csv"),
    "sweep.png": ("sweep", KART, *BRIEFLY, "--plot"),
    "sweep.svg": ("sweep", KART, *BRIEFLY, "--plot"),
    "sweep.pdf": ("sweep", KART, *BRIEFLY, "--plot"),
    "compare.json": ("compare", KART, *OTHER, *BRIEFLY, "--json"),
    "compare.csv": ("compare", KART, *OTHER, *BRIEFLY, "--csv"),
    "compare.svg": ("compare", KART, *OTHER, *BRIEFLY, "--plot"),
    "choose.json": ("choose", KART, *WANT, "--json"),
    "choose.csv": ("choose", KART, *WANT, "--csv"),
    "map.json": ("map", KART, "--json"),
    "map.csv": ("map", KART, "--csv"),
    "map.png": ("map", KART, "--plot"),
    "sheet.html": ("sheet", KART, "--to", "more-caster", "--out"),
    "sheet.pdf": ("sheet", KART, "--to", "more-caster", "--out"),
    "blank.csv": ("measure", KART, "--minutes", "20", "--out"),
    "blank.toml": ("measure", KART, "--minutes", "20", "--out"),
    "blank.pdf": ("measure", KART, "--minutes", "20", "--out"),
    "fit.toml": ("fit", KART, READ, "--out"),
    "fit.json": ("fit", KART, READ, "--json"),
    "view.png": ("view", KART, "--out"),
    "view.glb": ("view", KART, "--out"),
    "view.gif": ("view", KART, *FEW, "--out"),
    "view.webp": ("view", KART, *FEW, "--out"),
    "view.mp4": ("view", KART, *FEW, "--out"),
    "handout.html": ("handout", KART, "--stops", "5", "--out"),
    "columns.json": ("columns", "--json"),
    "schema.json": ("scenario", "schema", "--out"),
    "copy.toml": ("scenario", "copy", "training-kart", "--overwrite"),
}
"""What is typed before the name of the file, by a name with the suffix of its kind."""


def typed(name: str, kart: str, path: str | Path) -> list[str]:
    """What is typed to write a file of that name's kind to path."""
    return [kart if word == KART else word for word in WRITERS[name]] + [str(path)]


def is_whole(path: Path) -> bool:
    """Whether a file can be read to its end, by its suffix."""
    content = path.read_bytes()
    try:
        return bool(content) and _READERS[path.suffix](content, path)
    except (ValueError, OSError, SyntaxError, struct.error, RuntimeError):
        return False


def _json(content: bytes, path: Path) -> bool:
    return isinstance(json.loads(content), dict) and content.endswith(b"\n")


def _csv(content: bytes, path: Path) -> bool:
    told = [line for line in content.decode().splitlines(keepends=True) if not line.startswith("#")]
    rows = list(csv.reader(io.StringIO("".join(told))))
    return content.endswith(b"\n") and len({len(row) for row in rows}) == 1


def _picture(content: bytes, path: Path) -> bool:
    from PIL import Image

    with Image.open(io.BytesIO(content)) as picture:
        for frame in range(getattr(picture, "n_frames", 1)):
            picture.seek(frame)
            picture.load()
    return picture.format != "GIF" or content.endswith(b";")


def _film(content: bytes, path: Path) -> bool:
    from imageio_ffmpeg import count_frames_and_secs

    return bool(count_frames_and_secs(str(path))[0] == 4)


_READERS = {
    ".json": _json,
    ".csv": _csv,
    ".png": _picture,
    ".gif": _picture,
    ".webp": _picture,
    ".svg": lambda content, path: ElementTree.fromstring(content).tag.endswith("svg"),
    ".pdf": lambda content, path: content.rstrip().endswith(b"%%EOF"),
    ".html": lambda content, path: content.rstrip().endswith(b"</html>"),
    ".glb": lambda content, path: struct.unpack("<I", content[8:12])[0] == len(content),
    ".mp4": _film,
    ".toml": lambda content, path: bool(tomllib.loads(content.decode())),
}
