"""The plain-text tables: numbers, thinning, widths, and what stands for a missing value."""

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

import scenarios
from scenarios.ask.run import run
from tests.helpers.scenario_edit import scenario
from viz.tables.headline import SETTINGS_ABREAST, entries, fitted_line, headline, number, shorten
from viz.tables.lock import GEOMETRY, STANDING, shown_rows


@pytest.mark.parametrize(
    ("value", "text"),
    [(-0.004, "0.00"), (0.0, "0.00"), (-0.006, "-0.01"), (12.345, "12.35"), (None, "-"), (-12.0, "-12.00")],
)
def test_a_number_never_reads_minus_zero(value, text):
    assert number(value, 2) == text


@given(st.integers(2, 20001), st.data())
@example(2, None)
@example(61, None)
def test_thinned_rows_keep_both_ends_and_straight_ahead(count, data):
    middle = None if data is None else data.draw(st.none() | st.integers(0, count - 1))
    rows = shown_rows(count, middle)
    assert rows == sorted(set(rows))
    assert {0, count - 1} <= set(rows)
    assert middle is None or middle in rows
    assert len(rows) <= 19
    assert len(rows) >= min(count, 8)


def test_an_even_lock_is_thinned_to_even_steps():
    assert shown_rows(61, 30) == list(range(0, 61, 5))
    assert shown_rows(13, 6) == list(range(13))


def test_more_settings_than_fit_abreast_make_a_second_block():
    scenario = scenarios.load()
    made = run(scenario, "as-delivered", [])
    lines = headline([made] * (SETTINGS_ABREAST + 1))
    assert max(map(len, lines)) <= 100
    assert sum(line.startswith("caster  ") for line in lines) == 2


def test_every_heading_leaves_a_space_beside_it():
    for group in (*GEOMETRY, *STANDING):
        pair = len(group.columns) > 1
        assert max(len(group.heading), len(group.unit)) <= (11 if pair else 6), group.heading


def test_what_is_fitted_reads_as_a_mechanic_says_it():
    left = {
        "top_rated_deg": 2.0,
        "top_clock_deg": 180.0,
        "bottom_offset_mm": 1.5,
        "bottom_clock_deg": 0.0,
        "hub_spacer_mm": 5.0,
        "spacer_shift_mm": 0.0,
    }
    made = scenario({"setting.typed": {"left": left, "right": {"tie_rod_toe_deg": -0.1}}})
    assert fitted_line(made, "typed", "left") == (
        "left:  top 2 deg @ 180, bottom 1.5 mm @ 0, hub spacer 5 mm, tie rod kept"
    )
    assert fitted_line(made, "typed", "right") == (
        "right: top concentric, bottom concentric, tie rod re-set to toe -0.1 deg"
    )
    made = scenario({"setting.typed": {"both": {"tie_rod_length_mm": 342.5}}})
    assert fitted_line(made, "typed", "right").endswith("tie rod 342.5 mm")


def test_a_meaning_is_wrapped_under_itself():
    first, second = entries([("a_deg", "deg", "word " * 12)], 60)
    assert max(len(first), len(second)) <= 60
    assert second.index("word") == first.index("word")


def test_a_long_name_is_cut_with_an_ellipsis():
    assert shorten("as-delivered", 12) == "as-delivered"
    assert shorten("as-delivered", 11) == "as-deliver…"
