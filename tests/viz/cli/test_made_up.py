"""A figure is one row: made up and added to the registry, every command and document has it by its name."""

import csv
import io
import json
from dataclasses import dataclass

import numpy as np
import pytest

import scenarios
from kinematics.figures import catalog
from kinematics.figures.figure import FRONT, MM, Figure, N, Of
from kinematics.lock import sweep
from kinematics.parts import LoadCase, Setting
from kinematics.stance.equilibrium import FL, FR, RL, RR
from kinematics.standing.stand import stand
from tests.helpers.command import printed, refused
from viz.tables import cases, lock
from viz.words.numbers import number

CASE = "slow corner"
HALF_SCRUB = Figure(
    "half_scrub_{side}",
    MM,
    "half of the scrub",
    "+ axis inboard",
    "half scrub",
    2,
    0.25,
    lambda s, side: 0.5 * s.corner(side).scrub,
    whose="; {side} front",
    sides=FRONT,
)
FRONT_LOAD = Figure(
    "front_load",
    N,
    "load on both front wheels",
    "",
    "front",
    0,
    4.0,
    lambda s, _: s.stance.loads[..., FL] + s.stance.loads[..., FR],
    of=Of.CASE,
)
MOST_LOAD = Figure(
    "most_inside_rear_load_{side}",
    N,
    "most load on the inside rear between straight ahead and the stop, turning {side}",
    "",
    "most",
    0,
    5.0,
    lambda s, way: s.part(Of.SCAN, way).load.max(axis=-1),
    of=Of.SCAN,
    sides=FRONT,
)
NAMES = {
    "columns": ["half_scrub_left_mm", "half_scrub_right_mm"],
    "case_columns": ["front_load_n"],
    "case_figures": ["most_inside_rear_load_left_n", "most_inside_rear_load_right_n"],
}


@pytest.fixture(autouse=True)
def registered(monkeypatch):
    monkeypatch.setattr(catalog, "THROUGH_LOCK", (*catalog.THROUGH_LOCK, HALF_SCRUB))
    monkeypatch.setattr(catalog, "IN_CASE", (*catalog.IN_CASE, FRONT_LOAD))
    monkeypatch.setattr(catalog, "OF_TURN", (*catalog.OF_TURN, MOST_LOAD))


@dataclass(frozen=True)
class Truth:
    """The made-up figures of a setting by the plain solver, at handwheel angles in deg."""

    setting: Setting
    handwheel_deg: list[float]

    def _swept(self, angles):
        return sweep(scenarios.load().kart, self.setting, np.radians(angles))

    def half_scrub(self, side):
        return 0.5 * getattr(self._swept(self.handwheel_deg), side).scrub

    def front_load(self, case: LoadCase):
        loads = stand(self._swept(self.handwheel_deg), case).loads
        return loads[:, FL] + loads[:, FR]

    def most_load(self, case: LoadCase, side):
        stop = np.degrees(scenarios.load().kart.column.stop)
        way, rear = (1.0, RL) if side == "left" else (-1.0, RR)
        return stand(self._swept(way * np.linspace(0.0, stop, 38)), case, way).loads[:, rear].max()


def of_case(name):
    [case] = [case for case in scenarios.load().load_cases if case.name == name]
    return case


def test_it_is_listed_with_its_unit_and_meaning(capsys):
    text = printed(capsys, "columns")
    listed = json.loads(printed(capsys, "columns", "--json", "-"))
    for group, names in NAMES.items():
        assert [entry["name"] for entry in listed[group]][-len(names) :] == names
        for name in names:
            [line] = [line for line in text.splitlines() if line.split()[:1] == [name]]
            assert line.split()[1] == {"mm": "mm", "n": "N"}[name.rpartition("_")[2]]
    assert listed["columns"][-1] == {
        "name": "half_scrub_right_mm",
        "unit": "mm",
        "meaning": "half of the scrub, + axis inboard; right front",
    }


def test_a_sweep_has_it_in_every_document(capsys):
    few = ("--lock", "-30", "30", "--positions", "3")
    document = json.loads(printed(capsys, "sweep", *few, "--json", "-"))
    rows = list(csv.DictReader(io.StringIO(printed(capsys, "sweep", *few, "--csv", "-"))))
    [told] = document["settings"]
    truth = Truth(scenarios.load().settings[told["name"]], [-30.0, 0.0, 30.0])
    for name, side in zip(NAMES["columns"], FRONT, strict=True):
        assert told["columns"][name] == pytest.approx(truth.half_scrub(side).tolist(), abs=1e-9)
        assert [float(row[name]) for row in rows] == told["columns"][name]
    for case in told["cases"]:
        load = truth.front_load(of_case(case["name"])).tolist()
        assert case["columns"]["front_load_n"] == pytest.approx(load, abs=1e-6)
        assert [float(row[f"{case['name']}.front_load_n"]) for row in rows] == case["columns"]["front_load_n"]
        for name, side in zip(NAMES["case_figures"], FRONT, strict=True):
            most = truth.most_load(of_case(case["name"]), side)
            assert case["headline"][name] == pytest.approx(most, abs=1e-6)


