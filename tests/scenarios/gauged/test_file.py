"""Readings in files: what is written is read as it is, TOML or CSV; what is wrong is told in one line."""

from pathlib import Path

import pytest

import scenarios
from scenarios.errors import LONGEST, ScenarioError
from scenarios.gauged.blank import as_csv, as_toml
from scenarios.gauged.candidates import sessions
from scenarios.gauged.file import COLUMNS, readings_of
from scenarios.gauged.record import Hung, Reading
from scenarios.gauged.space import uncertain_inputs

TRAINING = scenarios.load("training-kart")
WRITE = {".toml": as_toml, ".csv": as_csv}
ODD = [
    Reading("scale_kg", "rear_left", "more-caster", 44.25, 0.3, -30.0, note='say "hi", then $5; C:\\x'),
    Reading("camber_deg", "left", "as-delivered", -1.5, plate=("right", -20.0)),
    Reading("steer_deg", "right", "as-delivered", 10.0, handwheel_deg=25.0, held=True),
    Reading("height_mm", "front_left", "as-delivered", 128.0, hung=Hung(20.0, (1045.0, -300.0, 150.0))),
    Reading("scale_kg", "front_right", "as-delivered", 30.0, under_mm=(0.0, 0.0, 12.5, 0.0), lateral_g=0.3),
    Reading("number", "kart.cog_height_mm", "as-delivered", 266.0, 10.0),
    Reading("number", "right.stub.arm_end_mm y", "as-delivered", 353.0),
    Reading("gap_mm", "rear_left", "as-delivered"),
]


def without_line(readings):
    return [{**vars(one), "line": ""} for one in readings]


@pytest.mark.parametrize("suffix", WRITE)
def test_what_is_written_is_read_as_it_is(tmp_path, suffix):
    parts = sessions(TRAINING, "as-delivered", uncertain_inputs(TRAINING.resolved))
    every = [one for part in parts for one in part.readings]
    for readings in (ODD, every):
        path = tmp_path / f"readings{suffix}"
        path.write_text(WRITE[suffix](readings, TRAINING.title), encoding="utf-8")
        assert without_line(readings_of(path, TRAINING)) == without_line(readings)
        assert readings_of(path, TRAINING)[0].line == "reading[1]"


@pytest.mark.parametrize("suffix", WRITE)
def test_a_blank_filled_in_by_hand_is_read(tmp_path, suffix):
    path, blank = (
        tmp_path / f"blank{suffix}",
        [Reading("gap_mm", "rear_left", "as-delivered", handwheel_deg=40.0)],
    )
    text = WRITE[suffix](blank, TRAINING.title)
    was, now = {".toml": ("# value = ", "value = 7.5"), ".csv": ("40.0,,", "40.0,7.5,")}[suffix]
    path.write_text(text.replace(was, now))
    [one] = readings_of(path, TRAINING)
    assert one.value == 7.5


HEAD = "what,where,setting,handwheel_deg,value\n"
REAR = "scale_kg,rear_left,as-delivered"
LINES = [
    (
        "scale_n,rear_left,as-delivered,0,450",
        "reading[1].what = 'scale_n': no such kind of reading; did you mean 'scale_kg'?",
    ),
    (
        "scale_kg,rear_lft,as-delivered,0,45",
        "reading[1].where = 'rear_lft': scale_kg is not read there; did you mean 'rear_left'?",
    ),
    (
        "scale_kg,rear_left,as-deliverd,0,45",
        "reading[1].setting = 'as-deliverd': no such setting; did you mean 'as-delivered'?",
    ),
    (f"{REAR},0,450", "reading[1].value = 450: scale_kg must be at least 0 and at most 300 kg"),
    (f'{REAR},0,"45,5"', "reading[1].value = '45,5': must be a number"),
    (f'{REAR},0,"45,5"', "write a point: 45.5"),
    (f"{REAR},400,45", "reading[1].handwheel_deg = 400 deg: must be at least -180 and at most 180 deg"),
    ("number,kart.cog_heigth_mm,as-delivered,,270", "did you mean 'kart.cog_height_mm'?"),
    (f"{REAR},0", "reading[1] has 4 cells, the first line 5"),
]


@pytest.mark.parametrize(("row", "line"), LINES)
def test_what_is_wrong_is_told_in_a_line(tmp_path, row, line):
    path = tmp_path / "r.csv"
    path.write_text(HEAD + row + "\n")
    assert line in refusal(path)


def refusal(path: Path) -> str:
    with pytest.raises(ScenarioError) as caught:
        readings_of(path, TRAINING)
    said = str(caught.value)
    assert said.startswith(f"{path}: ")
    assert len(said) <= LONGEST
    return said


@pytest.mark.parametrize(
    ("text", "line"),
    [
        ("wath,where\nscale_kg,rear_left\n", "column 'wath' is unknown; did you mean 'what'?"),
        ("", "holds no reading"),
        (HEAD + 'scale_kg,"rear_left', "broken CSV"),
        ("what,where,left_plate_deg,right_plate_deg\nsteer_deg,left,5,6\n", "one of handwheel, left plate,"),
        ("what,where,weight_kg\nscale_kg,rear_left,20\n", "needs weight_x_mm, weight_y_mm and weight_z_mm"),
        ("what,where,weight_x_mm\nscale_kg,rear_left,20\n", "missing, needed in kg where a place is given"),
        ("what,where,frame_held\nscale_kg,rear_left,yes\n", "scale_kg is read of a kart that stands"),
        (HEAD + "scale_kg,rear_left,as-delivered,0,1\n" * 401, "must have at most 400 entries, not 401"),
        (HEAD + "x" * 300_000, "larger than 250000 bytes"),
    ],
)
def test_a_broken_file_is_told_in_a_line(tmp_path, text, line):
    path = tmp_path / "r.csv"
    path.write_text(text)
    assert line in refusal(path)


def test_a_file_that_is_not_there_and_toml_that_is_broken(tmp_path):
    assert "no such file" in refusal(tmp_path / "none.csv")
    path = tmp_path / "r.toml"
    path.write_text("[[reading]\n")
    assert "broken TOML" in refusal(path)
    path.write_text('[[reading]]\nwhat = "scale_kg"\nwhere = "rear_left"\nunder_frnt_left_mm = 3.0\n')
    assert "reading[1].under_frnt_left_mm: unknown key; did you mean 'under_front_left_mm'?" in refusal(path)


def test_every_column_is_a_key_of_the_record_as_words():
    assert COLUMNS[:3] == ("what", "where", "setting")
    assert ODD[3].words == "height front left, straight ahead, 20 kg hung on"
    assert ODD[4].words == "scale front right, straight ahead, 12.5 mm under rear left, 0.3 g"
    assert ODD[1].words == "camber left, right plate -20 deg"
