"""A film is whole or it is refused: how the encoder ends is looked at, and so is what it wrote."""

from __future__ import annotations

import errno
import os
import sys

import numpy as np
import pytest

from viz.canvas import encoder

SIZE = (320, 176)
COUNT = 8


def shots():
    noise = np.random.default_rng(1)
    for _ in range(COUNT):
        yield noise.integers(0, 255, (SIZE[1], SIZE[0], 3), dtype=np.uint8)


def encode(path):
    encoder.encode(str(path), shots(), COUNT, SIZE, 20)


@pytest.fixture
def instead(monkeypatch):
    """Put a shell's lines around or in the place of the encoder, "$@" with the film's name last."""
    real = encoder._command

    def put(lines):
        monkeypatch.setattr(encoder, "_command", lambda *asked: ["sh", "-c", lines, "sh", *real(*asked)])

    return put


def test_a_film_is_whole(tmp_path):
    encode(tmp_path / "a.mp4")
    encoder._check(str(tmp_path / "a.mp4"), COUNT)
    with pytest.raises(OSError, match=f"holds {COUNT} of {COUNT + 1} pictures"):
        encoder._check(str(tmp_path / "a.mp4"), COUNT + 1)


@pytest.mark.skipif(sys.platform != "linux", reason="limits and words as Linux has them")
@pytest.mark.parametrize(
    ("lines", "number", "said"),
    [
        ("trap '' XFSZ; ulimit -f 64; exec \"$@\"", errno.EFBIG, "File too large"),
        ('ulimit -f 64; exec "$@"', errno.EIO, "ended with -"),
        ("cat >/dev/null; echo 'x: No space left on device' >&2; exit 1", errno.ENOSPC, "No space left"),
        ("echo an odd thing >&2; exit 3", errno.EIO, "an odd thing"),
        ('for name; do :; done; "$@"; truncate -s 20000 "$name"', errno.EIO, "holds 0 of 8"),
        ("cat >/dev/null", errno.EIO, "holds 0 of 8"),
    ],
)
def test_a_film_that_is_not_whole_is_told(tmp_path, instead, capfd, lines, number, said):
    instead(lines)
    with pytest.raises(OSError, match=said) as told:
        encode(tmp_path / "a.mp4")
    assert told.value.errno == number
    assert "\n" not in str(told.value)
    assert capfd.readouterr() == ("", ""), "the encoder's own words do not reach the terminal"


@pytest.mark.skipif(sys.platform != "linux", reason="needs /proc")
def test_the_encoder_is_gone_after_a_fault(tmp_path, monkeypatch):
    started = []
    popen = encoder.subprocess.Popen
    monkeypatch.setattr(
        encoder.subprocess, "Popen", lambda *a, **k: started.append(popen(*a, **k)) or started[-1]
    )

    def fault():
        yield next(shots())
        raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        encoder.encode(str(tmp_path / "a.mp4"), fault(), COUNT, SIZE, 20)
    assert not os.path.exists(f"/proc/{started[0].pid}")