def test_named_in_a_tables_list_it_stands_in_the_table(capsys, monkeypatch):
    monkeypatch.setattr(lock, "GEOMETRY", (*lock.GEOMETRY, lock.heading(HALF_SCRUB)))
    monkeypatch.setattr(lock, "STANDING", (*lock.STANDING, lock.heading(FRONT_LOAD)))
    monkeypatch.setattr(cases, "FIGURES", (*cases.FIGURES, MOST_LOAD))
    text = printed(
        capsys, "sweep", "--lock", "-30", "30", "--positions", "3", "--case", CASE, "--tables", "--wide"
    )
    truth, case = Truth(scenarios.load().settings["as-delivered"], [-30.0, 0.0, 30.0]), of_case(CASE)
    blocks = [block.splitlines() for block in text.split("\n\n")]
    _, geometry, summary, standing = (block for block in blocks if "hand-" in "".join(block) and block[3:])
    sides = [[number(value, 2) for value in truth.half_scrub(side)] for side in FRONT]
    assert [row.split()[-2:] for row in geometry[-3:]] == [list(pair) for pair in zip(*sides, strict=True)]
    assert "half scrub" in geometry[0]
    loads = [number(value, 0) for value in truth.front_load(case)]
    assert [row.split()[-1] for row in standing[-3:]] == loads
    turning = {tuple(row.split()[:3]): row.split()[-1] for row in summary}
    most = {side: number(truth.most_load(case, side), 0) for side in FRONT}
    assert {side: turning[*CASE.split(), side] for side in FRONT} == most


def test_a_comparison_tells_what_becomes_of_it(capsys):
    few = ("--setting", "more-caster", "--lock", "-30", "30", "--positions", "3", "--case", CASE, "--tables")
    [entry] = json.loads(printed(capsys, "compare", *few, "--json", "-"))["settings"]
    told = entry["left_as"]["reset"]
    curve, load = told["columns"]["half_scrub_left_mm"], told["cases"][0]["columns"]["front_load_n"]
    truth = Truth(scenarios.load().settings["as-delivered"], [-30.0, 0.0, 30.0])
    before = truth.half_scrub("left"), truth.front_load(of_case(CASE))
    for found, base in zip((curve, load), before, strict=True):
        assert np.subtract(found["now"], found["change"]) == pytest.approx(base, abs=1e-6)
        assert any(abs(change) > 0.01 for change in found["change"])
    assert told["cases"][0]["figures"]["most_inside_rear_load_left_n"]["change"] != 0.0


def test_it_can_be_aimed_at(capsys, coarse):
    wants = ("half_scrub_left_mm@20=now+1", f"front_load_n@20@{CASE}=now", "half_scrub_right_mm@-20=..60")
    wants += (f"most_inside_rear_load_left_n@{CASE}=..now",)
    options = [part for want in wants for part in ("--want", want)]
    document = json.loads(printed(capsys, "choose", coarse, *options, "--limit", "3", "--json", "-"))
    targets = document["targets"]
    assert [target["figure"] for target in targets] == [want.partition("@")[0] for want in wants]
    assert [target["unit"] for target in targets] == ["mm", "N", "mm", "N"]
    assert len(document["candidates"]) >= 3
    for candidate in [document["present"], *document["candidates"]]:
        settings = {**document["inputs"]["setting"], "tried": candidate["setting"]}
        tried = scenarios.from_mapping({**document["inputs"], "setting": settings}, "again").settings["tried"]
        truth = Truth(tried, [-20.0, 20.0])
        figures = [
            truth.half_scrub("left")[1],
            truth.front_load(of_case(CASE))[1],
            truth.half_scrub("right")[0],
            truth.most_load(of_case(CASE), "left"),
        ]
        assert candidate["values"] == pytest.approx(figures, abs=1e-4)
    assert "half_scrub_left_mm at handwheel 20 deg" in printed(capsys, "choose", coarse, *options)


def test_it_colours_a_map(capsys, coarse, tmp_path):
    for name, unit in (("half_scrub_left_mm@20", "mm"), (f"front_load_n@20@{CASE}", "N")):
        out = tmp_path / "points.csv"
        document = json.loads(
            printed(capsys, "map", coarse, "--colour", name, "--csv", str(out), "--json", "-")
        )
        assert document["figure"]["unit"] == unit
        rows = list(csv.DictReader(io.StringIO(out.read_text())))
        [head] = [heading for heading in rows[0] if heading.startswith(name.partition("@")[0])]
        assert [float(row[head]) for row in rows] == document["points"]["value"]
        for mark in document["marks"]:
            truth = Truth(scenarios.load().settings[mark["name"]], [20.0])
            found = truth.half_scrub("left") if unit == "mm" else truth.front_load(of_case(CASE))
            assert mark["value"] == pytest.approx(float(found[0]), abs=1e-6)


def test_a_name_near_it_is_pointed_at_it(capsys, coarse):
    said = refused(capsys, "choose", coarse, "--want", "half_scrubb_left_mm@20=1")
    assert "did you mean 'half_scrub_left_mm'" in said
