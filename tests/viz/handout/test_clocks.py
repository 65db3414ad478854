"""Why a wheel goes down, in a hand-out: each setting's stub axle as the hand of a tilted clock."""

import base64
import io
import json
import re

import numpy as np
from PIL import Image

import scenarios
from viz import handout
from viz.handout.content import solve
from viz.handout.pictures import clocks
from viz.look.palette import LIGHT

NAMES = ("as-delivered", "more-caster")
SMALL = (320, 192)


def pixels(source):
    """A picture in the page as numbers (height, width, 3)."""
    return np.asarray(Image.open(io.BytesIO(base64.b64decode(source.split(",")[1]))).convert("RGB"), float)


def test_why_a_wheel_goes_down_is_shown_of_each_setting_with_its_words():
    scenario = scenarios.load()
    page = handout.page(scenario, NAMES, stops=3, size=SMALL)
    data = json.loads(re.search(r'<script type="application/json" id="data">(.*?)</script>', page)[1])
    assert page.count("is the hand of a clock that leans with the kingpin") == 1
    for slot in "AB":
        [light], [dark] = (data["clocks"][theme][slot] for theme in ("light", "dark"))
        assert f'<img id="clock{slot}"' in page
        assert light != dark
        assert pixels(light).mean() > 2.0 * pixels(dark).mean()
    anew = clocks(solve(scenario, NAMES, 3), SMALL, themes=(LIGHT,))["light"]
    assert np.abs(pixels(data["clocks"]["light"]["B"][0]) - pixels(anew["B"][0])).mean() < 0.5
    assert np.abs(pixels(anew["A"][0]) - pixels(anew["B"][0])).mean() > 0.5
