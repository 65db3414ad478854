"""A scenario file in the working folder that several commands' tests ask about."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.helpers.scenario_edit import stepped


@pytest.fixture
def coarse(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> str:
    """The training kart with clocks in steps of 45 deg, as a file in the working folder."""
    monkeypatch.chdir(tmp_path)
    (tmp_path / "coarse.toml").write_text(stepped(45.0))
    return "coarse.toml"
