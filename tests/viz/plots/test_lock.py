"""Plots: written, whole, legible in light and dark, and true to the columns they draw."""

import io
import xml.etree.ElementTree as ET
from dataclasses import replace

import numpy as np
import pytest
from PIL import Image

import scenarios
from kinematics.parts import LoadCase
from scenarios.ask.run import CaseRun, run
from scenarios.likely.bands import bands
from viz.look.palette import DARK, LIGHT, rgb
from viz.plots.lock import CASE_PANELS, PANELS, columns_drawn, figure_bytes, lock_figure


@pytest.fixture(scope="module")
def runs():
    scenario = scenarios.load()
    return [run(scenario, name) for name in scenario.settings]


@pytest.fixture(scope="module")
def bound():
    """A run whose tie rods bind."""
    scenario = scenarios.load()
    inputs = dict(scenario.resolved)
    short = {"tie_rod_length_mm": 300.0}
    inputs["setting"] = {"short": {"both": short}}
    inputs["default_setting"] = "short"
    return run(scenarios.from_mapping(inputs, "test"), "short")


@pytest.fixture(scope="module")
def alike(runs):
    """Two figures of the same, each laid out once for all kinds of file."""
    figures = [lock_figure("Kart", runs[:1]) for _ in range(2)]
    for figure in figures:
        figure.draw_without_rendering()
        figure.set_layout_engine("none")
        for axes in figure.axes[1:-1]:  # a panel of the geometry and one of a load case tell of all
            axes.remove()
    return figures


def test_a_gap_in_the_curves_of_a_load_case_says_why():
    for g, why in ((1.0, ""), (2.02, " (gaps: on 2)"), (2.15, " (gaps: on 2, tips)")):
        scenario = replace(scenarios.load(), load_cases=(LoadCase("hard", lateral_g=g),))
        figure = lock_figure("Kart", [run(scenario, "as-delivered")])
        titles = [axes.get_title() for axes in figure.axes]
        assert [title.endswith(f"\nhard{why}") for title in titles] == [False] * 6 + [True] * 6


@pytest.mark.parametrize(("suffix", "opens"), [("png", b"\x89PNG"), ("svg", b"<?xml"), ("pdf", b"%PDF-")])
def test_each_kind_of_file_opens_and_is_the_same_twice(alike, suffix, opens):
    once, twice = (figure_bytes(figure, suffix) for figure in alike)
    assert once.startswith(opens)
    assert once == twice
    if suffix == "svg":
        assert ET.fromstring(once).tag.endswith("svg")


@pytest.mark.parametrize(
    ("dark", "theme"), [pytest.param(False, LIGHT, marks=pytest.mark.long), (True, DARK)]
)
def test_a_png_has_its_ground_at_the_edge_and_nothing_touches_it(runs, dark, theme):
    image = Image.open(io.BytesIO(figure_bytes(lock_figure("Kart", runs[:1], dark), "png"))).convert("RGB")
    pixels = np.asarray(image)
    edges = np.concatenate([pixels[0], pixels[-1], pixels[:, 0], pixels[:, -1]])
    assert (edges == rgb(theme.plate)).all()
    assert len(image.getcolors(image.width * image.height)) > 50


def test_no_text_overlaps_another_or_leaves_the_figure_however_long_the_names(runs):
    case = "a load case with as many words in its name as are allowed"
    named = [replace(r.solved, cases=(replace(r.solved.cases[0], name=case),)) for r in runs]
    wordy = [
        replace(
            run,
            name=f"a setting with {n} words in its name, as long as a name may be",
            cases=[CaseRun(case, solved)],
        )
        for n, (run, solved) in enumerate(zip(runs, named, strict=True))
    ]
    figure = lock_figure("A kart with a rather long title of the kind people give " * 2, wordy)
    figure.draw_without_rendering()
    texts = [t for axes in figure.axes for t in (axes.title, axes.xaxis.label, axes.yaxis.label)]
    texts += [*figure.texts, *(t for legend in figure.legends for t in legend.get_texts())]
    boxes = [t.get_window_extent() for t in texts if t.get_text()]
    assert all(box.x0 >= 0 and box.y0 >= 0 for box in boxes)
    assert all(box.x1 <= figure.bbox.x1 and box.y1 <= figure.bbox.y1 for box in boxes)
    assert not any(a.overlaps(b) for i, a in enumerate(boxes) for b in boxes[:i])


