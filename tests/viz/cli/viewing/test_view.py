"""`lockarc view`: files, refusals, and what it asks of a machine that cannot draw."""

import pytest
from PIL import Image

import scenarios
from tests.helpers.command import refused
from viz import browser
from viz.canvas import gl, movie
from viz.cli import main as cli
from viz.handout.content import solve
from viz.scene.moment import seen_best
from viz.window import window


@pytest.fixture(autouse=True)
def _here(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    monkeypatch.delenv("DISPLAY", raising=False)
    monkeypatch.delenv("WAYLAND_DISPLAY", raising=False)


@pytest.fixture
def written(monkeypatch):
    """What movie.write was asked for, without drawing."""
    asked = {}

    def write(path, data, **options):
        asked.update(options, path=path, data=data)
        options["progress"](1, 2)
        return 2

    monkeypatch.setattr(movie, "write", write)
    return asked


@pytest.mark.slow
def test_a_picture_is_drawn_for_real(capsys, tmp_path):
    assert cli.main(["view", "--out", "kart.png", "--setting", "more-caster", "--at", "30"]) == 0
    assert capsys.readouterr() == ("kart.png: 1 frame\n", "")
    with Image.open(tmp_path / "kart.png") as image:
        assert image.size == movie.SIZE
        assert len(image.convert("RGB").resize((64, 36)).getcolors(4000)) > 100


def test_it_asks_for_the_setting_lock_view_and_theme_it_was_told(capsys, written):
    arguments = ["--both", "top=2@180", "--lock", "-20", "40", "--positions", "7", "--dark", "--whole"]
    assert cli.main(["view", *arguments, "--from-view", "top", "--out", "a.mp4"]) == 0
    assert capsys.readouterr().out == "a.mp4: 2 frames\n"
    assert written["data"].handwheel_deg == pytest.approx([-20, -10, 0, 10, 20, 30, 40])
    assert written["data"].name == "as given"
    assert (written["view"], written["theme"].name) == ("top", "dark")


def test_a_still_is_solved_at_the_very_place_asked_for(capsys, written):
    assert cli.main(["view", "--at", "-25.5", "--out", "a.PNG"]) == 0
    assert written["data"].handwheel_deg == pytest.approx([-25.5])
    assert cli.main(["view", "--out", "a.png"]) == 0
    assert written["data"].handwheel_deg == pytest.approx([0.0])


@pytest.fixture
def served(monkeypatch):
    """What browser.serve was asked for, without serving."""
    asked = []

    def serve(scenario, names, **options):
        options["say"]("open http://127.0.0.1:1/ in a browser; Ctrl+C ends")
        options["say"]("WARNING: everybody can reach it")
        asked.append((scenario, list(names), options))

    monkeypatch.setattr(browser, "serve", serve, raising=False)
    return asked


def test_without_a_display_it_serves_the_page(capsys, tmp_path, served, monkeypatch):
    monkeypatch.setattr(gl, "has_display", lambda: False)
    assert cli.main(["view", "--both", "top=2@180", "--against", "more-caster", "--stay"]) == 0
    out, err = capsys.readouterr()
    assert out == "open http://127.0.0.1:1/ in a browser; Ctrl+C ends\n"
    assert err == "lockarc: warning: everybody can reach it\n"
    [(scenario, names, options)] = served
    assert names == ["as given", "more-caster"]
    assert not options["open_browser"]
    assert options["reload"]().resolved == scenario.resolved
    assert (options["host"], options["port"], options["token"]) == ("127.0.0.1", 0, None)


def test_the_page_is_served_where_it_was_asked_for(served, monkeypatch):
    monkeypatch.setattr(gl, "has_display", lambda: True)
    asked = ["--browser", "--host", "0.0.0.0", "--port", "8080", "--token", "longenough"]
    asked += ["--case", "slow corner"]
    assert cli.main(["view", *asked]) == 0
    options = served[0][2]
    assert (options["host"], options["port"], options["token"]) == ("0.0.0.0", 8080, "longenough")
    assert options["open_browser"]
    assert options["case"] == "slow corner"


def test_a_setting_that_the_file_has_lost_meanwhile_is_told_on_the_page(tmp_path, served, monkeypatch):
    monkeypatch.setattr(gl, "has_display", lambda: True)
    file = scenarios.copy_builtin("training-kart", tmp_path / "k.toml")
    assert cli.main(["view", "--browser", str(file), "--setting", "more-caster"]) == 0
    file.write_text(file.read_text().replace("[setting.more-caster", "[setting.most-caster"))
    with pytest.raises(scenarios.ScenarioError, match="setting 'more-caster' is unknown"):
        served[0][2]["reload"]()


def test_an_open_host_needs_a_token(capsys):
    assert "needs --token" in refused(capsys, "view", "--browser", "--host", "0.0.0.0", "--stay")


def test_a_window_without_a_display_is_refused(capsys, monkeypatch):
    monkeypatch.setattr(gl, "has_display", lambda: False)
    assert "display" in refused(capsys, "view", "--window")


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (["--browser", "--exaggerate", "2"], "--exaggerate is for a window or a file"),
        (["--browser", "--at", "2"], "--at is for a window or a file"),
        (["--browser", "--out", "a.gif"], "--out and --browser exclude each other"),
        (["--window", "--browser"], "--window and --browser exclude each other"),
        (["--browser", "--port", "70000"], "at most 65535"),
        (["--out", "a.glb", "--exaggerate", "2"], "--exaggerate is not for a .glb"),
        (["--out", "a.glb", "--against", "less-caster"], "--against is not for a .glb"),
    ],
)
def test_what_does_not_go_together(capsys, tmp_path, arguments, said):
    assert said in refused(capsys, "view", *arguments)
    assert list(tmp_path.iterdir()) == []


