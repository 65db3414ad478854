"""Charts as SVG: round ticks, names kept apart, curves that break where there is no value."""

from __future__ import annotations

import re

import numpy as np

from kinematics.figures.standing import INSIDE_REAR_LOAD
from viz.page import charts


def test_ticks_are_round_and_hold_the_range() -> None:
    assert charts.ticks(-3.4, 5.9) == [-4.0, -2.0, 0.0, 2.0, 4.0, 6.0]
    assert charts.ticks(0.0, 0.0)[0] <= 0.0 < charts.ticks(0.0, 0.0)[-1]
    assert charts.ticks(198.0, 203.0) == [198.0, 199.0, 200.0, 201.0, 202.0, 203.0]


def test_names_of_curves_do_not_cover_each_other() -> None:
    heights = [charts.BOTTOM, charts.BOTTOM, 100.0, 101.0, charts.TOP]
    placed = sorted(charts.spread(heights))
    assert min(np.diff(placed)) >= charts.LINE_HEIGHT - 1e-9
    assert placed[0] >= charts.TOP
    assert placed[-1] <= charts.BOTTOM


def test_a_curve_breaks_where_there_is_no_value() -> None:
    chart = charts.Chart("load", "Load", "N", charts.curves(INSIDE_REAR_LOAD))
    table = {"inside_rear_load_n": [1.0, None, 3.0, 2.0]}
    drawn = charts.draw(chart, [-1.0, 0.0, 1.0, 2.0], {"A": table, "B": table})
    paths = re.findall(r'<path d="([^"]+)"[^>]*class="curve plain (a|b)"', drawn)
    assert [(p.count("M"), slot) for p, slot in paths] == [(2, "a"), (2, "b")]


def test_a_shade_lies_between_its_ends_and_breaks_where_there_is_none() -> None:
    chart = charts.Chart("load", "Load", "N", charts.curves(INSIDE_REAR_LOAD))
    table = {"inside_rear_load_n": [1.0, 2.0, 3.0, 2.0]}
    shade = {"inside_rear_load_n": ([0.0, None, 2.0, 1.0], [2.0, 5.0, 10.0, 3.0])}
    drawn = charts.draw(chart, [-1.0, 0.0, 1.0, 2.0], {"A": table}, {"A": shade})
    [path] = re.findall(r'<path d="([^"]+)" class="shade plain"', drawn)
    alone, pair = ([float(n) for n in re.findall(r"[\d.]+", part)] for part in path.split("Z")[:2])
    assert alone == [charts.LEFT, charts.BOTTOM, charts.LEFT, 166.0]  # 2 of 10 up, on a scale that holds all
    assert pair[1::2] == [166.0, 185.0, 147.0, charts.TOP]
