"""`lockarc view`: files, refusals, and what it asks of a machine that cannot draw."""

import pytest
from PIL import Image

from tests.test_cli import refused
from viz import cli, gl, movie, window


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


def test_without_a_display_it_writes_a_film_and_not_over_an_old_one(capsys, tmp_path, written, monkeypatch):
    monkeypatch.setattr(gl, "has_display", lambda: False)
    assert cli.main(["view"]) == 0
    assert written["path"] == "training-kart-as-delivered.gif"
    capsys.readouterr()
    (tmp_path / written["path"]).write_text("mine")
    assert "is there already: name a file with --out" in refused(capsys, "view")


def test_with_a_display_it_opens_the_window(monkeypatch):
    shown = []
    monkeypatch.setattr(gl, "has_display", lambda: True)
    monkeypatch.setattr(gl, "require", lambda window=False: None)
    monkeypatch.setattr(window, "show", lambda *arguments: shown.append(arguments))
    assert cli.main(["view", "--setting", "less-caster"]) == 0
    [(swept, resweep, name, theme)] = shown
    assert (name, theme.name, len(swept.handwheel)) == ("less-caster", "light", 61)
    assert (resweep(swept.setting).left.camber == swept.left.camber).all()


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
        (["--at", "76"], "--at 76 deg is beyond the mechanical stop of ±75 deg"),
        (["--at", "10", "--out", "a.gif"], "--at is the place of a .png"),
        (["--at", "nan"], "nan is not a finite number"),
        (["--both", "rod=100"], "reach no lock position"),
        (["gone.toml"], "no such file"),
    ],
)
def test_refusals_are_one_line_and_write_nothing(capsys, tmp_path, arguments, said):
    out = [] if "--out" in arguments else ["--out", "a.png"]
    assert said in refused(capsys, "view", *arguments, *out)
    assert list(tmp_path.iterdir()) == []
