"""A bush by its owner's word and by its offset: what is the same, what the box holds, what is done."""

from __future__ import annotations

from math import radians, tan

import pytest

from scenarios import Scenario
from scenarios.kit import (
    Bush,
    Size,
    brief,
    bush_keys,
    called,
    can_stand,
    holds,
    in_deg,
    size_keys,
    stock,
    work,
)
from tests.helpers.scenario_edit import scenario

TWO = 66.0 * tan(radians(2.0))
UNEVEN = {"right.yoke.span_mm": 68.0}


def kart(*listed: dict[str, float], step: float = 15.0, **changes: object) -> Scenario:
    kit = {"clock_step_deg": step, "bush": list(listed)}
    return scenario({"kit": kit, **{key.replace("__", "."): value for key, value in changes.items()}})


def words(made: Scenario) -> list[str]:
    return [str(size) for size in made.kit.sizes]


def test_a_size_keeps_its_owners_word_and_its_offset() -> None:
    made = kart({"rated_deg": 2.0}, {"offset_mm": 1.2, "count": 3}, {"offset_mm": 3.4})
    assert words(made) == ["1.2 mm", "2 deg", "3.4 mm"]
    assert [size.offset for size in made.kit.sizes] == pytest.approx([1.2, TWO, 3.4], abs=1e-12)
    assert made.kit.counts == (3, None, None)
    assert [in_deg(size, 66.0) for size in made.kit.sizes][1] == 2.0
    assert tan(radians(in_deg(made.kit.sizes[0], 66.0))) * 66.0 == pytest.approx(1.2)


def test_a_bush_is_called_by_the_boxs_word_else_by_a_settings_else_in_mm() -> None:
    both = {"top_rated_deg": 1.73, "top_clock_deg": 0.0, "bottom_offset_mm": 2.3, "bottom_clock_deg": 0.0}
    kit = kart({"offset_mm": 1.2}, {"offset_mm": 2.3}, setting__odd={"both": both}).kit
    assert str(called(kit, 1.2 + 5e-7)) == "1.2 mm"
    assert str(called(kit, 66.0 * tan(radians(1.73)))) == "1.73 deg"
    assert str(called(kit, 1.2 + 2e-6)) == "1.2 mm"  # not the same bush: no count in the box
    assert called(kit, 1.2 + 2e-6) not in kit.sizes
    assert str(called(kit, 1.9876543)) == "1.98765 mm"
    assert str(called(kit, 0.0)) == "0 mm"
    assert str(called(kart({"rated_deg": 1.0}).kit, 0.0)) == "0 deg"
    assert str(called(kart({"rated_deg": 0.0}, {"offset_mm": 1.0}).kit, 0.0)) == "0 deg"


def test_degrees_belong_to_the_span_they_are_rated_on() -> None:
    both = {"top_rated_deg": 2.0, "top_clock_deg": 0.0, "bottom_rated_deg": 2.0, "bottom_clock_deg": 0.0}
    made = scenario({**UNEVEN, "setting.as-delivered.both": both})
    two = made.kit.sizes[3]
    assert (str(two), holds(two, 66.0), holds(two, 68.0)) == ("2 deg", True, False)
    assert size_keys(two, 66.0, "top_") == {"top_rated_deg": 2.0}
    assert size_keys(two, 68.0) == {"offset_mm": round(TWO, 7)}
    assert bush_keys(Bush(two, 90.0000001), 68.0, "top") == {
        "top_offset_mm": 2.3047708,
        "top_clock_deg": 90.0,
    }
    other = f"{68.0 * tan(radians(2.0)):.6g} mm"  # the right yoke turns "2 deg" into another bush
    assert made.warnings[:2] == (
        f"setting.as-delivered: right top bush of {other} is not in the kit",
        f"setting.as-delivered: right bottom bush of {other} is not in the kit",
    )


def test_what_the_box_holds() -> None:
    kit = kart({"rated_deg": 2.0, "count": 1}, {"offset_mm": TWO, "count": 2}, {"offset_mm": 1.2}).kit
    assert stock(kit, Size(TWO, 2.0, "deg")) == 3  # the same bush listed by both words
    assert stock(kit, Size(1.2, 1.2, "mm")) is None
    assert stock(kit, Size(1.3, 1.3, "mm")) == 0
    assert stock(kit, kit.centred) is None
    assert stock(kart({"rated_deg": 0.0, "count": 2}).kit, kit.centred) == 2
    assert stock(kart().kit, Size(1.3, 1.3, "mm")) is None


def test_what_is_done_to_a_bush() -> None:
    one, near, other = (Size(offset, 1.2, "mm") for offset in (1.2, 1.2 + 5e-7, 1.3))
    assert work(Bush(one, 10.0), Bush(near, 370.00001)) == "leave"
    assert work(Bush(one, 10.0), Bush(near, 10.001)) == "turn"
    assert work(Bush(one, 10.0), Bush(other, 10.0)) == "swap"
    assert work(Bush(Size(0.0, 0.0, "deg"), 0.0), Bush(Size(0.0, 0.0, "mm"), 90.0)) == "leave"


def test_clocks_on_the_step_and_numbers_no_longer_than_they_must_be() -> None:
    kit = kart({"rated_deg": 1.0}, step=360.0 / 7.0).kit
    size = kit.sizes[0]
    assert can_stand(kit, Bush(size, 51.42857))
    assert not can_stand(kit, Bush(size, 51.428))
    assert can_stand(kart({"rated_deg": 1.0}, step=0.0).kit, Bush(size, 51.428))
    assert brief(360.0 / 7.0, 1e-5) == 51.42857
    assert brief(180.0000000001, 1e-5) == 180.0
    assert brief(1.0 / 3.0, 0.0) == 1.0 / 3.0
