"""What the commands give for the built-in karts, kept in `answers.json.gz` beside this file.

After a change that is meant to change them, `python -m tests.told.recorded.record` from the top folder says
what is different and keeps today's answers instead; say in the commit which numbers moved and why.
"""

from __future__ import annotations

import csv
import gzip
import io
import json
import math
import tempfile
from collections.abc import Iterator
from contextlib import redirect_stderr, redirect_stdout
from pathlib import Path
from typing import Any

import scenarios
from viz.cli import main as cli

KEPT = Path(__file__).parent / "answers.json.gz"
MOST = {"json": 40, "csv": 12}
"""Items of a list that are kept; of a longer list evenly spaced ones, and how many there were."""
WANTED = ("--want", "caster_left_deg=now+1", "--want", "camber_left_deg=now")
UNLIKE = ("--want", "inside_rear_load_n@30@slow corner=..now-10%", "--sides", "left", "--limit", "3")
UNSURE = ("--sure", "none")
"""Bands hang on the order in which a library draws and sorts; tests of their own hold them."""
RELATIVE, ABSOLUTE = 1e-9, 1e-9


def questions() -> Iterator[tuple[str, ...]]:
    """Every command line that is asked, without its output files."""
    yield ("columns",)
    for kart in scenarios.builtin_names():
        names = list(scenarios.load(kart).settings)
        named = [part for name in names for part in ("--setting", name)]
        yield ("sweep", kart, *named, "--positions", "3", "--at", "30", *UNSURE)
        if len(names) > 1:
            others = [part for name in names[1:3] for part in ("--setting", name)]
            yield ("compare", kart, *others, "--positions", "3", *UNSURE)
            yield ("choose", kart, *WANTED)
            yield ("map", kart)
    yield ("choose", "training-kart", *UNLIKE)
    yield ("map", "training-kart", "--colour", "inside_rear_load_n@30@slow corner")


def answers() -> dict[str, Any]:
    """What is given to each question: JSON, and CSV where there is one, long lists thinned out."""
    return {" ".join(question): answer(question) for question in questions()}


def answer(question: tuple[str, ...]) -> dict[str, Any]:
    """The files of one command."""
    suffixes = ("json",) if question[0] == "columns" else ("json", "csv")
    with tempfile.TemporaryDirectory() as folder:
        files = {suffix: Path(folder) / f"answer.{suffix}" for suffix in suffixes}
        asked = [part for suffix, file in files.items() for part in (f"--{suffix}", str(file))]
        with redirect_stdout(io.StringIO()), redirect_stderr(io.StringIO()) as complaint:
            status = cli.main([*question, *asked])
        assert status == 0, f"{question}: {complaint.getvalue()}"
        read = {suffix: READ[suffix](file.read_text(encoding="utf-8")) for suffix, file in files.items()}
    return {suffix: thinned(found, MOST[suffix]) for suffix, found in read.items()}


def document(text: str) -> Any:
    """A JSON document without the version of the program that wrote it."""
    found = json.loads(text)
    return {key: value for key, value in found.items() if key != "version"}


def rows(text: str) -> list[list[Any]]:
    """A CSV table, its numbers as numbers."""
    return [[number(cell) for cell in row] for row in csv.reader(io.StringIO(text))]


READ = {"json": document, "csv": rows}


def number(cell: str) -> float | str:
    """A cell as a number where it is one."""
    try:
        return float(cell)
    except ValueError:
        return cell


def thinned(found: Any, most: int) -> Any:
    """The same with twelve digits a number, and with at most so many items of a list of numbers or rows."""
    if isinstance(found, dict):
        return {key: thinned(value, most) for key, value in found.items()}
    if isinstance(found, float):
        return float(f"{found:.12g}")
    if not isinstance(found, list):
        return found
    if len(found) <= most or not isinstance(found[0], (float, list)):
        return [thinned(item, most) for item in found]
    step = -(-len(found) // most)
    items = [thinned(item, len(item) if isinstance(item, list) else most) for item in found[::step]]
    return {"items in all": len(found), "each": step, "items": items}


def kept() -> dict[str, Any]:
    """What was kept."""
    return dict(json.loads(gzip.decompress(KEPT.read_bytes())))


def differences(was: Any, now: Any, where: str = "") -> Iterator[str]:
    """Each place where two answers differ: in structure, order, name or text at all, in a number by more."""
    if type(was) is not type(now):
        yield f"{where}: {was!r} became {now!r}"
    elif isinstance(was, dict):
        if list(was) != list(now):
            yield f"{where}: {_apart(list(was), list(now))}"
        for key in [key for key in was if key in now]:
            yield from differences(was[key], now[key], f"{where}.{key}" if where else key)
    elif isinstance(was, list):
        if len(was) != len(now):
            yield f"{where}: {len(was)} items became {len(now)}"
        for n, (one, other) in enumerate(zip(was, now, strict=False)):
            yield from differences(one, other, f"{where}[{n}]")
    elif isinstance(was, float):
        if not math.isclose(was, now, rel_tol=RELATIVE, abs_tol=ABSOLUTE):
            yield f"{where}: {was!r} became {now!r}"
    elif was != now:
        yield f"{where}: {was!r} became {now!r}"


def _apart(was: list[str], now: list[str]) -> str:
    gone, new = ([key for key in a if key not in b] for a, b in ((was, now), (now, was)))
    return f"gone {gone}, new {new}" if gone or new else f"another order: {was} became {now}"


if __name__ == "__main__":
    given = answers()
    for line in differences(kept(), given) if KEPT.exists() else ():
        print(line)
    text = json.dumps(given, separators=(",", ":"), ensure_ascii=False)
    KEPT.write_bytes(gzip.compress(text.encode(), mtime=0))
    print(f"{KEPT.name}: {len(given)} answers, {KEPT.stat().st_size / 1e3:.0f} kB")
