"""One usual step of every adjustment: what the trade says of its direction holds on three unlike karts."""

from __future__ import annotations

import json
import re
from dataclasses import fields, is_dataclass, replace

import pytest

import scenarios
from kinematics.figures.catalog import address
from kinematics.figures.read import read
from kinematics.parts import Setting
from scenarios.ask.answer import TORQUE
from scenarios.ask.steps import STEPS, UsualStep, stepped
from scenarios.documents.chunks import json_bytes
from scenarios.documents.steps import document
from scenarios.errors import Refusal
from tests.helpers.command import printed, refused
from tests.helpers.scenario_edit import edited, tables
from viz.words.width import MOST_LINES

BY_NAME = {step.name: step for step in STEPS}
GENTLE = {"load_case": [{"name": "gentle corner", "lateral_g": 0.3}]}
STIFF = {
    **GENTLE,
    "frame.torsional_stiffness_nm_per_deg": 240.0,
    "kart.cog_height_mm": 310.0,
    "yoke.caster_deg": 17.0,
    "rear.track_mm": 1120.0,
}
SOFT = {
    **GENTLE,
    "frame.torsional_stiffness_nm_per_deg": 130.0,
    "frame.front_compliance_share": 0.8,
    "kart.cog_height_mm": 240.0,
    "front.stiffness_n_per_mm": 80.0,
    "yoke.caster_deg": 9.0,
}
KARTS = {
    name: scenarios.from_mapping(edited(tables(), changes), f"{name}.toml", name)
    for name, changes in (("usual", GENTLE), ("stiff", STIFF), ("soft", SOFT))
}
PRACTICE = {
    "top bush rearward": ("load", -1),
    "front hubs out": ("load", -1),
    "rear track": ("load", +1),
    "frame stiffer": ("load", -1),
    "seat up": ("load", -1),
    "seat forward": ("load", -1),
    "ballast on seat": ("load", +1),
    "spade holes out": ("load", -1),
    "arm holes out": ("load", +1),
    "front tyres stiffer": ("load", -1),
    "rear tyres stiffer": ("load", -1),
    "top bush inboard": ("camber", -1),
}
"""Which way each step moves the inside rear's load, or the camber of the outside front, in a gentle corner:
common practice, no source (more caster, wider hubs, a stiffer frame, a higher driver free the inside rear; a
wider rear holds it down; a quicker steering frees it sooner)."""


@pytest.fixture(scope="module", params=list(KARTS))
def found(request):
    return stepped(KARTS[request.param], "as-delivered", at_deg=25.0, count=2)


@pytest.mark.parametrize("name", PRACTICE)
def test_a_step_goes_the_way_that_the_trade_says(found, name):
    short, way = PRACTICE[name]
    [setting] = [key for key, step in found.steps.items() if step.name == name]
    assert found.worth(setting)[short].value * way > 0.0


def test_more_caster_and_quicker_steering_are_heavier_to_hold(found):
    for name in ("top bush rearward", "spade holes out"):
        [setting] = [key for key, step in found.steps.items() if step.name == name]
        assert found.worth(setting)[TORQUE].value > 0.0


def test_a_step_is_the_change_it_names_and_each_has_words_that_fit():
    scenario, base = KARTS["usual"], KARTS["usual"].settings["as-delivered"]
    made = {step.name: step.change(base, scenario) for step in STEPS}
    assert made["rear track"].chassis.rear_track == 10.0
    assert made["front hubs out"].left.hub_spacer == made["front hubs out"].right.hub_spacer == 5.0
    assert made["rear axle up"].rear_axle_shift == 5.0
    assert made["frame stiffer"].chassis.frame_stiffness == 1.1
    assert made["top bush rearward"].left.top_clock == pytest.approx(3.14159265, abs=1e-8)
    settings, asked = (base, made["toe-in a wheel"]), [address("toe_left_deg@0")]
    toe = [read(scenario.kart, setting, asked, {})[0][0] for setting in settings]
    assert float(toe[1] - toe[0]) == pytest.approx(0.1, abs=1e-6)
    assert all(len(step.words) <= 27 for step in STEPS)


def test_taken_twice_a_step_adds_to_what_is_there():
    scenario = KARTS["usual"]
    setting = scenario.settings["as-delivered"]
    for _ in range(2):
        for step in STEPS:
            setting = step.change(setting, scenario)
    assert isinstance(setting, Setting)
    assert setting.chassis.rear_track == 20.0
    assert setting.chassis.rear_stiffness == pytest.approx(1.2)
    assert setting.left.spade_hole == 10.0


