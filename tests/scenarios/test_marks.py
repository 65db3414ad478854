"""Bushes of the box that carry their owner's mark, or stand at the clocks of their screws alone."""

import json

import numpy as np
import pytest

from scenarios.ask.choose import choose
from scenarios.errors import Refusal
from scenarios.kit import bushes
from tests.helpers.scenario_edit import edited, scenario, tables
from viz.cli.main import main

OWN = [45.0, 225.0]
KIT = {
    "clock_step_deg": 15.0,
    "bush": [{"rated_deg": 0.0}, {"rated_deg": 2.0, "mark": "two dots", "clocks_deg": OWN}],
}


def marked(**more):
    return scenario({"kit": KIT, **more})


def test_the_mark_stands_with_the_size_wherever_it_is_fitted():
    kart = marked(**{"setting.new": {"left": {"top_rated_deg": 2.0, "top_clock_deg": 45.0}}})
    [size] = [one for one in kart.kit.sizes if not one.centred]
    assert str(size) == "2 deg (two dots)"
    assert str(bushes(kart.kit, kart.settings["new"])["left", "top"]) == "2 deg (two dots) @ 45"


def test_a_clock_that_its_screws_do_not_allow_is_warned_of_also_where_it_is_on_the_step():
    def warned(clock):
        kart = marked(**{"setting.new": {"left": {"top_rated_deg": 2.0, "top_clock_deg": clock}}})
        return [line for line in kart.warnings if "setting.new" in line]

    assert warned(225.0) == warned(-135.0) == []
    [line] = warned(90.0)
    assert line == "setting.new: left top bush at clock 90 deg is off its own clocks, 45, 225 deg"


@pytest.mark.parametrize("step", [15.0, 0.0])
@pytest.mark.parametrize("sides", ["both", "left"])
def test_a_search_fits_it_at_its_own_clocks_alone(step, sides):
    kart = marked(**{"kit.clock_step_deg": step, "kit.bush": [*KIT["bush"], {"rated_deg": 1.0}]})
    told = choose(kart, ["caster_left_deg=now+1.3"], sides=sides, limit=40)
    seen = set()
    for candidate in told.candidates:
        for bush in bushes(kart.kit, candidate.setting).values():
            if bush.size.mark:
                seen.add(round(bush.clock_deg, 6))
    assert seen == set(OWN)
    others = {
        round(bush.clock_deg, 3)
        for candidate in told.candidates
        for bush in bushes(kart.kit, candidate.setting).values()
        if not bush.size.mark and not bush.size.centred
    }
    assert len(others) > 2


def test_without_clocks_of_their_own_bushes_are_searched_as_before():
    plain = {**KIT, "bush": [{"rated_deg": 0.0}, {"rated_deg": 2.0, "mark": "two dots"}]}
    one, other = (
        choose(scenario({"kit": kit}), ["caster_left_deg=now+1.3"])
        for kit in (plain, {**KIT, "bush": [{"rated_deg": 0.0}, {"rated_deg": 2.0}]})
    )
    assert [c.fit for c in one.candidates] == [c.fit for c in other.candidates]
    assert any(
        not np.isclose(bush.clock_deg, OWN).any()
        for c in one.candidates
        for bush in bushes(scenario({"kit": plain}).kit, c.setting).values()
        if not bush.size.centred
    )


@pytest.mark.parametrize(
    ("bush", "said"),
    [
        ({"mark": "two (dots)"}, "must be a few words, without brackets"),
        ({"mark": "a mark of rather many words"}, "must have at most 16 characters"),
        ({"clocks_deg": []}, "kit.bush[1].clocks_deg"),
        ({"clocks_deg": [0.0, 4000.0]}, "at most 360 deg"),
    ],
)
def test_what_is_no_mark_or_no_clock_is_refused_in_one_line(bush, said):
    with pytest.raises(Refusal) as refused:
        marked(**{"kit.bush": [{"rated_deg": 2.0, **bush}]})
    assert said in str(refused.value)


def test_the_bench_sheet_tells_the_mark_and_warns_of_the_clock(tmp_path, capsys):
    file = tmp_path / "kart.json"
    new = {"both": {"top_rated_deg": 2.0, "top_clock_deg": 90.0}}
    file.write_text(json.dumps(edited(tables(), {"kit": KIT, "setting.new": new})))
    out = tmp_path / "sheet.html"
    assert main(["sheet", str(file), "--to", "new", "--out", str(out)]) == 0
    assert "off its own clocks" in " ".join(capsys.readouterr().err.split())
    page = out.read_text()
    assert "2 deg (two dots)" in page
    assert "is off its own clocks, 45, 225 deg" in page.replace("\n", " ")
