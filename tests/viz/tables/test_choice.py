"""The first answer of a search: a dozen lines of 80 columns that lead to one command."""

from __future__ import annotations

import json

import pytest

from tests.helpers.command import printed
from viz.words.cautions import BRIEF

JACKING = ("--want", "jacking_rate_left_n_per_deg@standing=..now-10%", "--want", "camber_left_deg=now")
UNLIKE = ("--want", "caster_left_deg=14..15", "--want", "camber_left_deg@20=-2..-1")
TRAIL = ("--want", "caster_trail_left_mm=10")
HUBS = ("--want", "scrub_left_mm=now+20")


def lines_of(capsys, *options):
    """The first answer, without the line that says where the rest is."""
    *first, gap, hint = printed(capsys, "choose", *options).splitlines()
    assert gap == ""
    assert "--tables" in hint
    return first


@pytest.mark.parametrize(
    ("options", "most"),
    [
        (("--want", "caster_left_deg=now+1"), 10),
        (JACKING, 11),
        (HUBS, 12),
        (("--want", "caster_left_deg=30"), 12),
        (("bent-right-stub", "--want", "caster_left_deg=now+1", "--sides", "left"), 12),
        ((*HUBS, "--want", "camber_left_deg=now", "--sides", "each"), 12),
        (("bent-right-stub", *UNLIKE, "--sides", "each"), 12),
        (("--want", "caster_left_deg=20", "--want", "camber_left_deg=-3", *TRAIL, *UNLIKE[2:]), 12),
        (("--from", "more-caster", *HUBS, "--rods", "alone"), 12),
    ],
)
def test_it_is_a_dozen_lines_of_80_columns(capsys, options, most):
    lines = lines_of(capsys, *options)
    assert len(lines) <= most, "\n".join(lines)
    assert max(map(len, lines)) <= 80
    assert lines[0].endswith(":")
    assert lines[-1] == BRIEF


def test_what_is_wanted_the_verdict_three_candidates_and_the_command_of_the_first(capsys):
    options = ("--want", "caster_left_deg=now+1")
    lines = lines_of(capsys, *options)
    document = json.loads(printed(capsys, "choose", *options, "--json", "-"))
    assert lines[0] == "Training kart (training-kart), from as-delivered:"
    assert lines[1] == "Wanted: caster_left_deg = 13 deg, now 12.00, met within 0.1."
    assert lines[2] == "All targets are reached; with the least work: swap one bush on both sides."
    rows = [line.split(maxsplit=2) for line in lines[4:7]]
    assert document["easiest"][:3] == [1, 2, 3]
    for n, (number, value, rest) in enumerate(rows, 1):
        told = document["candidates"][n - 1]
        assert (number, value) == (str(n), f"{told['values'][0]:.2f}")
        assert rest.endswith(f"; {told['work']}")
    assert rows[0][2].startswith("top 0, bottom 1 @ 0; ")
    assert lines[7:9] == [
        "To print candidate 1 as a bench sheet, toe set back:",
        "  lockarc sheet --from as-delivered --both top=0,bottom=1@0 --out sheet.pdf",
    ]


def test_the_nearest_by_how_much_it_misses_and_what_else_could(capsys):
    text = " ".join(" ".join(lines_of(capsys, *HUBS)).split())
    assert "No pair from the box reaches every target; the nearest misses scrub_left_mm by 1" in text
    assert "Bushes left as they are, by straight-line reckoning: front hubs out about 20 mm." in text
    assert "lockarc sweep --both hub=20,toe=-0.1 --based-on as-delivered" in text
    text = " ".join(" ".join(lines_of(capsys, "--want", "inside_rear_load_n@30@gentle corner=..180")).split())
    assert "On top of candidate 1, by straight-line reckoning: " in text
    document = json.loads(printed(capsys, "choose", *HUBS, "--json", "-"))
    assert document["easiest"] == []
    [one] = document["other_adjustments"]["listed"]
    assert document["other_adjustments"]["bushes"] == "present"
    assert (one["adjustment"], one["amount"], one["unit"]) == ("front hubs out", 20.0, "mm")


@pytest.mark.parametrize(
    ("want", "said"),
    [
        ("scrub_left_mm=..now-20", "front hubs in about 20 mm"),
        ("toe_left_deg=now-0.3", "toe-out a wheel about 0.3 deg"),
        ("inside_rear_load_n@20@gentle corner=now+40..", "ballast on seat about +15 kg"),
    ],
)
def test_an_adjustment_the_other_way_has_the_other_word(capsys, want, said):
    text = " ".join(" ".join(lines_of(capsys, "--want", want)).split())
    assert said in text


def test_what_an_adjustment_spoils_is_told(capsys):
    lines = lines_of(capsys, *HUBS, "--want", "wheel_drop_left_mm@30=now")
    text = " ".join(" ".join(lines).split())
    assert "front hubs out about 20 mm (which then misses wheel_drop_left_mm at handwheel 30 deg by 1" in text


def test_a_bend_is_warned_of_and_is_in_the_data(capsys):
    options = ("bent-right-stub", "--want", "caster_left_deg=now+1", "--sides", "left")
    warning = "Uneven corners: 1.4 deg of camber between them. Unlike bushes would hide a bend."
    assert warning in " ".join(" ".join(lines_of(capsys, *options)).split())
    assert warning in json.loads(printed(capsys, "choose", *options, "--json", "-"))["warnings"]
    alike = (*options[:-1], "both")
    assert "hide a bend" not in printed(capsys, "choose", *alike)


def test_what_is_met_already_is_left_alone_and_needs_no_sheet(capsys):
    lines = lines_of(capsys, "--want", "caster_left_deg=now")
    assert "All targets are reached as it is, with every bush left alone." in lines
    assert lines[4].split()[:2] == ["1", "12.00"]
    assert lines[4].endswith("; as it is now")
    assert not any("lockarc sheet" in line for line in lines)


def test_many_wants_stay_short_and_the_rest_is_in_the_tables(capsys):
    names = ("caster", "kingpin_inclination", "camber", "toe")
    wants = [
        part for name in names for side in ("left", "right") for part in ("--want", f"{name}_{side}_deg=now")
    ]
    lines = lines_of(capsys, *wants)
    assert "And 3 more wanted." in lines
    assert len(lines) <= 16
    told = printed(capsys, "choose", *wants, "--tables")
    assert all(f"  {n}  " in told for n in range(1, 9))
    for title in ("Meets all that is wanted; least work first", "Best fit first", "Work and parts:", "fit: "):
        assert title in told
