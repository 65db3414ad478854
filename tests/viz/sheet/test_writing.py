"""A sheet is written whole or not at all, and what cannot be written is told in one line."""

from __future__ import annotations

import os
import stat

import pytest

import scenarios
from scenarios import ScenarioError
from scenarios.errors import Refusal
from tests.helpers.sheet.cases import CASES, ON
from viz.sheet import render, sheet_of, write


@pytest.mark.parametrize("name", ["sheet.html", "sheet.pdf"])
def test_written_whole(tmp_path, name):
    scenario, base, new, *_ = CASES["more caster"]
    sheet = write(tmp_path / name, scenario, base, new, on=ON)
    assert (tmp_path / name).read_bytes() == render(sheet, name.partition(".")[2])
    assert os.listdir(tmp_path) == [name]


@pytest.mark.parametrize("name", ["sheet.doc", "sheet", "nowhere/sheet.pdf", "."])
def test_bad_path_is_one_line_and_leaves_nothing(tmp_path, name):
    scenario, base, new, *_ = CASES["more caster"]
    with pytest.raises(Refusal) as refused:
        write(tmp_path / name, scenario, base, new)
    assert "\n" not in str(refused.value)
    assert os.listdir(tmp_path) == []


def test_full_disk_leaves_the_old_sheet(tmp_path, monkeypatch):
    scenario, base, new, *_ = CASES["more caster"]
    path = tmp_path / "sheet.html"
    path.write_text("old")

    def full(*_args):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("viz.files.os.replace", full)
    with pytest.raises(Refusal, match="No space left"):
        write(path, scenario, base, new)
    assert path.read_text() == "old"
    assert os.listdir(tmp_path) == ["sheet.html"]
    assert stat.S_ISREG(path.stat().st_mode)


def test_unknown_setting_suggests_the_nearest():
    with pytest.raises(ScenarioError, match="did you mean 'more-caster'"):
        sheet_of(scenarios.load(), "as-delivered", "more-castor")


def test_rods_that_cannot_be_joined_are_one_line():
    from dataclasses import replace

    scenario = scenarios.load()
    base = scenario.settings["as-delivered"]
    apart = replace(base, left=replace(base.left, rod_length=20.0))
    with pytest.raises(ScenarioError, match="cannot be joined") as refused:
        sheet_of(scenario, "as-delivered", apart)
    assert "\n" not in str(refused.value)
