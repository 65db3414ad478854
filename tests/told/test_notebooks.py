"""The notebooks run from top to bottom and show what is kept in them; what they show needs no connection."""

import ast
import base64
import importlib.util
import json
import re
import sys
import warnings
from pathlib import Path

import numpy as np
import pytest

import scenarios
from tests.helpers.browsing import launched
from viz import handout, notebook

ROOT = Path(__file__).parents[2]
FOLDER = ROOT / "notebooks"
NOTEBOOKS = sorted(FOLDER.glob("*.ipynb"))
LARGEST = 300_000
SMALL = (160, 96)


def refresh():
    spec = importlib.util.spec_from_file_location("refresh", FOLDER / "refresh.py")
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


def printed(cells):
    """The text of every output; pictures depend on the machine's fonts and graphics, text does not."""
    return [o["data"]["text/plain"] for c in cells if c["cell_type"] == "code" for o in c["outputs"]]


def joined(cells):
    return ["".join(text) for text in printed(cells)]


def kept(path):
    return json.loads(path.read_text(encoding="utf-8"))["cells"]


def test_there_are_notebooks():
    assert [p.name[:2] for p in NOTEBOOKS] == ["01", "02"]


def shown_here(path):
    """What each cell shows as text, run in this process: its last line's value, as a kernel shows it."""
    names = {}
    for cell in kept(path):
        if cell["cell_type"] == "code":
            lines = ast.parse("".join(cell["source"]))
            last = lines.body.pop()
            exec(compile(lines, path.name, "exec"), names)
            shown = eval(compile(ast.Expression(last.value), path.name, "eval"), names)
            yield repr(shown) if isinstance(shown, str) else shown._repr_mimebundle_()["text/plain"]


@pytest.mark.slow
@pytest.mark.parametrize("path", NOTEBOOKS, ids=lambda p: p.stem)
def test_it_shows_what_is_kept_in_it(path, monkeypatch):
    monkeypatch.chdir(FOLDER)
    monkeypatch.setattr(sys, "path", [*sys.path])
    assert list(shown_here(path)) == joined(kept(path)), "run: python notebooks/refresh.py"


@pytest.mark.long
@pytest.mark.parametrize("path", NOTEBOOKS, ids=lambda p: p.stem)
def test_it_runs_in_a_kernel_and_shows_what_is_kept_in_it(path, monkeypatch):
    monkeypatch.setenv("PYTHONPATH", str(ROOT))
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # what the kernel's own packages warn of is not ours to fix
        ran = refresh().run(path)
    assert joined(ran.cells) == joined(kept(path)), "run: python notebooks/refresh.py"


@pytest.mark.parametrize("path", NOTEBOOKS, ids=lambda p: p.stem)
def test_what_is_kept_is_whole_and_small(path):
    assert path.stat().st_size <= LARGEST
    code = [cell for cell in kept(path) if cell["cell_type"] == "code"]
    assert [cell["execution_count"] for cell in code] == list(range(1, len(code) + 1))
    assert all(o["output_type"] == "execute_result" for cell in code for o in cell["outputs"])
    text = path.read_text(encoding="utf-8")
    assert re.findall(r"https?:", re.sub(r"base64,[A-Za-z0-9+/=]+", "", text)) == []
    assert "/home/" not in text
    assert "/tmp/" not in text


def test_what_the_first_one_says_of_the_slope_is_so():
    """The sweep's slope at straight ahead is the sum of both terms, as printed."""
    [table] = [t for t in joined(kept(NOTEBOOKS[0])) if "caster x scrub" in t]
    rows = [line.split()[1:] for line in table.splitlines()[1:]]
    assert len(rows) == 3
    for measured, caster, inclination, total in (map(float, row) for row in rows):
        assert caster + inclination == pytest.approx(total, abs=0.0011)  # three printed digits
        assert measured == pytest.approx(total, abs=0.0011)
        assert caster > 3.0 * inclination


def test_what_the_first_one_says_of_caster_is_so():
    """More caster, more load off; after lift-off the axle's moment is gone and the clearance grows."""
    [table] = [t for t in joined(kept(NOTEBOOKS[0])) if "lift-off" in t]
    rows = [re.split(r"\s{2,}", line) for line in table.splitlines()[1:]]
    moments, clearances = ([float(row[i]) for row in rows] for i in (3, 2))
    torques, cambers = ([float(row[i]) for row in rows] for i in (5, 4))
    assert moments == sorted(moments)
    assert moments[-2:] == [0.0, 0.0]
    assert 0.0 < clearances[-2] < clearances[-1]
    assert torques == sorted(torques)
    assert cambers == sorted(cambers, reverse=True)


