"""The scenarios that come with the program."""

from __future__ import annotations

from pathlib import Path

from scenarios.errors import ScenarioError, nearest
from scenarios.files import replacing

NAMES = ("training-kart", "bent-right-stub", "published-kart")
DEFAULT = NAMES[0]
DATA = Path(__file__).parent / "data"
SCHEMA = DATA / "scenario.schema.json"
"""What `lockarc scenario schema` prints, kept for editors that complete and check a copied file by it."""
SURE_OF_A_COPY = """\
# HOW SURE THE NUMBERS ARE
#   A copy's numbers are those of an example and not of your kart: they count as assumed, and bands are wide.
#   What you have measured, say here, number by number, table by table or all at once:
#     kart.wheelbase_mm = "tape"    one number, and how it was measured (a wrong word is told which there are)
#     kart.cog_height_mm = 10.0     its standard uncertainty in its own unit: of three readings two lie within
#     yoke = "measured"             a whole table, each number in its usual way
#     others = "measured"           everything that is not named
[sure]
others = "assumed"
"""


def builtin_names() -> tuple[str, ...]:
    """Names of the built-in scenarios, the default first."""
    return NAMES


def builtin_text(name: str) -> str:
    """The TOML text of a built-in scenario; a ScenarioError suggests the nearest name."""
    if name not in NAMES:
        raise ScenarioError(
            f"{name}: no such built-in scenario{nearest(name, NAMES)}; there are {', '.join(NAMES)}"
        )
    return (DATA / f"{name}.toml").read_text(encoding="utf-8")


def example_readings(name: str) -> Path:
    """The file of invented readings that comes with a built-in scenario; ScenarioError where none does."""
    path = DATA / f"{name}-readings.csv"
    if name not in NAMES or not path.exists():
        raise ScenarioError(f"{name}: name a file of readings; only {DEFAULT} has an example of its own")
    return path


def copied_text(name: str) -> str:
    """The TOML text of a built-in scenario for an owner to start from: nothing in it counts as measured.

    Its first line tells an editor of TOML where the schema is.
    """
    paragraphs = [part for part in builtin_text(name).split("\n\n") if "[sure]" not in part.split("\n")]
    place = next(n for n, part in enumerate(paragraphs) if part.startswith("[kart]"))
    copied = [*paragraphs[:place], SURE_OF_A_COPY.rstrip(), *paragraphs[place:]]
    return f"#:schema {SCHEMA.as_uri()}\n" + "\n\n".join(copied)


def copy_builtin(name: str, path: str | Path, overwrite: bool = False) -> Path:
    """Write a built-in scenario to a file to start from, whole or not at all; returns the path.

    Its numbers count as assumed until the file says otherwise. An existing file is
    refused unless overwrite is true.
    """
    text, target = copied_text(name), Path(path)
    if target.is_dir():
        raise ScenarioError(f"{target}: is a folder; give a file name, for example {target / name}.toml")
    if target.exists() and not overwrite:
        raise ScenarioError(f"{target}: is there already and is not overwritten")
    try:
        with replacing(target, new=not overwrite) as aside:
            Path(aside).write_bytes(text.encode())
    except FileExistsError:
        raise ScenarioError(f"{target}: is there already and is not overwritten") from None
    except OSError as error:
        raise ScenarioError(f"{target}: cannot be written ({error.strerror or error})") from None
    return target
