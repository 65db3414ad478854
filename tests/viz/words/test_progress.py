"""A bar is shown where someone watches, and only for work that takes a while."""

from __future__ import annotations

import io
import sys

import pytest

from viz.words import progress


class Screen(io.StringIO):
    """A stderr that someone watches, or not."""

    def __init__(self, watched=True):
        super().__init__()
        self.watched = watched

    def isatty(self):
        return self.watched


@pytest.mark.parametrize(("seconds", "shown"), [(0.9, False), (1.1, True)])
def test_a_bar_is_shown_after_a_second(monkeypatch, seconds, shown):
    times = iter([10.0, 10.0])
    monkeypatch.setattr(progress, "monotonic", lambda: next(times, 10.0 + seconds))
    monkeypatch.setattr(sys, "stderr", Screen())
    monkeypatch.setenv("TERM", "xterm")
    with progress.progress_bar("pairs") as tell:
        tell(1, 4)
        tell(2, 4)
        tell(3, 0)
    assert ("pairs" in sys.stderr.getvalue()) == shown


def test_where_nobody_watches_nothing_is_shown(monkeypatch):
    monkeypatch.setattr(progress, "SILENT", 0.0)
    monkeypatch.setattr(sys, "stderr", Screen(watched=False))
    with progress.progress_bar("pairs") as tell:
        tell(1, 4)
    assert sys.stderr.getvalue() == ""
