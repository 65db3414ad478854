"""The map as a picture: true to its points, steps told apart, every mark named, nothing hidden."""

import io
from dataclasses import replace

import numpy as np
import pytest
from matplotlib.colors import to_rgb
from PIL import Image

import scenarios
from scenarios.ask.reach import Mark, map_box
from tests.helpers.reading import named
from viz.look.palette import DARK, LIGHT, rgb
from viz.plots.lock import figure_bytes
from viz.plots.reach import cell_means, colours_of, levels_of, map_figure, together
from viz.tables.grid import shorten

DROP = named("wheel_drop_left_mm", float(np.radians(40.0)))


def kit(step, *sizes):
    """The training kart with another box, and with names as long as they may be."""
    scenario = scenarios.load()
    inputs = dict(scenario.resolved)
    inputs["kit"] = {"clock_step_deg": step, "bush": [{"rated_deg": size} for size in sizes]}
    names = {
        name: name if name == "as-delivered" else f"{name} with a long name" for name in inputs["setting"]
    }
    inputs["setting"] = {names[name]: setting for name, setting in inputs["setting"].items()}
    return scenarios.from_mapping(inputs, "test")


def mapped(scenario, figure=DROP):
    marks = list(scenario.settings)[1:]
    return map_box(scenario, "as-delivered", figure, marks, (), "both", "reset", 3)


@pytest.fixture(scope="module")
def found():
    return mapped(kit(30.0, 0.0, 1.0, 2.0))


def luminance(colour):
    channels = np.array(to_rgb(colour))
    linear = np.where(channels <= 0.04045, channels / 12.92, ((channels + 0.055) / 1.055) ** 2.4)
    return float(linear @ [0.2126, 0.7152, 0.0722])


def test_points_lie_at_caster_and_camber_and_carry_the_figure(found):
    figure = map_figure(found)
    [points] = [c for c in figure.axes[0].collections if len(c.get_offsets()) == len(found.rows)]
    assert np.allclose(points.get_offsets(), np.stack([found.spots.caster, found.spots.camber], axis=-1))
    assert (points.get_array() == found.spots.value).all()
    assert "caster" in figure.axes[0].get_xlabel()
    assert "camber" in figure.axes[0].get_ylabel()
    assert figure.axes[1].get_ylabel() == "wheel drop left (mm)\nat handwheel 40 deg"


@pytest.mark.parametrize("dark", [False, True])
def test_marks_are_drawn_named_and_no_name_hides_another_or_a_mark(found, dark):
    figure = map_figure(found, dark)
    figure.draw_without_rendering()
    axes = figure.axes[0]
    names = {text.get_text(): text for text in axes.texts if text.get_bbox_patch() is not None}
    assert list(names) == [shorten(mark.name, 26) for mark in found.marks]
    boxes = [text.get_bbox_patch().get_window_extent() for text in names.values()]
    assert not any(a.overlaps(b) for i, a in enumerate(boxes) for b in boxes[:i])
    places = axes.transData.transform([[mark.caster, mark.camber] for mark in found.marks])
    assert not any(box.contains(*place) for box in boxes for place in places)
    inside = axes.get_window_extent()
    assert all(inside.contains(*box.min) and inside.contains(*box.max) for box in boxes)
    words = [text.get_text() for text in figure.legends[0].get_texts()]
    assert words == ["present setting", "other setting"]


@pytest.mark.parametrize("dark", [False, True])
@pytest.mark.parametrize("count", [2, 6, 10])
def test_colour_steps_rise_evenly_enough_to_be_told_apart_in_grey(dark, count):
    steps = [luminance(colour) for colour in colours_of(count, dark).colors]
    lightness = np.diff(np.cbrt(steps))
    assert (lightness > 0.5 * lightness.mean()).all()
    ground = luminance((DARK if dark else LIGHT).plate)
    contrast = [(max(s, ground) + 0.05) / (min(s, ground) + 0.05) for s in steps]
    assert min(contrast) > 1.4  # each point has a rim in the ink's colour as well


def test_names_of_a_crowd_keep_clear_of_each_other(found):
    crowd = [
        Mark(f"setting number {n}", "setting", 12.0 + 0.2 * (n % 3), -0.5 + 0.3 * (n // 3), 1.0)
        for n in range(6)
    ]
    figure = map_figure(replace(found, marks=crowd))
    figure.draw_without_rendering()
    boxes = [t.get_bbox_patch().get_window_extent() for t in figure.axes[0].texts if t.get_bbox_patch()]
    assert len(boxes) >= 4
    assert not any(a.overlaps(b) for i, a in enumerate(boxes) for b in boxes[:i])


def test_marks_that_hide_each_other_share_a_name():
    marks = [
        Mark(name, kind, 0.0, 0.0, None)
        for name, kind in (
            ("now", "present"),
            ("candidate 1", "candidate"),
            ("candidate 2", "candidate"),
            ("far", "candidate"),
        )
    ]
    places = np.array([[0.0, 0.0], [1.0, 0.0], [4.0, 3.0], [90.0, 0.0]])
    assert [words for _, words in together(places, marks)] == ["now", "candidate 1, 2", "far"]


def test_levels_hold_every_value_on_round_numbers():
    levels = levels_of(np.array([3.3, 17.9]))
    assert levels[0] <= 3.3
    assert levels[-1] >= 17.9
    assert np.allclose(np.diff(levels), 2.0)
    assert len(levels_of(np.array([5.0, 5.0]))) >= 2


def test_cell_means_are_means_and_miss_no_point():
    rng = np.random.default_rng(3)
    x, y = rng.uniform(size=(2, 500))
    values = 2.0 * x - y
    mean_x, mean_y, mean = cell_means(x, y, values)
    assert np.allclose(mean, 2.0 * mean_x - mean_y)
    assert 200 < len(mean) <= 18 * 18
    assert len(cell_means(np.ones(4), np.ones(4), np.arange(4.0))[2]) == 1


@pytest.mark.parametrize(
    ("scenario", "figure"),
    [
        (kit(0.0, 0.0), DROP),
        (kit(180.0, 0.0, 2.0), DROP),
        (kit(90.0, 0.0, 2.0), named("ackermann_percent", 0.0)),
        (kit(30.0, 0.0, 2.0), named("toe_total_deg")),
    ],
)
def test_a_poor_map_is_drawn_all_the_same(scenario, figure):
    drawn = map_figure(mapped(scenario, figure))
    drawn.draw_without_rendering()
    assert drawn.axes[0].collections


@pytest.mark.parametrize(
    ("dark", "theme"), [pytest.param(False, LIGHT, marks=pytest.mark.long), (True, DARK)]
)
def test_a_png_has_its_ground_at_the_edge_and_is_the_same_twice(found, dark, theme):
    once, twice = (figure_bytes(map_figure(found, dark), "png") for _ in range(2))
    assert once == twice
    pixels = np.asarray(Image.open(io.BytesIO(once)).convert("RGB"))
    edges = np.concatenate([pixels[0], pixels[-1], pixels[:, 0], pixels[:, -1]])
    assert (edges == rgb(theme.plate)).all()
