"""The tables through lock and the headline block: thinning, blocks, and what is fitted in words."""

from hypothesis import example, given
from hypothesis import strategies as st

import scenarios
from scenarios.ask.run import run
from tests.helpers.scenario_edit import scenario
from viz.tables.headline import fitted_line, headline
from viz.tables.lock import shown_rows


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
    lines = headline([made] * 6)
    assert max(map(len, lines)) <= 100
    assert sum(line.startswith("caster  ") for line in lines) == 2
    assert sum(line.count("as-delivered") for line in lines) == 6


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
