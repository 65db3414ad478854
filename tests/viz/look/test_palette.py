"""One palette: read by every eye, made into CSS, and no colour written anywhere else."""

from __future__ import annotations

import re
from pathlib import Path

import numpy as np
import pytest

import viz
from tests.helpers.colour import EYES, apart, ciede2000, contrast, lab
from viz.look.css import look, variables
from viz.look.palette import DARK, LIGHT, PRINT, ROLES, THEMES, rgb
from viz.look.rule import label_colours

ALL = (LIGHT, DARK, PRINT)
WORDS = ("ink", "soft", "left", "right", "second", "warn")


TOLD_APART = (
    ("left", "right"),
    *((side, other) for side in ("left", "right") for other in ("air", "second")),
    ("air", "tyre"),
    ("contact", "axis_point"),
    ("pushed", "diagonal"),
    *(("load", other) for other in ("pushed", "diagonal", "tyre", "air")),
    *(("air", other) for other in ("pushed", "diagonal")),
)
"""Roles that stand in one picture with nothing but their colour between them."""


@pytest.mark.parametrize("eye", EYES)
@pytest.mark.parametrize("theme", ALL, ids=lambda theme: theme.name)
def test_what_is_said_by_colour_is_told_apart_by_every_eye(theme, eye):
    near = {pair: apart(*(theme.roles[role] for role in pair), eye) for pair in TOLD_APART}
    assert {pair: round(d, 1) for pair, d in near.items() if d < 20.0} == {}
    for side in ("left", "right"):
        assert apart(theme.roles[side], theme.ink, eye) > 9.0  # curves, which have their names beside them


def test_the_measure_finds_what_it_is_there_to_find():
    """Red for a wheel in the air beside rust for the right: one colour to a deutan eye."""
    assert apart("#a84a12", "#c02a1f", "usual") > 11.0
    assert apart("#a84a12", "#c02a1f", "deutan") < 5.0


@pytest.mark.parametrize(
    ("one", "other", "told"),
    [
        ((50.0, 2.6772, -79.7751), (50.0, 0.0, -82.7485), 2.0425),
        ((50.0, 2.5, 0.0), (73.0, 25.0, -18.0), 27.1492),
        ((2.0776, 0.0795, -1.1350), (0.9033, -0.0636, -0.5514), 0.9082),
    ],
)
def test_the_measure_is_that_of_its_authors(one, other, told):
    """Three pairs of the test data of Sharma, Wu and Dalal (2005), from memory."""
    assert ciede2000(one, other) == pytest.approx(told, abs=1e-4)


def test_no_red_stands_in_a_scene():
    """Not beside the gap, which is yellow because no eye takes that for rust, and for no mark."""
    for theme in ALL:
        for role in ROLES:
            _, a, b = lab(theme.roles[role])
            red = 15.0 < np.degrees(np.arctan2(b, a)) < 48.0 and np.hypot(a, b) > 30.0
            assert not red, (theme.name, role)


@pytest.mark.parametrize("theme", ALL, ids=lambda theme: theme.name)
def test_words_are_read_on_both_grounds(theme):
    """At least 4.5 to 1 (WCAG 2.2, 1.4.3), controls and curves 3 to 1 (1.4.11)."""
    for ground in (theme.paper, theme.plate):
        assert all(contrast(getattr(theme, word), ground) >= 4.5 for word in WORDS)
        assert contrast(theme.ink, ground) >= 7.0
        assert contrast(theme.strong, ground) >= 4.5
        assert contrast(theme.rule, ground) >= 3.0
    assert contrast(theme.on_strong, theme.strong) >= 4.5
    assert contrast(theme.warn, theme.warn_plate) >= 4.5
    assert contrast(*label_colours(theme, "air")) >= 4.5


def test_every_role_has_a_colour():
    for theme in ALL:
        assert tuple(theme.roles) == ROLES
        assert theme.palette().shape == (len(ROLES), 3)
        assert theme.palette()[ROLES.index("left")].tolist() == list(rgb(theme.left))


def test_variables_of_every_theme_stand_in_the_styles_of_a_page():
    text = look()
    for theme in ALL:
        assert variables(theme) in text
        assert f"--on-strong:{theme.on_strong};" in variables(theme)
    assert text.index(variables(PRINT)) > text.rindex(variables(DARK)), "paper has the last word"
    assert set(THEMES) == {"light", "dark"}


def test_no_colour_is_written_outside_the_palette():
    root = Path(viz.__file__).parent
    files = [f for kind in ("*.py", "*.css", "*.js", "*.html") for f in root.rglob(kind)]
    found = {
        f.relative_to(root).as_posix(): colours
        for f in files
        if f.name != "palette.py"
        for colours in [re.findall(r"#(?:[0-9a-fA-F]{6}|[0-9a-fA-F]{3})\b(?!\w)", f.read_text("utf-8"))]
        if colours
    }
    assert found == {}
