"""What is computed all the same: rule limits of CHECKS and settings the kit cannot make."""

from __future__ import annotations

from typing import Any

import pytest

from tests.helpers.scenario_edit import scenario

SOURCE = "(CIK-FIA technical drawing 2.1a; national and club rules differ)"


def _fitted(**keys: float) -> dict[str, Any]:
    return {"setting": {"as-delivered": {"both": keys}}}


@pytest.mark.parametrize(
    ("changes", "line"),
    [
        (
            {"kart.wheelbase_mm": 1075.0},
            f"kart.wheelbase_mm = 1075 mm is outside the rule's 1010 to 1070 mm {SOURCE}",
        ),
        (
            {"kart.wheelbase_mm": 1005.0},
            f"kart.wheelbase_mm = 1005 mm is outside the rule's 1010 to 1070 mm {SOURCE}",
        ),
        (
            {"rear.track_mm": 1215.0},
            f"rear: 1405 mm over the treads is wider than the rule's 1400 mm {SOURCE}",
        ),
        (
            {"front.track_mm": 1290.0},
            f"front: 1405 mm over the treads is wider than the rule's 1400 mm {SOURCE}",
        ),
        (
            {"rear.track_mm": 690.0, "load_case": []},
            f"rear.track_mm = 690 mm is below the rule's 696.7 mm {SOURCE}",
        ),
        (
            {"limits.wheelbase_max_mm": 1040.0, "limits.source": "club rules"},
            "kart.wheelbase_mm = 1045 mm is outside the rule's 1010 to 1040 mm (club rules)",
        ),
    ],
)
def test_rules_warn_and_never_refuse(changes: dict[str, Any], line: str) -> None:
    assert scenario(changes).warnings == (line,)


def test_at_the_rule_nothing_is_said() -> None:
    assert scenario({"kart.wheelbase_mm": 1070.0, "rear.track_mm": 1210.0}).warnings == ()


def test_a_bush_not_in_the_kit_is_warned_of_and_computed() -> None:
    made = scenario(_fitted(top_rated_deg=2.5, top_clock_deg=180.0))
    assert made.warnings == (
        "setting.as-delivered: left top bush of 2.5 deg is not in the kit",
        "setting.as-delivered: right top bush of 2.5 deg is not in the kit",
    )
    assert made.settings["as-delivered"].left.top_offset > 0.0


def test_an_offset_in_mm_is_known_by_its_rated_size() -> None:
    assert (
        scenario(_fitted(top_offset_mm=2.30477078645535, top_clock_deg=180.0)).warnings == ()
    )  # 66 · tan 2°


def test_a_clock_off_the_step() -> None:
    made = scenario(_fitted(bottom_rated_deg=2.0, bottom_clock_deg=100.0))
    assert made.warnings[0] == (
        "setting.as-delivered: left bottom bush at clock 100 deg is off the kit's step of 15 deg"
    )
    assert scenario(_fitted(bottom_rated_deg=2.0, bottom_clock_deg=-105.0)).warnings == ()
    free = scenario({**_fitted(bottom_rated_deg=2.0, bottom_clock_deg=100.1), "kit.clock_step_deg": 0})
    assert free.warnings == ()


def test_more_bushes_than_there_are() -> None:
    fitted = _fitted(top_rated_deg=2.0, top_clock_deg=0.0, bottom_rated_deg=2.0, bottom_clock_deg=0.0)
    assert scenario({**fitted, "kit.bush.3.count": 4}).warnings == ()
    assert scenario({**fitted, "kit.bush.3.count": 3}).warnings == (
        "setting.as-delivered: takes 4 bushes of 2 deg, the kit has 3",
    )


def test_a_kit_that_is_not_listed_says_nothing() -> None:
    assert scenario({**_fitted(top_rated_deg=2.5, top_clock_deg=1.0), "kit.bush": []}).warnings == ()


def test_a_concentric_bush_is_always_on_hand() -> None:
    fitted = _fitted(top_rated_deg=0.0, bottom_rated_deg=2.0, bottom_clock_deg=0.0)
    assert scenario({**fitted, "kit.bush": [{"rated_deg": 2.0, "count": 2}]}).warnings == ()
