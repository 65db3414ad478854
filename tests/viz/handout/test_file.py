"""The hand-out as a file: one page, no network, the solver's numbers, whole or not at all."""

import base64
import io
import json
import re
from dataclasses import replace
from hashlib import sha256
from html import unescape

import numpy as np
import pytest
from PIL import Image

import scenarios
from kinematics.lock import sweep
from kinematics.parts import CornerSetting, LoadCase, Setting
from kinematics.standing.stand import inside_rear_load, stand
from viz import handout
from viz.handout import words as handout_words
from viz.handout.content import difference, lines, solve
from viz.handout.headline import groups
from viz.handout.pictures import pictures, stood
from viz.look.palette import LIGHT
from viz.page.shell import json_text
from viz.scene.attitude import WHEELS
from viz.words import cautions
from viz.words.numbers import PAGE, number

NAMES = ("as-delivered", "more-caster")
STOPS = 5
SMALL = (320, 192)


@pytest.fixture(scope="module")
def scenario():
    return scenarios.load()


@pytest.fixture(scope="module")
def page(scenario):
    return handout.page(scenario, NAMES, stops=STOPS, size=SMALL)


@pytest.fixture(scope="module")
def data(page):
    return json.loads(re.search(r'<script type="application/json" id="data">(.*?)</script>', page)[1])


def live_rows(page):
    table = re.search(r'<table id="live">(.*?)</table>', page, re.DOTALL)[1]
    rows = re.findall(r"<tr>(.*?)</tr>", table.split("<tbody>")[1])
    return [unescape(re.sub(r"<[^>]+>", "", re.search(r"<th.*?</th>", row)[0])) for row in rows]


def test_nothing_in_it_points_elsewhere(page):
    words = re.sub(r"base64,[A-Za-z0-9+/=]+", "", page)
    assert re.findall(r"https?:|//[a-z]|@import|url\(", words) == []
    assert set(re.findall(r'(?:src|href)="([a-z]+:)', page)) == {"data:"}


def test_its_policy_allows_its_own_style_and_script_alone(page):
    policy = re.search(r'http-equiv="Content-Security-Policy" content="([^"]+)"', page)[1]
    [style] = re.findall(r"<style>(.*?)</style>", page, re.DOTALL)
    [script] = re.findall(r"<script>(.*?)</script>", page, re.DOTALL)
    for kind, text in (("style", style), ("script", script)):
        digest = base64.b64encode(sha256(text.encode()).digest()).decode()
        assert f"{kind}-src 'sha256-{digest}'" in policy
    assert policy.startswith("default-src 'none'; img-src data:;")
    assert "unsafe" not in policy
    assert page.index("Content-Security-Policy") < page.index("<style>")
    assert re.findall(r'\s(?:on[a-z]+|style)="', page) == []


def test_numbers_of_every_stop_are_the_solvers(scenario, page, data):
    labels = live_rows(page)
    degrees = np.linspace(*scenario.handwheel_deg[:2], STOPS)
    case = scenario.load_cases[1]
    for slot, name in enumerate(NAMES):
        swept = sweep(scenario.kart, scenario.settings[name], np.radians(degrees))
        expected = {
            "Camber, left front °": [number(v, 2, hand=PAGE) for v in np.degrees(swept.left.camber)],
            "Steer, + left, right front °": [number(v, 1, hand=PAGE) for v in np.degrees(-swept.right.steer)],
            "Wheel drop, + down, right front mm": [number(v, 2, hand=PAGE) for v in swept.right.wheel_drop],
            f"Inside rear load: {case.name} N": [
                number(v, 0, hand=PAGE) for v in inside_rear_load(swept, stand(swept, case))
            ],
        }
        for label, numbers in expected.items():
            assert data["numbers"][labels.index(label)][slot] == numbers


def test_the_difference_is_that_of_the_exact_numbers(scenario, page, data):
    row = live_rows(page).index("Camber, left front °")
    degrees = np.radians(np.linspace(*scenario.handwheel_deg[:2], STOPS))
    a, b = (sweep(scenario.kart, scenario.settings[n], degrees).left.camber for n in NAMES)
    assert data["numbers"][row][2] == [difference(0.0, v, 2) for v in np.degrees(b - a)]


def test_the_headline_prints_the_solvers_figures(scenario):
    [straight, *_] = groups(solve(scenario, NAMES, STOPS))
    rows = {row.label: row.printed for row in straight.rows}
    casters = [float(np.degrees(sweep(scenario.kart, scenario.settings[n], 0.0).left.caster)) for n in NAMES]
    assert list(rows["Caster, both sides"].values()) == [
        number(casters[0], 2, hand=PAGE),
        number(casters[1], 2, hand=PAGE),
        difference(*casters, 2),
    ]


