"""What is taken on trust, in lines of 80 characters that can be read."""

from scenarios import load
from scenarios.likely.doubts import doubts
from tests.helpers.scenario_edit import scenario
from viz.tables.doubts import doubt_lines


def lines_of(said: dict) -> list[str]:
    return doubt_lines(doubts(scenario({"sure": said}), 256))


def test_bands_what_is_assumed_and_what_to_measure_each_in_80_characters():
    lines = lines_of({"others": "assumed"})
    assert max(map(len, lines)) <= 80
    text = "\n".join(lines)
    assert "inside_rear_load_at_lock_left_n at handwheel 20 deg in gentle corner: " in text
    assert "to never; " in text
    [row] = [line for line in lines if "yoke.caster_deg " in line and "12 deg" in line]
    assert row.split()[:4] == ["yoke.caster_deg", "12", "deg", "4"]
    assert "% of jacking" in row
    assert "more below 1 %" in text
    assert lines[-2].startswith("Worth measuring better: ")


def test_a_kart_with_nothing_assumed_says_so():
    everything = {
        "frame": {"torsion_axis_height_mm": "tape"},
        "pneumatic_trail_mm": 1.0,
        "rear_axle": {"longitudinal_stiffness_n_per_n": 1.0, "friction_ratio": 0.1},
    }
    assert "No number of the kart is assumed." in lines_of(everything)


def test_what_costs_next_to_nothing_is_counted_and_not_listed():
    assert "  4 below 1 %" in doubt_lines(doubts(load(), 512))
