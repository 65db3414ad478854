"""Files written whole or not at all: beside their place first, then put there in one step."""

from __future__ import annotations

import os
import stat
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path


@contextmanager
def replacing(path: str | Path, new: bool = False) -> Iterator[str]:
    """A name to write to beside path; the file takes path's place when the block ends well, else it is gone.

    A file that is there already keeps its permissions, and with new it is never replaced: FileExistsError.
    What a link points to is replaced, not the link; a device or pipe is written to as it is.
    """
    place = os.path.realpath(path)
    if os.path.exists(place) and not stat.S_ISREG(os.stat(place).st_mode):
        yield place
        return
    suffix = ".part" + Path(place).suffix  # by which some writers pick the kind of file
    handle, aside = tempfile.mkstemp(prefix=".", suffix=suffix, dir=os.path.dirname(place))
    os.close(handle)
    try:
        yield aside
        os.chmod(aside, _mode(place))
        if new:
            _put_new(aside, place)
        else:
            os.replace(aside, place)
    finally:
        with suppress(OSError):
            os.unlink(aside)


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
