"""The scenarios that come with the program."""

from __future__ import annotations

from pathlib import Path

from scenarios.errors import ScenarioError, nearest
from scenarios.files import replacing

NAMES = ("training-kart", "bent-right-stub", "published-kart")
DEFAULT = NAMES[0]
DATA = Path(__file__).parent / "data"


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


def copy_builtin(name: str, path: str | Path, overwrite: bool = False) -> Path:
    """Write a built-in scenario to a file to start from, whole or not at all; returns the path.

    An existing file is refused unless overwrite is true.
    """
    text, target = builtin_text(name), Path(path)
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
