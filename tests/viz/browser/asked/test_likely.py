"""The shades of the page's charts are those of the scenario's own settings."""

from __future__ import annotations

import re

import numpy as np

import scenarios
from scenarios.likely.bands import bands
from viz.browser import figures
from viz.browser.asked import likely
from viz.browser.chosen import choices
from viz.page.charts import BOTTOM, TOP


def test_shades_are_the_bands_of_the_settings_chosen_and_hold_their_curves() -> None:
    scenario = scenarios.load()
    drawn = likely.charts(choices.start(scenario, ["as-delivered", "more-caster"]))
    assert set(drawn) == {chart.key for chart in figures.CHARTS}
    shades = re.findall(r'<path d="M([^"Z]+)Z" class="shade plain"', drawn["twist"])
    curves = re.findall(r'<path d="M([^"]+)"[^>]*class="curve plain', drawn["twist"])
    [name] = [name for name, _, _ in figures.CHARTS[-1].curves]
    for setting, shade, curve in zip(("as-delivered", "more-caster"), shades, curves, strict=True):
        low, high = np.split(np.array([float(p.split()[1]) for p in shade.split("L")]), 2)
        at = np.array([float(p.split()[1]) for p in curve.split("L")])
        assert (low + 0.11 >= at).all()  # the page counts downward
        assert (high[::-1] - 0.11 <= at).all()
        found = bands(scenario, [setting], [], count=likely.KARTS)
        band = found.columns(setting, scenario.load_cases[0], [name])[name]
        wide = np.asarray(band.high - band.low)
        assert np.allclose(
            (low - high[::-1])[[0, -1]] / (BOTTOM - TOP), wide[[0, -1]] / span(drawn["twist"]), atol=2e-3
        )


def span(drawn: str) -> float:
    """What a chart shows upward, from its lowest tick to its highest."""
    marks = re.findall(r'class="tick" text-anchor="end">([^<]+)<', drawn)
    values = [float(mark.replace("−", "-")) for mark in marks]
    return max(values) - min(values)
