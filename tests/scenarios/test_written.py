"""A file is there whole or not at all, and nothing of a failure stays beside it."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from scenarios.files import replacing


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
