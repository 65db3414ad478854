"""A bar is shown where someone watches, and only for work that takes a while."""

from __future__ import annotations

import sys

import pytest

from viz.words import progress


@pytest.fixture
def watched(capsys, monkeypatch):
    monkeypatch.setattr(sys.stderr, "isatty", lambda: True, raising=False)
    monkeypatch.setenv("TERM", "xterm")
    return monkeypatch


@pytest.mark.parametrize(("seconds", "shown"), [(0.9, False), (1.1, True)])
def test_a_bar_is_shown_after_a_second(watched, capsys, seconds, shown):
    times = iter([10.0, 10.0, 10.0 + seconds])
    watched.setattr(progress, "monotonic", lambda: next(times, 10.0 + seconds))
    with progress.progress_bar("pairs") as tell:
        tell(1, 4)
        tell(2, 4)
        tell(3, 0)
    assert ("pairs" in capsys.readouterr().err) == shown


def test_where_nobody_watches_nothing_is_shown(watched, capsys):
    watched.setattr(sys.stderr, "isatty", lambda: False, raising=False)
    watched.setattr(progress, "SILENT", 0.0)
    with progress.progress_bar("pairs") as tell:
        tell(1, 4)
    assert capsys.readouterr() == ("", "")
