"""`lockarc measure`, `fit` and `axis`: from a blank to a kart that is known better, in a few lines."""

import json
from pathlib import Path

import pytest

import scenarios
from scenarios.gauged.blank import as_csv
from scenarios.gauged.file import readings_of
from tests.helpers.command import printed, refused
from tests.twins.read_karts import Truth, session
from viz.words.width import MOST_LINES, WIDTH

TRAINING = scenarios.load("training-kart")


@pytest.fixture(scope="module")
def readings(tmp_path_factory):
    """A file of readings of a kart that may be the training kart."""
    path = tmp_path_factory.mktemp("read") / "readings.csv"
    path.write_text(as_csv(Truth(TRAINING, session(), 3).readings, TRAINING.title))
    return str(path)


def answer(text):
    """The first answer: a few lines of no more than 80 columns."""
    lines = text.split("\n\n")[0].splitlines()
    assert max(map(len, lines)) <= WIDTH
    assert 4 <= len(lines) <= MOST_LINES
    return " ".join(line.strip() for line in lines)


def test_a_plan_is_told_in_a_few_lines_and_its_blank_is_read_again(capsys, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    frame = ("--know", "frame.torsional_stiffness_nm_per_deg")
    text = printed(capsys, "measure", *frame, "--minutes", "25", "--out", "blank.csv")
    assert "Known now: 170 ± 27 N·m/deg" in answer(text)
    assert "four scales with 10 mm under the front" in text
    assert text.splitlines()[-1].startswith("  blank.csv: ")
    blank = readings_of(Path("blank.csv"), TRAINING)
    Path("filled.csv").write_text(as_csv(Truth(TRAINING, blank, 2).readings, TRAINING.title))
    assert "They agree with one kart" in printed(capsys, "fit", "training-kart", "filled.csv")
    assert refused(capsys, "fit", "training-kart", "blank.csv").startswith(
        "lockarc: no reading has a value yet"
    )


@pytest.mark.parametrize("options", [(), ("--tables",), ("--minutes", "5"), ("--know", "kart.cog_height_mm")])
def test_what_to_read_next_fits_a_screen(capsys, options):
    assert "in this order:" in answer(printed(capsys, "measure", *options))


def test_sessions_are_taken_by_their_numbers(capsys, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    table = printed(capsys, "measure", "--tables")
    [row] = [
        line for line in table.splitlines() if "toe of both together" in line and line[:3].strip().isdigit()
    ]
    number = row.split()[0]
    assert "one.csv: 1 reading to take" in printed(capsys, "measure", "--take", number, "--out", "one.csv")
    assert "toe_mm,both" in Path("one.csv").read_text()
    assert "--take 199: there are" in refused(capsys, "measure", "--take", "199")


def test_a_fit_tells_what_is_surer_and_writes_it(capsys, readings, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    out = "fitted.toml"
    before = Path(readings).read_bytes()
    text = printed(capsys, "fit", "training-kart", readings, "--out", out)
    said = answer(text)
    assert "frame.torsional_stiffness_nm_per_deg" in said
    assert "They agree with one kart" in said
    assert "before" in said
    assert Path(readings).read_bytes() == before
    fitted = scenarios.load(out)
    assert fitted.kart.frame.stiffness != TRAINING.kart.frame.stiffness
    assert "more-caster against as-delivered" in printed(capsys, "compare", out, "--setting", "more-caster")


def test_the_example_readings_are_of_a_softer_kart(capsys):
    said = answer(printed(capsys, "fit", "training-kart"))
    assert "frame.torsional_stiffness_nm_per_deg 15" in said
    assert "They agree with one kart" in said


def test_a_fit_as_data_and_as_tables(capsys, readings):
    document = json.loads(printed(capsys, "fit", "training-kart", readings, "--json", "-"))
    assert len(document["readings"]) == len(session())
    assert len(document["numbers"]) == len(document["correlations"])
    assert document["do_not_fit"] == []
    text = printed(capsys, "fit", "training-kart", readings, "--tables")
    assert "kart.cog_height_mm" in text
    assert f"reading[{len(session())}]" in text
    assert max(map(len, text.splitlines())) <= WIDTH


def test_a_wrong_reading_is_named_with_what_it_may_be(capsys, readings, tmp_path):
    wrong = tmp_path / "wrong.csv"
    lines = Path(readings).read_text().splitlines()
    place = next(n for n, line in enumerate(lines) if line.startswith("camber_deg,left,as-delivered,30.0"))
    value = next(cell for cell in lines[place].split(",")[4:] if cell)
    wrong.write_text("\n".join(lines).replace(lines[place], lines[place].replace(value, str(-float(value)))))
    said = answer(printed(capsys, "fit", "training-kart", str(wrong)))
    assert "They do not agree with one kart" in said
    assert "camber left, handwheel +30 deg" in said
    assert "the sign turned round" in said


def test_sides_apart_and_numbers_chosen(capsys, readings):
    assert "Left and right differ by no more" in answer(
        printed(capsys, "fit", "training-kart", readings, "--apart")
    )
    frame = ("--number", "frame.torsional_stiffness_nm_per_deg", "--no-prior", "--others-exact")
    said = answer(printed(capsys, "fit", "training-kart", readings, *frame))
    assert "(was" not in said


def test_an_axis_in_a_few_lines(capsys, tmp_path):
    points = tmp_path / "points.csv"
    rows = ["position,point,x_mm,y_mm,z_mm", "0,a,1045,500,130", "0,b,1045,400,230", "1,a,1005,495,131"]
    rows += ["1,b,1035,398,230", "2,a,1085,494,129", "2,b,1053,399,229"]
    points.write_text("\n".join(rows))
    text = printed(capsys, "axis", "--points", str(points), "--within", "2")
    assert "Caster" in answer(text)


@pytest.mark.parametrize(
    ("arguments", "line"),
    [
        (("measure", "--minutes", "0"), "--minutes 0 min: must be at least 1 and at most 480 min"),
        (("measure", "--out", "blank.txt"), "--out blank.txt: the file name must end in one of .toml, .csv"),
        (("measure", "--know", "kart.cog"), "--know kart.cog: no uncertain number of training-kart"),
        (("fit", "training-kart", "none.csv"), "none.csv: no such file"),
        (("fit", "published-kart"), "published-kart: name a file of readings; only training-kart has"),
        (("fit", "training-kart", "none.csv", "--out", "kart.json"), "must end in .toml"),
        (("fit", "training-kart", "r.csv", "--out", "r.csv"), "must end in .toml"),
        (("axis", "--points", "none.csv"), "none.csv: no such file"),
        (("axis", "--points", "none.csv", "--within", "0"), "--within 0 mm: must be at least 0.001"),
    ],
)
def test_what_cannot_be_done_is_one_line(capsys, tmp_path, monkeypatch, arguments, line):
    monkeypatch.chdir(tmp_path)
    assert line in refused(capsys, *arguments)
    assert list(tmp_path.iterdir()) == []
