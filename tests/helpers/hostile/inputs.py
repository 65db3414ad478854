"""Inputs that nobody means: scenario files, kept runs, command lines and odd files, each from a number.

The same number makes the same input. What is written stays in the working folder.
"""

from __future__ import annotations

import json
import random
import re
from dataclasses import dataclass
from functools import cache
from typing import Any

from scenarios import builtin_names, builtin_text
from tests.helpers.hostile.lines import about, command_line
from tests.helpers.hostile.values import LITERALS, VALUES, odd
from tests.helpers.scenario_edit import edited, stepped, tables


@dataclass(frozen=True)
class Input:
    """A command line, of which kind it is, and the file that was written for it."""

    kind: str
    argv: tuple[str, ...]
    file: str = ""
    content: bytes = b""


@cache
def bases() -> tuple[str, ...]:
    """Scenario files that are right: the built-in ones, and mostly small ones made of them.

    A small one keeps every kind of table and has few of each.
    """
    built_in = [builtin_text(name) for name in builtin_names()]
    small = [_small(text) for text in (stepped(45.0), *built_in)]
    return (small[0], *small * 4, *built_in)


def _small(text: str) -> str:
    """A scenario with two load cases and three settings at most, at a few positions, without its comments."""
    lines = [line for line in text.splitlines() if line and not line.startswith("#")]
    parts = re.split(r"^(?=\[)", "\n".join(lines) + "\n", flags=re.MULTILINE)
    cases = [part for part in parts if part.startswith("[[load_case]]")][2:]
    last = re.compile(r"\[setting\.camber-and-caster[\].]")
    kept = [part for part in parts if part not in cases and not last.match(part)]
    return re.sub(r"^positions = .*$", "positions = 5", "".join(kept), flags=re.MULTILINE)


@cache
def run_text() -> str:
    """A kept run that is right."""
    from tests.helpers.command import run_here

    with open("kept.toml", "w", encoding="utf-8") as file:
        file.write(bases()[0])
    code, out, _ = run_here("sweep", "kept.toml", "--positions", "3", "--json", "-")
    assert code == 0
    return str(out)


def scenario_text(rng: random.Random) -> str:
    """A scenario file with a few faults in it."""
    lines = rng.choice(bases()).splitlines()
    faults = LINE_FAULTS if rng.random() < 0.5 else (_near,)  # half of them may well be right
    faults = (rng.choice([_fine, _many]),) if rng.random() < 0.02 else faults
    for _ in range(rng.randint(1, 3)):
        rng.choice(faults)(rng, lines)
    return "\n".join(lines) + "\n"


def _at(rng: random.Random, lines: list[str]) -> int:
    """A line with a key, mostly."""
    keyed = [i for i, line in enumerate(lines) if "=" in line and not line.startswith("#")]
    return rng.choice(keyed) if keyed and rng.random() < 0.9 else rng.randrange(len(lines) or 1)


def _value(rng: random.Random, lines: list[str]) -> None:
    i = _at(rng, lines)
    lines[i] = f"{lines[i].partition('=')[0]}= {rng.choice(LITERALS)}"


SLIPS = (-1.0, 0.0, 0.1, 0.5, 0.8, 0.9, 0.95, 0.99, 1.01, 1.05, 1.1, 1.2, 2.0, 10.0)
"""By what a number that may well be right differs from what it was."""


def _near(rng: random.Random, lines: list[str]) -> None:
    """A number that may well be right: another size, sign or a slip of the point."""
    i = _at(rng, lines)
    key, _, value = lines[i].partition("=")
    number, by = value.split("#")[0].strip(), rng.choice(SLIPS)
    if re.fullmatch(r"-?[0-9]+(\.[0-9]+)?", number):
        lines[i] = f"{key}= {float(number) * by:.9g}"


def _text(rng: random.Random, lines: list[str]) -> None:
    i = _at(rng, lines)
    lines[i] = f"{lines[i].partition('=')[0]}= {json.dumps(odd(rng))}"


def _drop(rng: random.Random, lines: list[str]) -> None:
    del lines[_at(rng, lines)]


def _again(rng: random.Random, lines: list[str]) -> None:
    i = _at(rng, lines)
    lines.insert(rng.randrange(len(lines)), lines[i])


FINE = ("0", "0.1", "1", "7.2", "0.09", "1e-9")
"""Clock steps of a kit, deg, as far as anyone may go and further."""


def _fine(rng: random.Random, lines: list[str]) -> None:
    """Clocks in steps that are many, or too many."""
    lines[:] = [f"clock_step_deg = {rng.choice(FINE)}" if "clock_step" in line else line for line in lines]


