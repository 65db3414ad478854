"""Where output goes, checked before any work is done, and written when all of it is ready."""

from __future__ import annotations

import os
import sys
from collections.abc import Iterable, Iterator, Sequence
from contextlib import ExitStack, contextmanager
from dataclasses import dataclass
from pathlib import Path

from scenarios.errors import Refusal
from scenarios.files import is_written_into, replacing

STDOUT = "-"
ALSO_STDOUT = ("/dev/stdout", "/dev/fd/1", "/proc/self/fd/1")
"""Names of it that a file would be put in the place of, where it has been led into one."""


@dataclass(frozen=True)
class Destination:
    """Where an output goes: a file, or '-' for stdout."""

    option: str
    """The option that asked for it, for messages."""
    path: str

    @property
    def to_stdout(self) -> bool:
        """Whether it goes to stdout."""
        return self.path == STDOUT or self.path in ALSO_STDOUT


@dataclass(frozen=True)
class Output:
    """A target with what is to be written there."""

    target: Destination
    content: Iterable[bytes]
    """In pieces, which may be made only as they are written."""


def check_suffix(target: Destination, suffixes: Sequence[str]) -> str:
    """The target's suffix in lower case without its dot; refused unless it is one of suffixes."""
    suffix = Path(target.path).suffix.lower().lstrip(".")
    if suffix not in suffixes:
        allowed = ("one of " if len(suffixes) > 1 else "") + ", ".join(f".{s}" for s in suffixes)
        raise Refusal(f"{target.option} {target.path}: the file name must end in {allowed}")
    return suffix


def check_targets(targets: Sequence[Destination], inputs: Sequence[str] = ()) -> None:
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


def _check_file(target: Destination, place: str) -> None:
    folder = os.path.dirname(place)
    if os.path.isdir(place) or not os.path.basename(target.path):
        raise Refusal(f"{target.option} {target.path}: is a folder, a file is needed")
    if not os.path.isdir(folder):
        raise Refusal(f"{target.option} {target.path}: the folder {folder} does not exist")
    if not os.access(place if os.path.exists(place) else folder, os.W_OK):
        raise Refusal(f"{target.option} {target.path}: may not be written here")


def write_all(outputs: Sequence[Output]) -> None:
    """Write every output: all files in full beside their places first, then each put in place.

    Devices and pipes, which cannot be tried beforehand, are written into before any file is put in place.
    """
    files = [output for output in outputs if not output.target.to_stdout]
    with ExitStack() as stack:  # what is entered last is put in place first
        for output in sorted(files, key=lambda output: is_written_into(output.target.path)):
            stack.enter_context(writing(output.target.path))
            aside = stack.enter_context(replacing(output.target.path))
            with open(aside, "wb") as file:
                file.writelines(output.content)
    for output in outputs:
        if output.target.to_stdout:
            sys.stdout.buffer.writelines(output.content)


@contextmanager
def writing(path: str) -> Iterator[None]:
    """Say in one line what keeps a file from being written within the block."""
    try:
        yield
    except OSError as error:
        raise Refusal(f"cannot write {path}: {error.strerror or error}") from error
