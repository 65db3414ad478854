"""The public faces: their examples run, every name they list is there, and asking for one is light."""

import doctest
import subprocess
import sys

import pytest

import kinematics
import scenarios
import viz

FACES = (kinematics, scenarios, viz)


@pytest.mark.parametrize("face", [kinematics, scenarios], ids=lambda face: face.__name__)
def test_the_examples_of_a_face_run(face):
    failed, tried = doctest.testmod(face)
    assert tried >= 5
    assert failed == 0


@pytest.mark.parametrize("face", FACES, ids=lambda face: face.__name__)
def test_every_name_is_there_and_no_other(face):
    for name in face.__all__:
        assert callable(getattr(face, name)), name
    with pytest.raises(AttributeError, match="nonsense"):
        face.nonsense  # noqa: B018


def test_a_face_is_light_until_it_is_asked():
    heavy = ("numpy", "matplotlib", "pyvista")
    code = f"import sys, kinematics, scenarios, viz; print([m for m in {heavy} if m in sys.modules])"
    assert subprocess.run([sys.executable, "-c", code], capture_output=True, check=True).stdout == b"[]\n"


def test_ten_lines_say_what_the_commands_say(capsys):
    """A figure read through the face is the one that the document of a run holds."""
    run = scenarios.run(scenarios.load(), "more-caster", ["slow corner"], 40.0)
    at_lock = run.cases[0].headline["inside_rear_load_at_lock_left_n"]
    assert run.read("inside_rear_load_at_lock_left_n@40@slow corner") == pytest.approx(
        float(at_lock.values), abs=1e-9
    )
    place = list(run.handwheel_deg).index(30.0)
    column = run.columns["camber_left_deg"].values[place]
    assert run.read("camber_left_deg@30") == pytest.approx(column, abs=1e-9)
    assert run.read("lift_off_steer_left_deg@standing") is None
    for wrong, says in (("cambr_left_deg", "did you mean"), ("camber_left_deg@99", "beyond the stop")):
        with pytest.raises(scenarios.Refusal, match=says):
            run.read(wrong)


def test_a_comparison_reads_a_difference_as_its_tables_do():
    compared = scenarios.compare(scenarios.load(), "as-delivered", ["more-caster", "less-caster"])
    for name in ("more-caster", "less-caster"):
        was, now, change = compared.read("caster_left_deg", name)
        [against] = [one for one in compared.settings if one.name == name]
        told = against.ways["reset"].figures["caster_left_deg"]
        assert (was, now) == pytest.approx((float(told.base), float(told.now)), abs=1e-9)
        assert change == pytest.approx(float(told.change), abs=1e-9)


def test_an_unknown_setting_is_one_line():
    with pytest.raises(scenarios.Refusal, match="did you mean 'more-caster'"):
        scenarios.run(scenarios.load(), "more-castor")
