"""`lockarc compare --other-kart`: one kart against another, in the first answer alone."""

from __future__ import annotations

import pytest

import scenarios
from tests.helpers.command import TABLE_WIDTH, printed, refused
from viz.words.width import MOST_LINES

OTHER = ("compare", "--other-kart", "bent-right-stub")
ONE = ("--case", "gentle corner", "--sure", "none")


def test_a_bent_kart_against_a_straight_one(capsys):
    text = printed(capsys, *OTHER)
    assert max(map(len, text.splitlines())) <= TABLE_WIDTH
    assert len(text.splitlines()) <= MOST_LINES
    said = " ".join(text.split())
    assert "bent-right-stub as-delivered against training-kart as-delivered: Right caster alike" in said
    assert "Right caster alike" in said
    assert "toe +0.50° (−0.10 → 0.40); left alike." in said
    assert "Both turned alike; numbers the same in both files are off alike, others apart." in said
    assert "tie rod" not in said
    assert " now " not in said


def test_settings_of_either_are_named_or_typed(capsys):
    lines = printed(capsys, *OTHER, *ONE, "--from", "more-caster", "--setting", "as-delivered")
    assert lines.startswith("bent-right-stub as-delivered against training-kart more-caster, each")
    typed = printed(capsys, *OTHER, *ONE, "--both", "top=2@180", "--setting", "as-delivered")
    assert "bent-right-stub as given against training-kart as-delivered" in " ".join(typed.split())
    assert typed.count(" against training-kart as-delivered") == 2


def test_a_kart_against_a_copy_of_itself_is_alike(capsys, tmp_path):
    copy = scenarios.copy_builtin("training-kart", tmp_path / "copy.toml")
    said = printed(capsys, "compare", "--other-kart", str(copy), "--case", "gentle corner")
    assert "Caster, camber, trail and toe alike." in said
    assert "lighter" not in said
    assert "heavier" not in said
    assert "To check it: measure what differs" in said


@pytest.mark.parametrize("option", ["--tables", "--rods", "--json", "--csv", "--plot"])
def test_what_is_told_of_one_kart_is_refused_of_two(capsys, option, tmp_path):
    value = {"--tables": (), "--rods": ("reset",)}.get(option, (str(tmp_path / "file.png"),))
    said = refused(capsys, *OTHER, option, *value)
    assert said == f"lockarc: {option} is of one kart: with --other-kart only the first answer is told\n"
    assert not list(tmp_path.iterdir())


def test_what_either_does_not_have_is_refused(capsys):
    said = refused(capsys, *OTHER, "--case", "hairpin")
    assert "training-kart: load case 'hairpin' is unknown, and must be in both files" in said
    assert "bent-right-stub: setting 'wet' is unknown" in refused(capsys, *OTHER, "--setting", "wet")
    assert "training-kart: setting 'wet' is unknown" in refused(capsys, *OTHER, "--from", "wet")
    assert "no such" in refused(capsys, "compare", "--other-kart", "nowhere.toml").lower()
    assert "beyond the mechanical stop" in refused(capsys, *OTHER, "--at", "89")
