"""Files written whole or not at all: everything is prepared first, then put in place by a rename."""

from __future__ import annotations

import os
import stat
import sys
import tempfile
from collections.abc import Sequence
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path

from scenarios.errors import Refusal

STDOUT = "-"


@dataclass(frozen=True)
class Target:
    """Where an output goes: a file, or '-' for stdout."""

    option: str
    """The option that asked for it, for messages."""
    path: str

    @property
    def to_stdout(self) -> bool:
        """Whether it goes to stdout."""
        return self.path == STDOUT


@dataclass(frozen=True)
class Output:
    """A target with what is to be written there."""

    target: Target
    content: bytes


def check_suffix(target: Target, suffixes: Sequence[str]) -> str:
    """The target's suffix in lower case without its dot; refused unless it is one of suffixes."""
    suffix = Path(target.path).suffix.lower().lstrip(".")
    if suffix not in suffixes:
        allowed = ("one of " if len(suffixes) > 1 else "") + ", ".join(f".{s}" for s in suffixes)
        raise Refusal(f"{target.option} {target.path}: the file name must end in {allowed}")
    return suffix


def check_targets(targets: Sequence[Target], inputs: Sequence[str] = ()) -> None:
    """Refuse, before any work is done, targets that cannot be written or that would lose something.

    Two outputs may not share a place, none may overwrite a file the run reads (inputs), and every folder
    must exist and be writable.
    """
    taken = {_real(path): f"the scenario file {path}" for path in inputs if os.path.isfile(path)}
    for target in targets:
        place = STDOUT if target.to_stdout else _real(target.path)
        if place in taken:
            raise Refusal(f"{target.option} {target.path}: would overwrite {taken[place]}")
        taken[place] = f"the output of {target.option}"
        if not target.to_stdout:
            _check_file(target, place)


def _real(path: str) -> str:
    try:
        return os.path.realpath(path)
    except ValueError as error:  # a null byte in the name
        raise Refusal(f"{path}: {error}") from None


def _check_file(target: Target, place: str) -> None:
    folder = os.path.dirname(place)
    if os.path.isdir(place) or not os.path.basename(target.path):
        raise Refusal(f"{target.option} {target.path}: is a folder, a file is needed")
    if not os.path.isdir(folder):
        raise Refusal(f"{target.option} {target.path}: the folder {folder} does not exist")
    if not os.access(place if os.path.exists(place) else folder, os.W_OK):
        raise Refusal(f"{target.option} {target.path}: may not be written here")


def write_all(outputs: Sequence[Output]) -> None:
    """Write every output: all files in full beside their places first, then each renamed into place."""
    waiting: list[tuple[Output, str]] = []
    try:
        for output in outputs:
            if not output.target.to_stdout:
                waiting.append((output, _write_aside(output)))
        for output, aside in waiting:
            if aside:
                os.replace(aside, _real(output.target.path))
    except OSError as error:
        raise Refusal(f"cannot write {_named(error, outputs)}: {error.strerror or error}") from error
    finally:
        for _, aside in waiting:
            with suppress(OSError):
                if aside:
                    os.unlink(aside)
    for output in outputs:
        if output.target.to_stdout:
            sys.stdout.buffer.write(output.content)


def _named(error: OSError, outputs: Sequence[Output]) -> str:
    folder = os.path.dirname(str(error.filename or ""))
    for output in outputs:
        if not output.target.to_stdout and os.path.dirname(_real(output.target.path)) == folder:
            return output.target.path
    return " ".join(o.target.path for o in outputs)


def _write_aside(output: Output) -> str:
    """Write a file's content beside its place and return where; a device or pipe is written at once: ''."""
    place = _real(output.target.path)
    if os.path.exists(place) and not stat.S_ISREG(os.stat(place).st_mode):
        with open(place, "wb") as device:
            device.write(output.content)
        return ""
    handle, aside = tempfile.mkstemp(prefix=".", suffix=".part", dir=os.path.dirname(place))
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(output.content)
        os.chmod(aside, _mode(place))
    except BaseException:
        os.unlink(aside)
        raise
    return aside


def _mode(place: str) -> int:
    """The mode a file at this place has, or would be made with."""
    if os.path.exists(place):
        return stat.S_IMODE(os.stat(place).st_mode)
    mask = os.umask(0)
    os.umask(mask)
    return 0o666 & ~mask
