"""A file is there whole or not at all, and nothing of a failure stays beside it."""

from __future__ import annotations

import errno
import os
import stat
import subprocess
import sys
from pathlib import Path

import pytest

from scenarios.files import put, replacing


def names(folder: Path) -> list[str]:
    return sorted(p.name for p in folder.iterdir())


@pytest.mark.parametrize("fault", [RuntimeError, KeyboardInterrupt, OSError])
def test_a_block_that_fails_leaves_the_old_file_and_nothing_else(tmp_path, fault):
    there = tmp_path / "kart.gif"
    there.write_text("old")

    def write() -> None:
        with replacing(there) as aside:
            Path(aside).write_text("half")
            assert names(tmp_path) == sorted([Path(aside).name, "kart.gif"])
            raise fault

    with pytest.raises(fault):
        write()
    assert names(tmp_path) == ["kart.gif"]
    assert there.read_text() == "old"


def test_the_name_beside_has_the_suffix_by_which_a_writer_picks_its_kind(tmp_path):
    with replacing(tmp_path / "kart.gif") as aside:
        assert aside.endswith(".part.gif")
        Path(aside).write_text("new")
    assert names(tmp_path) == ["kart.gif"]


def test_a_new_file_never_replaces_one_that_came_meanwhile(tmp_path):
    there = tmp_path / "kart.toml"

    def write() -> None:
        with replacing(there, new=True) as aside:
            Path(aside).write_text("mine")
            there.write_text("theirs")

    with pytest.raises(FileExistsError):
        write()
    assert there.read_text() == "theirs"
    assert names(tmp_path) == ["kart.toml"]


def test_a_new_file_is_put_in_place_where_there_are_no_links(tmp_path, monkeypatch):
    def no_links(*_: object) -> None:
        raise OSError(38, "Function not implemented")

    monkeypatch.setattr(os, "link", no_links)
    with replacing(tmp_path / "kart.toml", new=True) as aside:
        Path(aside).write_text("mine")
    assert (tmp_path / "kart.toml").read_text() == "mine"
    assert names(tmp_path) == ["kart.toml"]


def test_a_fault_that_the_disk_tells_late_leaves_the_old_file(tmp_path, monkeypatch):
    def full(handle: int) -> None:
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    (tmp_path / "kart.csv").write_text("old")
    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(OSError, match="No space left"):
        put(tmp_path / "kart.csv", b"new")
    assert (tmp_path / "kart.csv").read_text() == "old"
    assert names(tmp_path) == ["kart.csv"]


def test_a_file_system_without_fsync_is_written_to(tmp_path, monkeypatch):
    def unknown(handle: int) -> None:
        raise OSError(errno.EINVAL, os.strerror(errno.EINVAL))

    monkeypatch.setattr(os, "fsync", unknown)
    put(tmp_path / "kart.csv", b"new")
    assert (tmp_path / "kart.csv").read_bytes() == b"new"


@pytest.mark.parametrize("name", ["a" * 250 + ".gif", "no-suffix", "ä" * 125, ".hidden", "odd." + "x" * 40])
def test_any_name_that_the_file_system_takes_is_written(tmp_path, name):
    put(tmp_path / name, b"new")
    assert names(tmp_path) == [name]


pipes = pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="pipes and locks as POSIX has them")
HOLD = """
import sys
from scenarios.files import replacing
with replacing(sys.argv[1]) as aside:
    print(aside, flush=True)
    sys.stdin.read()
"""


def holding(path: Path) -> subprocess.Popen[str]:
    """A process that is writing path until its stdin is closed."""
    command = [sys.executable, "-c", HOLD, str(path)]
    process = subprocess.Popen(command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True)
    assert process.stdout is not None
    assert process.stdout.readline().startswith(str(path.parent))
    return process


@pipes
def test_what_a_killed_writer_left_is_cleared_and_what_a_living_one_writes_is_not(tmp_path):
    place, other = tmp_path / "kart.gif", tmp_path / "other.gif"
    with holding(place) as dead, holding(other) as stranger:
        dead.kill()
        stranger.kill()
    assert len(names(tmp_path)) == 2
    with holding(place) as alive:
        before = names(tmp_path)
        assert len(before) == 2, "the stale part of its own file is gone, that of another is not its business"
        put(place, b"new")
        assert names(tmp_path) == sorted([*before, "kart.gif"])
    assert alive.returncode == 0
    put(other, b"new")
    assert names(tmp_path) == ["kart.gif", "other.gif"]


@pipes
def test_a_pipe_is_written_into_when_all_is_there(tmp_path):
    pipe, link = tmp_path / "pipe", tmp_path / "link.gif"
    os.mkfifo(pipe)
    link.symlink_to(pipe)
    for path in (pipe, link):
        with subprocess.Popen(["cat", str(pipe)], stdout=subprocess.PIPE) as reader:
            try:
                put(path, b"whole")
                assert stat.S_ISFIFO(pipe.stat().st_mode)
                assert reader.communicate(timeout=60) == (b"whole", None)
            finally:
                reader.kill()
    with pytest.raises(IsADirectoryError), replacing(pipe) as aside:
        Path(os.path.dirname(aside)).write_text("half")
    assert names(tmp_path) == ["link.gif", "pipe"]
    if os.path.exists("/dev/full"):
        with pytest.raises(OSError, match="No space left"):
            put("/dev/full", b"new")
