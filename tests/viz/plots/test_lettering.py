"""A title is text: drawn as it is written, with no mathematics in it and nothing said on the screen."""

from __future__ import annotations

import io
import warnings
import xml.etree.ElementTree as ET

import pdfplumber
import pytest
from hypothesis import given
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.figure import Figure
from PIL import Image

import scenarios
from scenarios.ask.compare import compare
from scenarios.ask.reach import map_box
from scenarios.ask.run import run
from scenarios.ask.wants import address_text
from tests.helpers.cost.depth import deep
from tests.helpers.hostile.texts import odd_texts
from tests.helpers.scenario_edit import edited, tables
from viz.look.lettering import drawable
from viz.plots.compare import compare_figure
from viz.plots.lettering import plain
from viz.plots.lock import figure_bytes, lock_figure
from viz.plots.reach import map_figure

TITLES = ("50 $ sold_for 60 $ 漢🏁\u200b", r"$\frac{x <b>&")
LINES = (
    r"\$5 ^2_a \d{e}%",
    "👩\u200d🔧",
    "a\ufeff\u202ec",
    "\u200b",
    "",
    "שלום مرحبا",
    "a\x9b31mb\x85c",
    *TITLES,
)


def figure_of(kind, title):
    """A picture of one kind of a kart with this title."""
    changes = {"title": title, "sweep.positions": 5, "kit.clock_step_deg": 90.0}
    scenario = scenarios.from_mapping(edited(tables(), changes), "kart.toml")
    name, other = list(scenario.settings)[:2]
    if kind == "lock":
        return lock_figure(scenario.title, [run(scenario, name)])
    if kind == "compare":
        return compare_figure(compare(scenario, name, [other], ()), "reset")
    colour = address_text("wheel_drop_left_mm@30")
    return map_figure(map_box(scenario, name, colour, [other], (), "both", "reset", 3))


def title_in(content, suffix):
    """The title that a file says of itself."""
    if suffix == "pdf":
        with pdfplumber.open(io.BytesIO(content)) as opened:
            return opened.metadata.get("Title", "")
    if suffix == "png":
        return Image.open(io.BytesIO(content)).text["Title"]
    return ET.fromstring(content).findtext(".//{http://purl.org/dc/elements/1.1/}title")


def words_of(pdf):
    """The text of a PDF's first page without its spaces."""
    with pdfplumber.open(io.BytesIO(pdf)) as opened:
        return "".join(c["text"] for c in opened.pages[0].chars).replace(" ", "")


@pytest.mark.parametrize("kind", ["lock", "compare", "map"])
def test_a_title_is_drawn_as_it_is_written(kind):
    title = " ".join(reversed(TITLES))
    figure = figure_of(kind, title)
    figure.draw_without_rendering()
    figure.set_layout_engine("none")  # laid out once for all three files
    first, *others = figure.axes
    for axes in others:  # the title, and what has it where it is the axes' own
        axes.remove()
    pdf = figure_bytes(figure, "pdf")
    first.remove()  # in the other two the title alone
    svg, png = (figure_bytes(figure, suffix) for suffix in ("svg", "png"))
    assert drawable(title)[:30].replace(" ", "") in words_of(pdf)
    assert ET.fromstring(svg).findtext(".//{http://purl.org/dc/elements/1.1/}language") == "en"
    Image.open(io.BytesIO(png)).load()
    own = () if kind == "map" else ((svg, "svg"), (png, "png"))  # the map's went with its panel
    for content, suffix in ((pdf, "pdf"), *own):
        assert drawable(title)[:30] in title_in(content, suffix)


def titled(title, suffix):
    """A small plot with a title."""
    figure = Figure(figsize=(4.0, 1.0))
    FigureCanvasAgg(figure)
    figure.suptitle(plain(title, 60))
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        return figure_bytes(figure, suffix)


@pytest.mark.parametrize("line", LINES)
def test_what_stands_in_a_title_stands_in_the_file(line):
    drawn = drawable(line).replace(" ", "")
    assert sorted(words_of(titled(line, "pdf"))) == sorted(drawn)
    ET.fromstring(titled(line, "svg"))


@pytest.mark.parametrize("suffix", ["pdf", "svg", "png"])
@given(title=odd_texts)
@deep(12, 100)
def test_any_text_can_be_drawn(suffix, title):
    assert titled(title, suffix)
