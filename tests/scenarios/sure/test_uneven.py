"""A visibly bent kart is told in words; what measuring alone leaves between two sides is not."""

import pytest

from scenarios import load
from scenarios.sure.uneven import uneven
from tests.helpers.scenario_edit import scenario


def told(right: dict) -> list[str]:
    return list(uneven(scenario({"right": right}).kart))


@pytest.mark.parametrize(
    ("right", "line"),
    [
        ({"yoke": {"caster_deg": 14.7}}, "2.7 deg of built-in caster between them (left 12, right 14.7 deg)"),
        (
            {"stub": {"wheel_forward_shift_mm": -6.0}},
            "6 mm of wheelbase between them (left 1045, right 1039",
        ),
        (
            {"stub": {"wheel_outward_shift_mm": 5.0}},
            "5 mm of half track between them (left 500, right 505",
        ),
        ({"stub": {"toe_deg": 0.4}}, "0.5 deg of toe between them (left -0.1, right 0.4 deg)"),
        ({"yoke": {"kingpin_inclination_deg": 12.0}}, "2 deg of built-in kingpin inclination between them"),
        ({"tie_rod": {"inner_joint_mm": [901.0, 14.0, 92.0]}}, "the tie rod's inner joint lies 10 mm away"),
    ],
)
def test_a_bend_is_told_with_both_sides(right, line):
    [found] = told(right)
    assert found.startswith(f"uneven corners: {line}")
    assert len(found) < 290


def test_what_two_readings_differ_by_is_let_be():
    near = {
        "yoke": {"caster_deg": 12.4},
        "stub": {"wheel_forward_shift_mm": 2.0, "arm_end_mm": [929.0, 355.0, 126.0]},
    }
    assert told(near) == []


def test_the_built_in_karts_are_even_but_for_the_bent_one():
    assert [line.split(" of ")[1].split(" between")[0] for line in uneven(load("bent-right-stub").kart)] == [
        "camber",
        "toe",
    ]
    for name in ("training-kart", "published-kart"):
        assert list(uneven(load(name).kart)) == []