def test_an_uneven_kart_gets_a_row_for_each_side():
    bent = scenarios.load("bent-right-stub")
    labels = [row.label for row in groups(solve(bent, ["as-delivered"], 3))[0].rows]
    assert {"Camber, left", "Camber, right", "Caster, both sides"} <= set(labels)


def test_a_wheel_that_stays_down_says_so_and_one_unknown_says_nothing(scenario):
    found = {g.heading: g for g in groups(solve(scenario, ["as-delivered"], 3))}
    labels = {row.label: row.printed["A"] for row in found["Load case: gentle corner"].rows}
    assert labels["Inside rear leaves the road at handwheel, turning either way"] == "stays down"
    assert "Inside rear load at 20° of handwheel, turning right" in labels  # the driver sits to the left
    slow = {row.label: row.printed["A"] for row in found["Load case: slow corner"].rows}
    assert re.fullmatch(r"\d+\.\d", slow["Inside rear leaves the road at handwheel, turning left"])


@pytest.mark.parametrize("theme", ["light", "dark"])
@pytest.mark.parametrize("slot", ["A", "B"])
def test_a_different_picture_at_every_stop(data, theme, slot):
    strip = data["pictures"][theme][slot]
    assert len(set(strip)) == STOPS
    for source in strip:
        head, _, content = source.partition(",")
        assert head == "data:image/webp;base64"
        assert Image.open(io.BytesIO(base64.b64decode(content))).size == SMALL


def test_dark_pictures_are_darker(data):
    light, dark = (
        np.asarray(Image.open(io.BytesIO(base64.b64decode(data["pictures"][t]["A"][2].split(",")[1])))).mean()
        for t in ("light", "dark")
    )
    assert dark < 0.5 * light


def test_it_starts_where_the_settings_differ_most_and_runs_from_right_to_left_lock(scenario, data):
    found = solve(scenario, NAMES, STOPS).moment
    assert data["start"] == found.stop
    assert data["says"][data["start"]].endswith("to the left")
    assert data["at"] == pytest.approx(np.linspace(0.0, 1.0, STOPS))
    assert data["says"][0] == "handwheel 60.0° to the right"


def test_bushes_cautions_and_notes_stand_in_it(scenario, page):
    text = unescape(re.sub(r"<[^>]+>", " ", page))
    assert page.count("bush from above, forward up the page") == 4
    assert "B: top 2 deg @ 180, bottom 1 deg @ 0, tie rod re-set to toe −0.1 deg" in text
    for words in (*cautions.ALL, scenario.notes["more-caster"]):
        assert words in text


def test_one_setting_alone_has_no_b_and_no_difference(scenario):
    page = handout.page(scenario, ["less-caster"], stops=3, size=SMALL)
    assert 'id="viewA"' in page
    assert 'id="viewB"' not in page
    assert "B − A" not in page
    assert "Dashed" not in page


def test_hostile_names_stay_text(scenario):
    name = "</script><img src=x onerror=alert(1)>"
    resolved = json.loads(json.dumps(scenario.resolved))
    hostile = replace(
        scenario,
        title=name,
        settings={name: scenario.settings["as-delivered"]},
        notes={name: name},
        resolved={**resolved, "setting": {name: resolved["setting"]["as-delivered"]}},
    )
    page = handout.page(hostile, [name], stops=3, size=SMALL)
    assert "<img src=x" not in page
    assert page.count("</script>") == 2


def test_no_text_in_the_data_ends_the_script_early():
    text = json_text({"name": "</script><script>alert(1)</script>"})
    assert "<" not in text
    assert json.loads(text) == {"name": "</script><script>alert(1)</script>"}


def test_a_lock_position_out_of_reach_has_no_picture_and_says_binds(scenario):
    short = CornerSetting(rod_length=300.0)
    bound = replace(scenario, settings={"short": Setting(short, short)}, notes={}, resolved={
        **scenario.resolved, "setting": {"short": scenario.resolved["setting"]["as-delivered"]}
    })  # fmt: skip
    reach = sweep(bound.kart, bound.settings["short"], np.radians(np.linspace(-60.0, 60.0, STOPS))).reach
    assert 0 < reach.sum() < STOPS, "the test needs a rod that binds within the sweep"
    page = handout.page(bound, ["short"], stops=STOPS, size=SMALL)
    data = json.loads(re.search(r'id="data">(.*?)</script>', page)[1])
    assert [p is not None for p in data["pictures"]["light"]["A"]] == reach.tolist()
    camber = data["numbers"][live_rows(page).index("Camber, left front °")][0]
    assert "binds" in camber
    assert "nan" not in [text for line in data["numbers"] for row in line for text in row]