def test_a_glb_is_the_kart_to_scale(capsys, tmp_path):
    assert cli.main(["view", "--out", "kart.glb", "--at", "20"]) == 0
    assert capsys.readouterr().out.startswith("kart.glb: ")
    assert (tmp_path / "kart.glb").read_bytes()[:4] == b"glTF"
    assert cli.main(["view", "--out", "kart.glb", "--from-view", "rock", "--case", "slow corner"]) == 0
    assert b"gap_post" in (tmp_path / "kart.glb").read_bytes()


def test_with_a_display_it_opens_the_window(monkeypatch):
    shown = []
    monkeypatch.setattr(gl, "has_display", lambda: True)
    monkeypatch.setattr(gl, "require", lambda window=False: None)
    monkeypatch.setattr(window, "show", lambda *arguments: shown.append(arguments))
    assert cli.main(["view", "--setting", "less-caster"]) == 0
    [(swept, resweep, name, theme, options)] = shown
    best = seen_best(scenarios.load(), ["less-caster"])
    assert (options.case, options.exaggeration, options.front_only) == (best.case, best.times, False)
    assert (name, theme.name, len(swept.handwheel)) == ("less-caster", "light", 61)
    assert (resweep(swept.setting).left.camber == swept.left.camber).all()


@pytest.mark.parametrize("against", [None, "camber-and-caster"])
def test_a_film_shows_the_load_case_and_scale_that_a_hand_out_opens_with(written, against):
    more = ["--against", against] if against else []
    assert cli.main(["view", "--out", "a.gif", *more]) == 0
    data, scenario = written["data"], scenarios.load()
    shown = solve(scenario, ["as-delivered", *([against] if against else [])])
    assert f"load case {shown.case.name}" in data.captions[0]
    times = shown.moment.times
    assert ("drawn to scale" if times == 1.0 else f"x{times:g}") in data.stated
    assert {"frame_rear", "tyre_rear_left"} <= {body.name for body in data.bodies}


def test_case_exaggeration_and_second_setting_are_those_asked_for(written):
    asked = [
        "--case",
        "slow corner",
        "--exaggerate",
        "2.5",
        "--against",
        "more-caster",
        "--from-view",
        "rear",
    ]
    assert cli.main(["view", "--out", "a.gif", *asked]) == 0
    data = written["data"]
    assert data.captions[0].splitlines()[1].endswith("slow corner")
    assert "x2.5" in data.stated
    assert "B, see-through: more-caster" in data.captions[0]
    assert written["view"] == "rear"


def test_the_front_end_alone_is_held_still(written):
    assert cli.main(["view", "--out", "a.gif", "--front-only"]) == 0
    names = {body.name for body in written["data"].bodies}
    assert "frame" in names
    assert not names & {"rear", "frame_rear", "tyre_rear_left"}
    assert "frame held still" in written["data"].legend
    assert cli.main(["view", "--out", "a.gif", "--from-view", "clock"]) == 0
    assert {"tilted_rim", "stub_left"} <= {body.name for body in written["data"].bodies}
    assert cli.main(["view", "--out", "a.gif", "--from-view", "clock", "--against", "more-caster"]) == 0
    assert "B tilted_rim" in {body.name for body in written["data"].bodies}
    assert cli.main(["view", "--out", "a.gif", "--whole"]) == 0
    assert "rear" in {body.name for body in written["data"].bodies}


