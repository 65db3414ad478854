"""Pictures to an MP4 by ffmpeg: H.264 in a form that phones and browsers play, and proof that it is whole."""

from __future__ import annotations

import errno
import os
import subprocess
from collections.abc import Iterator
from contextlib import ExitStack, contextmanager, suppress
from tempfile import TemporaryFile
from typing import IO

import numpy as np
import numpy.typing as npt

from scenarios.stopping import held, undone

Image = npt.NDArray[np.uint8]
QUALITY = 15
"""Constant rate factor of x264, 0 to 51: smaller is better."""
FULL = (errno.ENOSPC, errno.EFBIG, errno.EDQUOT, errno.EIO)
"""What keeps an encoder from writing, by the words that it passes on."""
LONGEST_WORD = 160


def encode(path: str, shots: Iterator[Image], count: int, size: tuple[int, int], fps: int) -> None:
    """Write count pictures (height, width, 3) of a size (width, height) in pixels as a film.

    Raises OSError where the encoder does not end well or the file does not hold every picture.
    """
    with TemporaryFile() as said:
        with _encoder(_command(path, size, fps), said) as process:
            _feed(process, shots)
            ended = process.wait()
        if ended:
            raise _fault(ended, said)
    _check(path, count)


def _command(path: str, size: tuple[int, int], fps: int) -> list[str]:
    from imageio_ffmpeg import get_ffmpeg_exe

    raw = f"-f rawvideo -pix_fmt rgb24 -s {size[0]}x{size[1]} -r {fps} -i - -an"
    film = f"-c:v libx264 -pix_fmt yuv420p -crf {QUALITY} -preset veryfast -f mp4"
    return [get_ffmpeg_exe(), "-v", "error", "-y", *raw.split(), *film.split(), path]


@contextmanager
def _encoder(command: list[str], said: IO[bytes]) -> Iterator[subprocess.Popen[bytes]]:
    """The encoder at work; it is ended with the block, or when the program is stopped in it.

    It has a session of its own, so that an interrupt from the keyboard does not reach it as well.
    """
    with ExitStack() as stack:
        with held():
            process = subprocess.Popen(
                command,
                stdin=subprocess.PIPE,
                stdout=subprocess.DEVNULL,
                stderr=said,
                start_new_session=True,
            )
            stack.enter_context(undone(lambda: _end(process)))
        try:
            yield process
        finally:
            process.kill()
            process.wait()
            _close(process)


def _end(process: subprocess.Popen[bytes]) -> None:
    """End a process and wait until it has gone, without the lock that Popen.wait may hold already."""
    process.kill()
    os.waitpid(process.pid, 0)


def _feed(process: subprocess.Popen[bytes], shots: Iterator[Image]) -> None:
    """Give the encoder every picture; one that ends before its time says why by how it ends."""
    assert process.stdin is not None
    with suppress(BrokenPipeError):
        for shot in shots:
            process.stdin.write(np.ascontiguousarray(shot).data)
    _close(process)


def _close(process: subprocess.Popen[bytes]) -> None:
    """Tell the encoder that there is no more."""
    if process.stdin is not None:
        with suppress(BrokenPipeError):
            process.stdin.close()


def _fault(ended: int, said: IO[bytes]) -> OSError:
    """What the encoder said, as an error of the system where it was one."""
    said.seek(0)
    lines = said.read().decode(errors="replace").strip().splitlines()
    for number in FULL:
        if any(os.strerror(number) in line for line in lines):
            return OSError(number, os.strerror(number))
    why = lines[-1].strip() if lines else f"ended with {ended}"
    return OSError(errno.EIO, f"the encoder of the film failed: {why[:LONGEST_WORD]}")


def _check(path: str, count: int) -> None:
    """Open the film again and count its pictures."""
    from imageio_ffmpeg import count_frames_and_secs

    try:
        found, _ = count_frames_and_secs(path)
    except RuntimeError:
        found = 0
    if found != count:
        raise OSError(errno.EIO, f"the film holds {found} of {count} pictures when it is opened again")
