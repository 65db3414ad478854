"""Files written whole or not at all: beside their place first, then put there in one step."""

from __future__ import annotations

import errno
import os
import re
import shutil
import stat
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

from scenarios.stopping import undone

try:
    import fcntl
except ImportError:  # a system without them: nothing stale is cleared there
    fcntl = None  # type: ignore[assignment]

LONGEST_NAME = 40
"""So many characters of a file's name tell whose part one beside it is."""
LONGEST_SUFFIX = 8
UNSETTLED = (errno.EINVAL, errno.ENOSYS, errno.ENOTSUP)
"""What a file system says that knows no fsync."""


@contextmanager
def replacing(path: str | Path, new: bool = False) -> Iterator[str]:
    """A name to write to beside path; the file takes path's place when the block ends well, else it is gone.

    It does so in one step, when all of it has reached the disk. A file that is there already keeps its
    permissions, and with new it is never replaced: FileExistsError. What a link points to is replaced, not
    the link; a device or pipe is written into, when the block has ended well. Parts of the same file that
    a killed program has left are cleared away. Raises OSError where the file cannot be written.
    """
    place = os.path.realpath(path)
    into = is_written_into(path)
    with _aside(tempfile.gettempdir() if into else os.path.dirname(place), os.path.basename(place)) as aside:
        yield aside
        _settle(aside)
        if into:
            _pour(aside, path)
            return
        os.chmod(aside, _mode(place))
        if new:
            _put_new(aside, place)
        else:
            os.replace(aside, place)


def put(path: str | Path, content: bytes) -> None:
    """Write content to path, whole or not at all; see replacing."""
    with replacing(path) as aside:
        Path(aside).write_bytes(content)


def is_written_into(path: str | Path) -> bool:
    """Whether path leads to a device, pipe or the like, which is not to become a file."""
    try:
        return not stat.S_ISREG(os.stat(path).st_mode)
    except FileNotFoundError:
        return False


@contextmanager
def _aside(folder: str, name: str) -> Iterator[str]:
    """A new empty file in a folder, gone at the end of the block and when the program is stopped in it."""
    mark, suffix = f".{name[:LONGEST_NAME]}-", os.path.splitext(name)[1]
    end = ".part" + (suffix if len(suffix) <= LONGEST_SUFFIX else "")  # by which writers pick the kind
    _clear(folder, re.compile(re.escape(mark) + "[0-9a-f]{12}" + re.escape(end)))
    aside = os.path.join(folder, f"{mark}{os.urandom(6).hex()}{end}")
    with undone(lambda: os.unlink(aside)):
        try:
            with _in_use(aside):
                yield aside
        finally:
            with suppress(OSError):
                os.unlink(aside)


@contextmanager
def _in_use(aside: str) -> Iterator[None]:
    """Make the file, and lock it while the block lasts: by that others see that its writer is alive."""
    while True:
        handle = os.open(aside, os.O_CREAT | os.O_EXCL | os.O_RDWR, 0o600)
        if _locked(handle) and not os.fstat(handle).st_nlink:  # cleared by another before it was locked
            os.close(handle)
            continue
        break
    if fcntl is None:  # nor can what is open be renamed there
        os.close(handle)
    try:
        yield
    finally:
        if fcntl is not None:
            os.close(handle)


def _locked(handle: int) -> bool:
    """Whether a lock on an open file could be had."""
    try:
        fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except (OSError, AttributeError):  # taken, or a file system or a system that knows none
        return False
    return True


def _clear(folder: str, parts: re.Pattern[str]) -> None:
    """Remove parts whose writer lives no more: those that nobody locks."""
    with suppress(OSError):
        for name in os.listdir(folder):
            if parts.fullmatch(name):
                _clear_one(os.path.join(folder, name))


def _clear_one(part: str) -> None:
    with suppress(OSError):
        handle = os.open(part, os.O_RDWR | getattr(os, "O_NOFOLLOW", 0))
        try:
            if _locked(handle):
                os.unlink(part)
        finally:
            os.close(handle)


def _settle(aside: str) -> None:
    """Wait until a file has reached the disk, where a late error can still be told."""
    with open(aside, "rb+") as file:
        try:
            os.fsync(file.fileno())
        except OSError as error:
            if error.errno not in UNSETTLED:
                raise


def _pour(aside: str, path: str | Path) -> None:
    """Write a finished file into a device or pipe."""
    with open(aside, "rb") as content, open(path, "wb") as into:
        shutil.copyfileobj(content, into)


def _mode(place: str) -> int:
    """The mode a file at this place has, or would be made with."""
    if os.path.exists(place):
        return stat.S_IMODE(os.stat(place).st_mode)
    mask = os.umask(0)
    os.umask(mask)
    return 0o666 & ~mask


def _put_new(aside: str, place: str) -> None:
    """Give the finished file its name unless the name is taken: unlike a rename, a link never replaces."""
    try:
        os.link(aside, place)
    except FileExistsError:
        raise
    except OSError:  # a file system without links; the look beforehand has to do
        os.replace(aside, place)