def test_how_many_of_one_stand_for_another():
    """A step of twice the size stands for one half of it, in the linear range."""
    hub = BY_NAME["front hubs out"]
    double = UsualStep("twice", 10.0, "mm", 10, lambda s, k: hub.change(hub.change(s, k), k))
    found = stepped(KARTS["usual"], "as-delivered", at_deg=25.0, steps=(hub, double))
    assert found.instead("2", "1") == pytest.approx(0.5, abs=0.02)
    assert found.instead("1", "1") == 1.0


def test_the_document_is_strict_and_the_table_narrow(capsys):
    found = stepped(KARTS["usual"], "as-delivered")
    text = json_bytes(document(found)).decode()
    made = json.loads(text, parse_constant=pytest.fail)
    assert [one["step"] for one in made["steps"]] == [step.name for step in STEPS]
    lines = printed(capsys, "steps", "--at", "25", "--tables").splitlines()
    assert max(map(len, lines)) <= 80
    lines = lines[lines.index("") :]
    assert all(any(step.words in line for line in lines) for step in STEPS)
    assert "Not modelled" in "\n".join(lines)
    [toe] = [line for line in lines if line.startswith("toe-in a wheel")]
    assert toe.split()[-1] == "·"  # what does nothing to the inside rear replaces no bush


@pytest.mark.parametrize("asked", [(), ("--case", "slow corner"), ("bent-right-stub",), ("published-kart",)])
def test_it_is_answered_in_a_dozen_lines_largest_first(capsys, asked):
    *lines, gap, hint = printed(capsys, "steps", *asked).splitlines()
    assert gap == ""
    assert "--tables" in hint
    assert 6 <= len(lines) <= MOST_LINES
    assert max(map(len, lines)) <= 80
    rows = [line for line in lines if line.endswith(" min.")]
    sizes = [float(re.search(r": (?:leaves the road )?([\d.]+)", row)[1]) for row in rows]
    assert sizes == sorted(sizes, reverse=True)
    [front] = [line for line in lines if line.startswith("Outside front most: ")]
    assert "top bush inboard +1 deg" in front


def test_what_replaces_a_degree_of_bush_does_the_same_to_the_inside_rear(capsys):
    """Each amount told of, taken: within what a straight line leaves, a tenth or so."""
    text = " ".join(printed(capsys, "steps", "--at", "25").split())
    told = re.search(r"As much as top bush rearward \+1 deg: (.*?)\. Outside", text)[1].split("; ")
    words = {name: step for step in STEPS for name in (step.name, step.back) if name}
    scenario = scenarios.load()
    steps = [BY_NAME["top bush rearward"]]
    for one in told:
        name, amount = re.fullmatch(r"(.+) about ([+-]?[\d.]+) \S+", one).groups()
        step = words[name]
        times = float(amount) / step.amount * (-1.0 if name == step.back else 1.0)
        steps.append(step._replace(change=partly(step, times)))
    assert len(steps) > 2
    found = stepped(scenario, scenario.default_setting, at_deg=25.0, count=2, steps=steps)
    one, *others = (found.worth(name)["load"].value for name in found.steps)
    assert others == pytest.approx([one] * len(others), rel=0.15)


def partly(step, times):
    """So much of a step of a corner's number or of a stiffness, by the difference that one step makes."""

    def change(setting, scenario):
        return between(setting, step.change(setting, scenario), times)

    return change


def between(was, now, times):
    """Of two records what lies so many times as far from the first as the second does."""
    if isinstance(was, (int, float)):
        return was + times * (now - was)
    if was is None or not is_dataclass(was):
        return now
    return replace(
        was, **{f.name: between(getattr(was, f.name), getattr(now, f.name), times) for f in fields(was)}
    )


def test_what_is_no_corner_is_refused(capsys):
    said = refused(capsys, "steps", "--case", "standing")
    assert "load case 'standing' is no corner to read a step in" in said
    assert "gentle corner" in said
    with pytest.raises(Refusal, match="no load case is one"):
        stepped(scenarios.from_mapping(edited(tables(), {"load_case": []}), "k.toml", "k"), "as-delivered")