def test_the_window_starts_with_case_and_second_setting(monkeypatch):
    shown = []
    monkeypatch.setattr(gl, "has_display", lambda: True)
    monkeypatch.setattr(gl, "require", lambda window=False: None)
    monkeypatch.setattr(window, "show", lambda *arguments: shown.append(arguments))
    asked = ["--case", "fast corner", "--against", "more-caster", "--exaggerate", "1", "--dark"]
    assert cli.main(["view", *asked]) == 0
    options = shown[0][-1]
    assert (options.cases[options.case].name, options.exaggeration) == ("fast corner", 1.0)
    assert options.second.title == "more-caster"
    assert cli.main(["view", "--front-only", "--from-view", "kingpin", "--at", "-20"]) == 0
    assert shown[1][-1].front_only
    assert (shown[1][-1].view, shown[1][-1].at_deg) == ("kingpin", -20.0)
    assert cli.main(["view", "--from-view", "clock", "--against", "more-caster"]) == 0
    assert not shown[2][-1].front_only, "behind the clock the kart stands whole"


def test_the_window_refuses_what_it_cannot_show(monkeypatch, capsys):
    monkeypatch.setattr(gl, "require", lambda window=False: None)
    assert "--whole is for a file" in refused(capsys, "view", "--window", "--whole")
    assert "beyond the mechanical stop" in refused(capsys, "view", "--window", "--at", "80")


def test_a_machine_that_cannot_draw_is_told_what_to_install(capsys, monkeypatch, tmp_path):
    monkeypatch.setattr(gl, "has_display", lambda: False)
    monkeypatch.setattr(gl, "egl_works", lambda: False)
    assert "apt install" in refused(capsys, "view", "--out", "a.gif")
    assert list(tmp_path.iterdir()) == []


def test_a_full_disk_is_one_line(capsys, monkeypatch):
    def write(*arguments, **options):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(movie, "write", write)
    assert "No space left" in refused(capsys, "view", "--out", "a.gif")


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (["--out", "x.avi"], "must end in one of .gif, .mp4, .webp, .png"),
        (["--out", "none/x.gif"], "does not exist"),
        (["--setting", "as-delivered", "--setting", "more-caster"], "view shows one setting, not 2"),
        (["--setting", "nope"], "setting 'nope' is unknown"),
        (["--from-view", "tpo"], "did you mean 'top'?"),
        (["--at", "70"], "--at 70 deg is not within the lock shown, -60 to 60 deg; widen it with --lock"),
        (["--at", "76"], "--at 76 deg is beyond the mechanical stop of ±75 deg"),
        (["--at", "10", "--out", "a.gif"], "--at is the place of a .png"),
        (["--at", "nan"], "nan is not a finite number"),
        (["--both", "rod=100"], "reach no lock position"),
        (["gone.toml"], "no such file"),
        (["--case", "slow"], "load case 'slow' is unknown"),
        (["--case", "slow corner", "--case", "standing"], "view shows one load case, not 2"),
        (["--exaggerate", "0.5"], "--exaggerate 0.5: must be at least 1 and at most 20"),
        (["--exaggerate", "nan"], "nan is not a finite number"),
        (["--against", "more-castor"], "did you mean 'more-caster'?"),
        (["--front-only", "--whole"], "exclude each other"),
        (["--front-only", "--case", "standing"], "--case is for a kart that stands"),
        (["--from-view", "clock", "--case", "standing"], "in a load case: leave --from-view clock out"),
        (["--whole", "--exaggerate", "2"], "--exaggerate is for a kart that stands"),
        (["--whole", "--against", "more-caster"], "--against is for a kart that stands"),
        (["--exaggerate", "20", "--case", "slow corner", "--at", "60"], "choose a smaller exaggeration"),
    ],
)
def test_refusals_are_one_line_and_write_nothing(capsys, tmp_path, arguments, said):
    out = [] if "--out" in arguments else ["--out", "a.png"]
    assert said in refused(capsys, "view", *arguments, *out)
    assert list(tmp_path.iterdir()) == []
