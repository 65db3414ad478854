"""`lockarc choose`: what is wanted and cannot be had is refused in one line."""

from __future__ import annotations

import pytest

import scenarios
from tests.helpers.command import refused
from tests.helpers.scenario_edit import stepped


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        ([], "the following arguments are required: --want"),
        (["--want", "caster_lft_deg=1"], "unknown figure 'caster_lft_deg'; did you mean 'caster_left_deg'"),
        (["--want", "caster_left_deg=3..2"], "impossible range, 3 is above 2"),
        (["--want", "caster_left_deg=..2", "--want", "caster_left_deg=3.."], "contradictory targets"),
        (["--want", "caster_left_deg=1", "--want", "caster_left_deg=now"], "contradictory targets"),
        (["--want", "camber_left_deg@76=1"], "camber_left_deg at handwheel 76 deg is beyond the stop at 75"),
        (["--want", "inside_rear_load_n@9@slow=1"], "unknown load case 'slow'; did you mean 'slow corner'"),
        (["--want", "inside_rear_load_n@9=1"], "name the load case"),
        (["--want", "caster_left_deg@9=1"], "does not change through lock"),
        (["--want", "wheel_drop_left_mm=1"], "is read at a lock position"),
        (["--want", "ackermann_percent@0=now"], "ackermann_percent has no value in setting 'as-delivered'"),
        (["--want", "jacking_rate_left_n_per_deg=1"], "name the load case in which it is wanted"),
        (["--want", "jacking_rate_left_n_per_deg@stading=1"], "load case 'stading'; did you mean 'standing'"),
        (["--want", "jacking_rate_lft_n_per_deg@standing=1"], "did you mean 'jacking_rate_left_n_per_deg'"),
        (["--want", "jacking_rate_left_n_per_deg@9@standing=1"], "leave the handwheel angle out"),
        (["--want", "jacking_rate_left_mm_per_deg@standing=1"], "leave 'standing' out"),
        (
            ["--want", "inside_rear_load_at_lock_left_n@-9@standing=1"],
            "give the handwheel angle without a sign",
        ),
        (["--want", "inside_rear_load_at_lock_left_n@79@standing=1"], "is beyond the stop at 75 deg"),
        (["--want", "lift_off_steer_left_deg@standing=now"], "has no value in setting 'as-delivered'"),
        (["--want", "caster_left_deg=1.. or none"], "only a figure of lift-off may be wanted with 'or none'"),
        (["--want", "caster_left_deg=1.. or none at all"], "stands behind 'or none'"),
        (["--want", "caster_left_deg=1*0"], "caster_left_deg=1*0: weight 0: must be at least 0.001"),
        (["--want", "caster_left_deg=1e999"], "is not a finite number"),
        (["--want", "caster_left_deg=wide"], "'wide' in 'caster_left_deg=wide' is not a number"),
        (["--want", "caster_left_deg=1", "--from", "mor-caster"], "did you mean 'more-caster'?"),
        (["--want", "caster_left_deg=1", "--both", "tpo=1@0"], "did you mean 'top'?"),
        (
            ["--want", "caster_left_deg=1", "--both", "rod=100"],
            "its tie rods cannot be joined straight ahead",
        ),
        (["--want", "caster_left_deg=1", "--sides", "bth"], "did you mean 'both'?"),
        (["--want", "caster_left_deg=1", "--limit", "0"], "0 must be at least 1"),
        (["--want", "caster_left_deg=1", "--pick", "99"], "--pick 99: there are"),
        (["--want", "caster_left_deg=1", "--keep-as", "more-caster"], "has a setting of that name"),
        (["--want", "caster_left_deg=1", "--csv", "none/x.csv"], "the folder"),
        (["--want", "caster_left_deg=1", "--json", "-", "--csv", "-"], "would overwrite"),
        (["empty.toml", "--want", "caster_left_deg=1"], "kit.bush: the box is empty"),
        (["none.toml", "--want", "caster_left_deg=1"], "kit.bush: the box is empty"),
        (["step.toml", "--want", "caster_left_deg=1"], "kit.clock_step_deg = 50 deg"),
    ],
)
def test_refusals_are_one_line_and_write_nothing(capsys, coarse, tmp_path, arguments, said):
    text = scenarios.builtin_text("training-kart")
    start, end = text.index("[kit]"), text.index("# SETTINGS")
    (tmp_path / "empty.toml").write_text(text[:start] + text[end:])
    (tmp_path / "none.toml").write_text(text.replace("count = 4", "count = 0"))
    (tmp_path / "step.toml").write_text(stepped(50.0))
    before = sorted(p.name for p in tmp_path.iterdir())
    arguments = arguments if arguments and arguments[0].endswith(".toml") else [coarse, *arguments]
    outputs = [] if {"--csv", "--json"} & set(arguments) else ["--json", "out.json", "--csv", "out.csv"]
    assert said in refused(capsys, "choose", *arguments, *outputs)
    assert sorted(p.name for p in tmp_path.iterdir()) == before
