"""What a mechanic asks at the trackside, and the line of a command's first dozen that answers it."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

import scenarios
from tests.helpers.command import printed

FIRST = 12
BUSHES = ("--both", "top=2@180,bottom=1@0")
QUESTIONS = {
    "what have I on the kart": (("sweep",), r"^Straight ahead: caster [\d.]+°, camber"),
    "what does steering take off the inside rear": (("sweep",), r"takes [\d.]+ ± [\d.]+ kg off"),
    "will the inside rear lift in my hairpin": (("sweep",), r"slow corner, 36°: .*leaves the road at \d+"),
    "does it stay down in the gentle one": (("sweep",), r"gentle corner, 20°: .*stays down"),
    "how sure is that": (("sweep",), r"± holds 95 of 100 karts"),
    "what should I measure better": (("sweep",), r"Most of the doubt: kart\.\w+ \(\d+ %\)"),
    "which way does this bush go": (("compare", *BUSHES), r"Caster \+3\.1° \(12\.0 → 15\.1\)"),
    "how much lighter is the inside rear": (
        ("compare", *BUSHES),
        r"lighter: gentle corner [\d.]+ ± [\d.]+ kg",
    ),
    "does it lift earlier": (("compare", *BUSHES), r"leaves the road earlier: .*slow corner \d+"),
    "what do I give up": (("compare", *BUSHES), r"Handwheel heavier to hold: .*N·m"),
    "how many flats on the tie rods": (("compare", *BUSHES), r"each tie rod, shorten by .*flats"),
    "how do I check that it is fitted right": (
        ("compare", *BUSHES),
        r"left rear scale shows [\d.]+ ± [\d.]+",
    ),
    "which bush do I fit for a degree more": (
        ("choose", "--want", "caster_left_deg=now+1"),
        r"^1 +13\.\d\d +top 0, bottom 1 @ 0; swap one bush on both sides$",
    ),
    "what does it when the box does not": (
        ("choose", "--want", "scrub_left_mm=now+20"),
        r"straight-line reckoning: front hubs out about 20 mm",
    ),
    "what else could I turn": (("steps",), r"seat forward \+10 mm: [\d.]+ ± [\d.]+ kg lighter; \d+ min"),
    "what does the same as a degree of bush": (("steps",), r"frame stiffer about \d+ %"),
    "what is worth measuring better": (("scenario", "check"), r"Worth measuring better: \w+\.\w+ \(\d+ %\)"),
}
EVEN = {"front_left": 34.0, "front_right": 34.0, "rear_left": 45.0, "rear_right": 45.0}


@pytest.fixture(scope="module")
def even(tmp_path_factory):
    """The training kart, even, as a file of somebody's own."""
    text = scenarios.builtin_text("training-kart")
    for wheel, kg in EVEN.items():
        text = re.sub(rf"scale_{wheel}_kg = [\d.]+", f"scale_{wheel}_kg = {kg}", text)
    place = tmp_path_factory.mktemp("asked") / "kart.toml"
    place.write_text(text)
    return str(place)


@pytest.fixture(scope="module")
def answers():
    """What a command printed, by what was typed: several questions are answered by one."""
    return {}


@pytest.mark.slow
@pytest.mark.parametrize("question", QUESTIONS)
def test_it_is_answered_by_the_first_dozen_lines(question, even, answers, capsys, monkeypatch):
    monkeypatch.chdir(Path(even).parent)
    (command, *_), line = asked = QUESTIONS[question]
    if asked[0] not in answers:
        at = 2 if command == "scenario" else 1  # a file stands behind the command and its own command
        words = (*asked[0][:at], Path(even).name, *asked[0][at:])
        answers[asked[0]] = printed(capsys, *words)
    lines = answers[asked[0]].splitlines()
    first = " ".join(" ".join(lines[:FIRST]).split())
    assert re.search(line, first) or re.search(line, "\n".join(lines[:FIRST]), re.MULTILINE), "\n".join(lines)