def test_lines_are_the_columns_and_break_where_they_bind(bound):
    figure = lock_figure("Kart", [bound])
    columns = {**bound.columns, **bound.cases[0].columns}
    for axes, panel in zip(figure.axes, PANELS + CASE_PANELS, strict=True):
        lines = [line for line in axes.get_lines() if len(line.get_xdata()) == 61]
        for line, name in zip(lines, panel.columns, strict=True):
            column = columns[name]
            drawn = np.asarray(line.get_ydata())
            assert np.isfinite(drawn).tolist() == column.known.tolist()
            assert (drawn[column.known] == column.values[column.known]).all()
    assert not bound.columns["camber_left_deg"].known.all()


@pytest.mark.parametrize(("dark", "theme"), [(False, LIGHT), (True, DARK)])
def test_a_side_is_told_by_colour_and_letter_a_setting_by_stroke_and_marker(runs, dark, theme):
    figure = lock_figure("Kart", runs, dark)
    for axes, panel in zip(figure.axes, PANELS + CASE_PANELS, strict=True):
        lines = [line for line in axes.get_lines() if len(line.get_xdata()) == 61]
        sides = {"left" if "_left_" in n else "right" if "_right_" in n else "" for n in panel.columns}
        colours = {"left": theme.left, "right": theme.right, "": theme.ink}
        assert {line.get_color() for line in lines} == {colours[side] for side in sides}
        for colour in {line.get_color() for line in lines}:
            alike = [line for line in lines if line.get_color() == colour]
            assert len({line.get_marker() for line in alike}) == len(runs)
            assert len({line._dash_pattern for line in map(dashed, alike)}) == len(runs)
            assert [line.is_dashed() for line in alike] == [False] + [True] * (len(runs) - 1)
        letters = {text.get_text(): text.get_color() for text in axes.texts}
        assert letters == ({"L": theme.left, "R": theme.right} if sides == {"left", "right"} else {})
    words = [text.get_text() for text in figure.legends[0].get_texts()]
    assert words == [*(run.name for run in runs), "left front (L)", "right front (R)", "whole kart"]


def dashed(line):
    """The line with its dashes as something that can be counted."""
    offset, dashes = line._dash_pattern
    line._dash_pattern = (offset, tuple(dashes or ()))
    return line


def test_a_band_is_a_shade_that_holds_its_curve_and_is_named():
    scenario = scenarios.load()
    found = bands(scenario, ["as-delivered"], (), 32)
    one, case = run(scenario, "as-delivered"), scenario.load_cases[0]
    shades = found.columns("as-delivered", case, columns_drawn(True))
    shaded, plain = lock_figure("Kart", [one], bands=[shades]), lock_figure("Kart", [one])
    for axes, panel in zip(shaded.axes, (*PANELS, *CASE_PANELS), strict=True):
        assert len(axes.collections) == len(panel.columns)
        for shade, name in zip(axes.collections, panel.columns, strict=True):
            heights = np.concatenate([path.vertices[:, 1] for path in shade.get_paths()])
            band = shades[name]
            assert (heights.min(), heights.max()) == pytest.approx((band.low.min(), band.high.max()))
    assert not any(axes.collections for axes in plain.axes)
    named = [[text.get_text() for text in figure.legends[0].get_texts()] for figure in (shaded, plain)]
    assert ["95 of 100 likely karts" in names for names in named] == [True, False]
