"""The tables that a file holds, TOML or JSON: bounded before it is looked at, refused in one line."""

from __future__ import annotations

import json
import re
import stat
import tomllib
from pathlib import Path
from typing import Any

from scenarios.errors import ScenarioError, middle_out, pointed

LARGEST_TOML = 250_000  # bytes: a kart by hand, with room for a hundred settings
LARGEST_JSON = 20_000_000  # bytes: a run at 5,000 positions of lock; at worst half a GiB when read
DEEPEST = 20  # parts of a dotted key; a scenario file has four, and TOML takes a square of them to read
_VALUE = re.compile(r"[=:]\s*([-+]?\d+(?:,\d+)+)(?![\w.])")
"""A number with a comma in it where the value of a key stands."""
_PART = r"""(?:[\w-]++|"[^"\n]*"|'[^'\n]*')[ \t]*+"""
_TOO_DEEP = re.compile(rf"(?<![\w-]){_PART}(?:\.[ \t]*+{_PART}){{{DEEPEST}}}")


def tables_at(path: Path) -> dict[str, Any]:
    """The tables of a file, JSON by its suffix, else TOML.

    Raises ScenarioError, one line, or FileNotFoundError.
    """
    return parsed(text_at(path), str(path), is_json(path))


def is_json(path: Path) -> bool:
    """Whether a file is JSON, by its suffix."""
    return path.suffix.lower() == ".json"


def parsed(text: str, source: str, as_json: bool = False) -> dict[str, Any]:
    """The tables of a text; source stands in front of the line that refuses it."""
    kind = "JSON" if as_json else "TOML"
    try:
        found = json.loads(text) if as_json else _toml(text)
    except (tomllib.TOMLDecodeError, json.JSONDecodeError) as error:
        raise ScenarioError(f"{source}: broken {kind}: {_told(error, text)}") from None
    except RecursionError:
        raise ScenarioError(f"{source}: nested too deeply for a scenario file") from None
    except ValueError:  # Python's own bound on the digits of a whole number
        raise ScenarioError(f"{source}: broken {kind}: a whole number of thousands of digits") from None
    if not isinstance(found, dict):
        raise ScenarioError(f"{source}: must be a table of keys")
    return found


def _told(error: ValueError, text: str) -> str:
    """Where a text is broken, and what may be meant where it is a number's decimal comma."""
    said = " ".join(str(error).split())
    if place := re.search(r"line (\d+)", said):
        line = text.split("\n")[int(place[1]) - 1]
        if (value := _VALUE.search(line)) and (hint := pointed(value[1])):
            return f"line {place[1]}: {middle_out(line.strip(), 80)}: a comma stands in a number{hint}"
    return said


def _toml(text: str) -> dict[str, Any]:
    if _TOO_DEEP.search(text):
        raise RecursionError
    return tomllib.loads(text)


def text_at(path: Path) -> str:
    """What a file holds, bounded; raises ScenarioError, one line, or FileNotFoundError."""
    most = LARGEST_JSON if is_json(path) else LARGEST_TOML
    try:
        if not _has_an_end(path.stat().st_mode):
            raise ScenarioError(f"{path}: is a device or a pipe, and no file")
        with path.open("rb") as file:
            found = file.read(most + 1)
        text = found.decode("utf-8")
    except UnicodeDecodeError as error:
        raise ScenarioError(f"{path}: is not UTF-8 text (byte {error.start})") from None
    except FileNotFoundError:
        raise
    except OSError as error:
        raise ScenarioError(f"{path}: cannot be read ({error.strerror or error})") from None
    if len(found) > most:
        raise ScenarioError(f"{path}: larger than {most} bytes, more than is read of a file")
    return text


def _has_an_end(mode: int) -> bool:
    return stat.S_ISREG(mode) or stat.S_ISDIR(mode)  # a folder is refused in the system's own words