def _many(rng: random.Random, lines: list[str]) -> None:
    """More tables of a kind than anyone fills in."""
    many = rng.choice([5, 20, 49, 101])
    what = rng.choice(
        [
            '[[load_case]]\nname = "c{0}"\nlateral_g = 0.{0}',
            "[[kit.bush]]\noffset_mm = 0.{0}1",
            "[setting.s{0}.both]\ntop_offset_mm = 0.{0}1\ntop_clock_deg = 0",
            "[setting.s{0}.both]\ntie_rod_toe_deg = 0.{0}",
        ]
    )
    lines += "\n".join(what.format(n) for n in range(many)).splitlines()


def _key(rng: random.Random, lines: list[str]) -> None:
    i = _at(rng, lines)
    key = rng.choice([odd(rng), "a.b.c", ".".join("a" * rng.choice([3, 300])), '"" ""', lines[i][:4]])
    lines[i] = f"{key} = {lines[i].partition('=')[2]}"


def _table(rng: random.Random, lines: list[str]) -> None:
    lines.insert(
        rng.randrange(len(lines) + 1), rng.choice(["[x]", "[kart]", "[[kit.bush]]", "[setting.a.b]", "["])
    )


def _bytes(rng: random.Random, lines: list[str]) -> None:
    i = _at(rng, lines)
    at = rng.randrange(len(lines[i]) + 1)
    lines[i] = lines[i][:at] + rng.choice([odd(rng), "=", '"', "]", "9"]) + lines[i][at + rng.randint(0, 2) :]


LINE_FAULTS = (_value, _value, _near, _near, _near, _text, _text, _drop, _again, _key, _table, _bytes)


def faulted(rng: random.Random, document: Any) -> Any:
    """A document with one of its values, keys or entries changed, at any depth."""
    if isinstance(document, dict) and document and rng.random() < 0.9:
        key = rng.choice(list(document))
        how = rng.random()
        if how < 0.05:
            return {k: v for k, v in document.items() if k != key}
        if how < 0.1:
            return {**document, odd(rng): document[key]}
        return {**document, key: faulted(rng, document[key])}
    if isinstance(document, list) and document and rng.random() < 0.8:
        i = rng.randrange(len(document))
        return [*document[:i], faulted(rng, document[i]), *document[i + 1 :]]
    if isinstance(document, int | float) and not isinstance(document, bool) and rng.random() < 0.6:
        return document * rng.choice(SLIPS) if abs(document) < 1e300 else -document
    return rng.choice([*VALUES, odd(rng)])


def run_file(rng: random.Random) -> str:
    """A kept run, or a scenario as JSON, with a few faults in it."""
    if rng.random() < 0.6:
        document = json.loads(run_text())
        part = rng.choice(["inputs", "inputs", None])
    else:
        document, part = edited(tables(), {"sweep.positions": 5, "kit.clock_step_deg": 45.0}), None
    for _ in range(rng.randint(1, 2)):
        document = {**document, part: faulted(rng, document.get(part))} if part else faulted(rng, document)
        if not isinstance(document, dict):
            break
    text = json.dumps(document, ensure_ascii=rng.random() < 0.5)
    if rng.random() < 0.2:
        at = rng.randrange(len(text))
        text = (
            text[:at]
            + rng.choice(["", "}", "\\ud800", "9" * 5000, odd(rng)])
            + text[at + rng.randint(0, 3) :]
        )
    return text


def odd_file(rng: random.Random) -> bytes:
    """A file that is none of ours."""
    return rng.choice(
        [
            b"",
            b"\x00" * 50,
            rng.randbytes(200),
            "\ufeff".encode() + bases()[0].encode(),
            bases()[0].encode("utf-16"),
            b"[" * 5000,
            b'{"a":' * 5000,
            b"a." * 3000 + b"a = 1",
            b"title = 'x'\n" * 3,
            b"[[kit.bush]]\n" * 3000,
            b"# " + b"x" * 300_000,
            run_text().encode()[: rng.randrange(1, 2000)],
        ]
    )


def made(number: int) -> Input:
    """The input of a number; its file, where it has one, is for the caller to write."""
    rng = random.Random(number)
    kind = rng.choices(["scenario", "run", "line", "file"], [40, 25, 30, 5])[0]
    if kind == "line":
        content = bases()[0].encode()
        return Input(kind, command_line(rng, "plain.toml"), "plain.toml", content)
    if kind == "file":
        place = rng.choice(["x.toml", "x.json", "x", "/dev/zero", "/dev/null", ".", "gone.toml", "loop.toml"])
        content = odd_file(rng) if place.startswith("x") else b""
        return Input(kind, about(rng, place), place if content else "", content)
    text, name = (scenario_text(rng), "kart.toml") if kind == "scenario" else (run_file(rng), "run.json")
    return Input(kind, about(rng, name), name, text.encode("utf-8", "surrogatepass"))
