"""The picture of a comparison: curves over each other and their differences beneath, true to the solver."""

import numpy as np
import pytest

import scenarios
from scenarios.ask.compare import compare
from viz.cli import main as cli
from viz.plots.compare import IN_CASE, compare_figure
from viz.plots.lock import PANELS


@pytest.fixture(scope="module")
def scenario():
    return scenarios.load()


def test_lines_are_the_columns_and_their_changes(scenario):
    found = compare(scenario, "as-delivered", ["more-caster", "less-caster"], ["slow corner"], None)
    figure = compare_figure(found, "alone", dark=True)
    axes = np.array(figure.axes).reshape(6, 3)
    for row, panels in ((0, PANELS[:3]), (2, PANELS[3:]), (4, IN_CASE)):
        for column, panel in enumerate(panels):
            above, below = axes[row, column], axes[row + 1, column]
            lines = [[line for line in a.get_lines() if len(line.get_xdata()) == 61] for a in (above, below)]
            count = len(panel.columns)
            assert [len(some) for some in lines] == [3 * count, 2 * count]
            left = found.settings[1].ways["alone"]
            curve = {**left.curves, **left.cases["slow corner"]}[panel.columns[0]]
            ok = np.broadcast_to(curve.known, curve.now.shape)
            assert (np.asarray(lines[0][2 * count].get_ydata())[ok] == curve.now[ok]).all()
            assert (np.asarray(lines[1][count].get_ydata())[ok] == curve.change[ok]).all()
            assert lines[0][2 * count].get_color() == lines[1][count].get_color()


def test_the_command_writes_it(tmp_path):
    """Which file a suffix means is the same for every command: see those of sweep and map."""
    place = tmp_path / "c.svg"
    few = ("--lock", "-40", "40", "--positions", "5", "--case", "slow corner", "--sure", "none")
    assert cli.main(["compare", "--setting", "more-caster", *few, "--plot", str(place)]) == 0
    assert place.read_bytes().startswith(b"<?xml")


def test_no_text_of_the_picture_overlaps_however_long_the_names(scenario):
    inputs = {
        **scenario.resolved,
        "title": ("A kart with a rather long title of the kind that people give it " * 2)[:120],
    }
    wordy = {
        f"a setting called {name} with as many words as allowed"[:60]: s
        for name, s in inputs["setting"].items()
    }
    inputs |= {"setting": wordy, "default_setting": next(iter(wordy))}
    named = scenarios.from_mapping(inputs, "wordy")
    names = list(wordy)
    figure = compare_figure(compare(named, names[0], names[1:], ["slow corner"], None), "spacers")
    figure.draw_without_rendering()
    texts = [t for a in figure.axes for t in (a.title, a.xaxis.label, a.yaxis.label)]
    texts += [*figure.texts, *(t for legend in figure.legends for t in legend.get_texts())]
    boxes = [t.get_window_extent() for t in texts if t.get_text()]
    assert all(box.x0 >= 0 and box.y0 >= 0 for box in boxes)
    assert all(box.x1 <= figure.bbox.x1 and box.y1 <= figure.bbox.y1 for box in boxes)
    assert not any(a.overlaps(b) for i, a in enumerate(boxes) for b in boxes[:i])