def test_a_number_that_is_missing_says_why(scenario):
    for g, words in ((2.02, {"on 2"}), (2.15, {"on 2", "tips"})):
        hard = replace(scenario, load_cases=(LoadCase("hard", lateral_g=g),))
        content = solve(hard, ["as-delivered"], 31)
        stands = content.stops["A"].cases[0].stands
        told = {line.label: line.printed["A"] for line in lines(content)}
        for label in ("Load, front left: hard", "Inside rear load: hard"):
            found = [text for text in told[label] if not text.replace(".", "").isdigit()]
            assert set(found) == words
            assert found == [word for word in stands if word != "stands"]
    assert any("“on 2”" in note for note in handout_words.notes(content))


def test_writing_tells_its_progress_and_its_size(scenario, tmp_path):
    seen = []
    path = tmp_path / "sheet.html"
    size = handout.write(path, scenario, NAMES, stops=3, size=SMALL, progress=lambda *n: seen.append(n))
    assert path.stat().st_size == size
    assert seen == [(i, 12) for i in range(1, 13)]


def test_an_interrupted_export_leaves_the_older_file_alone(scenario, tmp_path):
    path = tmp_path / "sheet.html"
    path.write_text("older")

    def stop(done, total):
        if done == 2:
            raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        handout.write(path, scenario, NAMES, stops=3, size=SMALL, progress=stop)
    assert [p.name for p in tmp_path.iterdir()] == ["sheet.html"]
    assert path.read_text() == "older"


@pytest.mark.parametrize(
    ("names", "stops", "message"),
    [
        ((), 5, "one or two settings, not 0"),
        (NAMES + NAMES, 5, "one or two settings, not 4"),
        (("as-deliverd",), 5, "setting 'as-deliverd' is unknown"),
        (NAMES, 2, "3 to 121 slider stops, not 2"),
    ],
)
def test_what_cannot_be_shown_is_refused(scenario, tmp_path, names, stops, message):
    with pytest.raises(ValueError, match=message):
        handout.write(tmp_path / "sheet.html", scenario, names, stops=stops)
    assert list(tmp_path.iterdir()) == []


def test_another_suffix_or_view_is_refused(scenario, tmp_path):
    with pytest.raises(ValueError, match=r"must end in \.html"):
        handout.write(tmp_path / "sheet.pdf", scenario, NAMES)
    with pytest.raises(ValueError, match="no view 'sideways'"):
        handout.page(scenario, NAMES, stops=3, view="sideways")


def pixels(source):
    """A picture in the page as numbers (height, width, 3)."""
    return np.asarray(Image.open(io.BytesIO(base64.b64decode(source.split(",")[1]))).convert("RGB"), float)


def test_the_kart_in_the_pictures_stands_in_the_load_case_that_is_named(scenario, page, data):
    degrees = np.radians(np.linspace(*scenario.handwheel_deg[:2], STOPS))
    case = solve(scenario, NAMES, STOPS).case
    drawn = stood(solve(scenario, NAMES, STOPS), "B", "overview")
    loads = stand(sweep(scenario.kart, scenario.settings[NAMES[1]], degrees), case).loads
    labels = {label.text: label.texts for label in drawn.labels}
    rows = live_rows(page)
    for i, wheel in enumerate(WHEELS):
        newton = [f"{n:.0f}" for n in loads[:, i]]
        assert [text.split("\n")[1].split(" N")[0] for text in labels[wheel]] == newton
        assert data["numbers"][rows.index(f"Load, {wheel}: {case.name} N")][1] == newton
        assert drawn.body(f"shaft_{wheel.replace(' ', '_')}")
    drawn_anew = pictures(solve(scenario, NAMES, STOPS), SMALL, themes=(LIGHT,))["light"]["B"]
    for shown_there, anew in zip(data["pictures"]["light"]["B"], drawn_anew, strict=True):
        assert np.abs(pixels(shown_there) - pixels(anew)).mean() < 0.5
    text = unescape(re.sub(r"<[^>]+>", " ", page))
    assert f"stands in the load case “{case.name}” on a level road, its twist, roll" in text
    assert "drawn 3 times as large, with the true number beside it" in text
    assert "held still, as in the pictures" not in text


def test_titles_and_notes_are_text(scenario):
    inputs = {**scenario.resolved, "title": "50 $ <b> 漢\u202e\x9b", "sweep": {"positions": 3}}
    inputs["setting"] = {"one": {"note": "\x00\x1b[2J $x_2^3 </script> 🏁"}}
    inputs["default_setting"] = "one"
    odd = scenarios.from_mapping(inputs, "odd.toml", "odd")
    text = handout.page(odd, ["one"], stops=STOPS, size=(64, 64))
    assert not re.search("[\x00-\x08\x0b-\x1f\x7f-\x9f]", text)
    assert "50 $ <b> 漢\u202e\ufffd" in unescape(text)
    assert "\ufffd\ufffd[2J $x_2^3 </script> 🏁" in unescape(text)
