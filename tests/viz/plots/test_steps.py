"""The picture of exchange rates: a bar a step, true to its band, largest first, last what cannot be told."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from matplotlib.colors import to_hex

import scenarios
from scenarios.ask.answer import TORQUE
from scenarios.ask.steps import STEPS, stepped
from tests.helpers.scenario_edit import edited, tables
from viz.cli import main as cli
from viz.look.palette import DARK, LIGHT
from viz.plots.steps import PALE, steps_figure
from viz.words.sure import gain, kg


@pytest.fixture(scope="module")
def found():
    return stepped(scenarios.load(), "as-delivered", "gentle corner", count=32)


@pytest.fixture(scope="module")
def lifted():
    """A corner in which the inside rear is in the air with nearly every step."""
    return stepped(scenarios.load(), "as-delivered", "slow corner", at_deg=60.0, count=32)


def whiskers(axes):
    """From where to where each row's whisker goes."""
    lines = [line for line in axes.get_lines() if line.get_marker() == "|"]
    return [tuple(line.get_xdata()) for line in lines]


def numbers(axes):
    """The numbers beside the bars, by row."""
    return {text.get_position()[1]: text.get_text() for text in axes.texts}


def test_bars_and_whiskers_are_what_each_step_is_worth(found):
    main, lifts, camber, torque, work = steps_figure(found).axes
    loads = [found.worth(name)["load"] for name in found.ranked]
    assert [bar.get_width() for bar in main.patches] == [pytest.approx(kg(by.value)) for by in loads]
    assert np.allclose(whiskers(main), [(kg(by.band.low), kg(by.band.high)) for by in loads])
    told = {row: gain(by, kg, band=True) for row, by in enumerate(loads) if by.told_apart}
    assert numbers(main) == told
    for axes, short in ((camber, "camber"), (torque, TORQUE)):
        values = [found.worth(name)[short].value for name in found.ranked]
        assert [bar.get_width() for bar in axes.patches] == values
    assert [bar.get_width() for bar in work.patches] == [found.steps[n].minutes for n in found.ranked]
    assert not lifts.patches
    assert [text.get_text() for text in lifts.texts] == ["no difference to tell"]
    words = [label.get_text() for label in main.get_yticklabels()]
    assert words == [found.steps[name].words for name in found.ranked]
    assert sorted(words) == sorted(step.words for step in STEPS)
    low, high = main.get_ylim()
    assert low > high  # the first stands on top


def test_what_cannot_be_told_is_pale_and_last_and_the_others_fall_in_size(found):
    main = steps_figure(found).axes[0]
    bars, ends = main.patches, whiskers(main)
    pale = [low <= 0.0 <= high for low, high in ends]
    assert [bar.get_alpha() == PALE for bar in bars] == pale == sorted(pale)
    assert 0 < sum(pale) < len(pale)
    sizes = [abs(bar.get_width()) for bar, one in zip(bars, pale, strict=True) if not one]
    assert sizes == sorted(sizes, reverse=True)


def test_where_no_load_can_be_told_the_lift_leads(lifted):
    """Far past where the wheel leaves the road every step leaves it there."""
    main = steps_figure(lifted).axes[0]
    assert main.get_title() == "It leaves the road"
    lifts = [lifted.worth(name)["lifts"] for name in lifted.ranked]
    assert any(by.told_apart for by in lifts)
    bars = [bar.get_width() for bar in main.patches]
    assert bars == [by.value for by in lifts if by.value is not None and np.isfinite(by.value)]


def test_a_wheel_that_begins_to_lift_or_ends_is_a_word(found):
    """No bar has a length for it."""
    name, other = found.ranked[:2]
    signs = {name: -np.inf, other: np.inf}

    class Lifting(type(found)):
        def worth(self, setting):
            worth = super().worth(setting)
            value = signs.get(setting, worth["lifts"].value)
            return {**worth, "lifts": replace(worth["lifts"], value=value)}

    lifting = Lifting(found.base, found.answer, found.steps)
    lifts = steps_figure(lifting).axes[1]
    assert [numbers(lifts)[row] for row in (0, 1)] == ["now lifts", "stays down"]


@pytest.mark.parametrize(("dark", "theme"), [(False, LIGHT), (True, DARK)])
def test_it_is_drawn_in_either_theme(found, dark, theme):
    figure = steps_figure(found, dark)
    assert to_hex(figure.get_facecolor()) == theme.plate
    assert {to_hex(bar.get_facecolor()) for bar in figure.axes[0].patches} == {theme.strong}
    assert {text.get_color() for axes in figure.axes for text in axes.texts} == {theme.ink}


def test_the_title_says_what_of_where_and_no_text_overlaps_however_long_the_names():
    inputs = edited(tables(), {"title": "A kart with a rather long title of the kind people give it " * 2})
    case = "a corner with as many words in its name as are allowed here"
    name = "a setting called by as many words as are allowed by its file"
    inputs["load_case"][0] |= {"name": case, "lateral_g": 1.2}
    inputs |= {"setting": {name: inputs["setting"]["as-delivered"]}, "default_setting": name}
    inputs["load_case"] = inputs["load_case"][:1]
    scenario = scenarios.from_mapping(inputs, "wordy")
    figure = steps_figure(stepped(scenario, name, case, 30.0, count=8))
    figure.draw_without_rendering()
    assert figure.get_suptitle().startswith("What one usual step does to the inside rear in a corner with as")
    texts = [t for a in figure.axes for t in (a.title, a.xaxis.label, *a.texts, *a.get_yticklabels())]
    texts += figure.texts
    boxes = [t.get_window_extent() for t in texts if t.get_text() and t.get_visible()]
    labels = [t for a in figure.axes[1:] for t in a.get_yticklabels()]
    assert not any(t.get_visible() and t.get_text() for t in labels)
    assert all(box.x0 >= 0 and box.y0 >= 0 for box in boxes)
    assert all(box.x1 <= figure.bbox.x1 and box.y1 <= figure.bbox.y1 for box in boxes)
    assert not any(a.overlaps(b) for i, a in enumerate(boxes) for b in boxes[:i])


def test_the_command_writes_it(tmp_path):
    place = tmp_path / "steps.svg"
    assert cli.main(["steps", "--case", "slow corner", "--at", "25", "--plot", str(place), "--dark"]) == 0
    assert place.read_bytes().startswith(b"<?xml")
