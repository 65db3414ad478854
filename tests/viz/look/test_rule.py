"""The one rule: side = colour, setting = stroke; on plots, pages and in the window alike."""

from __future__ import annotations

from viz.look.css import LINE, look
from viz.look.palette import DARK, LIGHT
from viz.look.rule import SIDES, side_colour, stroke


def test_a_side_has_a_colour_and_the_whole_kart_is_drawn_in_ink():
    for theme in (LIGHT, DARK):
        assert [side_colour(theme, side) for side in SIDES] == [theme.left, theme.right, theme.ink]


def test_the_first_setting_is_solid_and_no_two_of_eight_share_dashes_and_marker():
    strokes = [stroke(place) for place in range(8)]
    assert strokes[0].dashes == ()
    assert all(s.dashes for s in strokes[1:6])
    assert len({(s.dashes, s.marker) for s in strokes}) == 8
    assert len({s.marker for s in strokes}) == 8


def test_css_has_the_strokes_of_a_and_b():
    assert stroke(0).in_pixels(LINE) == "none"
    dashes = " ".join(f"{LINE * d:.3g}" for d in stroke(1).dashes)
    assert f"--stroke-a:none;--stroke-b:{dashes};" in look()