def test_the_step_of_18_degrees_is_the_workshops():
    """0.47 of camber and 0.07 of caster: common practice; 0.4635 and 0.0734 in a plain circle."""
    [table] = [t for t in joined(kept(NOTEBOOKS[1])) if "step in caster" in t]
    last = table.splitlines()[-1].split()
    assert last[0] == "180"
    assert abs(float(last[4])) == pytest.approx(0.4635, abs=0.02)  # the yoke's own lean turns the circle
    assert abs(float(last[3])) == pytest.approx(0.0734, abs=0.045)  # the nose moves with the wheels: 0.05


@pytest.fixture(scope="module")
def training():
    return scenarios.load()


@pytest.fixture(scope="module")
def offline(training, tmp_path_factory):
    """What a notebook exported to HTML holds of each output: its HTML or its picture, nothing else."""
    handed_out = handout.page(training, ["as-delivered", "more-caster"], stops=3, size=SMALL)
    bundles = [
        notebook.show(training, "as-delivered", stops=3, size=SMALL)._repr_mimebundle_(),
        notebook.framed(handed_out, "hand-out")._repr_mimebundle_(),
        notebook.curves(np.arange(3.0), {"a": np.arange(3.0)}, "x", "y", "t")._repr_mimebundle_(),
    ]
    picture = '<img src="data:image/png;base64,{}">'
    parts = [b.get("text/html") or picture.format(b["image/png"]) for b in bundles]
    path = tmp_path_factory.mktemp("export") / "exported.html"
    path.write_text(f"<!doctype html><meta charset=utf-8><body>{''.join(parts)}", encoding="utf-8")
    return path


@pytest.mark.browser
def test_an_export_shows_everything_without_a_connection(offline):
    with launched() as browser:
        page = browser.new_page()
        log, asked = [], []
        page.on("console", lambda m: log.append(m.text))
        page.on("request", lambda r: asked.append(r.url))
        page.goto(offline.as_uri())
        widths = page.evaluate("[...document.images].map(i => i.naturalWidth)")
        assert widths[:3] == [SMALL[0]] * 3
        assert widths[3] > 500
        inside = page.frame_locator("iframe[title=hand-out]")
        inside.locator("#less").click()
        assert inside.locator("#said").inner_text() == "straight ahead"
        assert inside.locator("#viewB").evaluate("i => i.naturalWidth") == SMALL[0]
        assert log == []
        assert {u for u in asked if not u.startswith(("data:", "about:"))} == {offline.as_uri()}


@pytest.mark.slow
def test_show_runs_from_left_lock_to_right_lock(training):
    html = notebook.show(training, "as-delivered", stops=3, size=SMALL).html
    assert re.findall(r"<figcaption>(.*?)</figcaption>", html) == [
        "handwheel 60.0° to the left",
        "straight ahead",
        "handwheel 60.0° to the right",
    ]
    assert len(set(re.findall(r'src="(.*?)"', html))) == 3


@pytest.mark.slow
def test_straight_pictures_show_each_setting_once(training):
    html = notebook.show_straight(training, "as-delivered", "more-caster", size=SMALL).html
    assert re.findall(r"<figcaption>(.*?)</figcaption>", html) == ["as-delivered", "more-caster"]
    assert len(set(re.findall(r'src="(.*?)"', html))) == 2


def test_a_table_is_text_and_html_alike():
    shown = notebook.table(("name", "mm"), [("a", "1.0"), ("<b>", "−10.0")])
    assert shown.text.splitlines() == ["name     mm", "a       1.0", "<b>   −10.0"]
    assert "&lt;b&gt;" in shown.html
    assert set(shown._repr_mimebundle_()) == {"text/plain", "text/html"}


def test_curves_are_a_png_in_few_colours():
    shown = notebook.curves(np.arange(9.0), {"a": np.arange(9.0), "b": np.ones(9)}, "x", "y", "title")
    bundle = shown._repr_mimebundle_()
    assert bundle["text/plain"] == "title: a, b"
    assert base64.b64decode(bundle["image/png"]).startswith(b"\x89PNG")
    assert len(shown.png) < 30_000
