"""What goes to a terminal can do nothing to it, whatever stands in a title, a note or a name."""

from __future__ import annotations

import json
import unicodedata

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.helpers.command import run_here
from tests.helpers.cost.depth import deep
from tests.helpers.hostile.texts import ESCAPES, LETTERS, odd_lines, odd_texts, unseen
from tests.helpers.scenario_edit import edited, tables
from viz.words.terminal import clean

WANT = ("--want", "camber_left_deg=now")
UNSURE = ("--sure", "none")
COMMANDS = (
    ("sweep",),
    ("sweep", "--json", "-", *UNSURE),
    ("sweep", "--csv", "-", *UNSURE),
    ("compare",),
    ("compare", "--json", "-", *UNSURE),
    ("choose", *WANT, "--limit", "2", "--keep-as", "kept"),
    ("choose", *WANT, "--json", "-"),
    ("map", "--json", "-"),
    ("map", *WANT, "--csv", "map.csv"),
    ("clocks", "--caster", "12", "--top", "1", "--bottom", "1"),
    ("sheet", "--to", "new", "--out", "sheet.html"),
    ("scenario", "check"),
    ("scenario", "copy"),
    ("view", "--out", "kart.glb"),
    ("handout", "--out", "/proc/no/place.html"),
)
CASES = ("slow corner",)
TYPED = (
    "--setting",
    "--both",
    "--case",
    "--from",
    "--to",
    "--out",
    "--json",
    "--want",
    "--from-view",
    "--sides",
)


@st.composite
def karts(draw):
    """A training kart of few bushes and load cases whose title, notes and source are any text."""
    kit = {"clock_step_deg": 90.0, "bush": [{"rated_deg": 1.0}]}
    bushes = {"top_rated_deg": 1.0, "bottom_rated_deg": 1.0, "top_clock_deg": 90.0, "bottom_clock_deg": 0.0}
    setting = {name: {"note": draw(odd_texts), "both": bushes} for name in ("now", "new")}
    setting["new"]["both"] = {**bushes, "top_clock_deg": 180.0}
    changes = {"title": draw(odd_lines), "limits.source": draw(odd_texts), "limits.wheelbase_max_mm": 1030.0}
    changes |= {"kit": kit, "setting": setting, "default_setting": "now", "sweep.positions": 5}
    changes["load_case"] = [case for case in tables()["load_case"] if case["name"] in CASES]
    return edited(tables(), changes)


@pytest.fixture(scope="module")
def folder(tmp_path_factory):
    with pytest.MonkeyPatch.context() as patch:
        patch.chdir(tmp_path_factory.mktemp("nasty"))
        yield


@pytest.mark.parametrize("command", COMMANDS, ids=" ".join)
@given(kart=karts(), stem=odd_lines)
@deep(8, 24)
def test_titles_notes_and_file_names_can_do_nothing_to_a_terminal(folder, command, kart, stem):
    file = "".join(c for c in stem if c not in "/-")[:20].encode("utf-8", "ignore").decode() + "x.json"
    with open(file, "w", encoding="utf-8") as written:
        json.dump(kart, written)
    places = (file,) if command[0] != "scenario" else (file, file)[: 2 if command[1] == "copy" else 1]
    code, out, err = run_here(*command, *places)
    assert code in (0, 2)
    assert code == 0 or command[0] in ("handout", "scenario")
    assert unseen(out) | unseen(err) == set()


@given(command=st.sampled_from(COMMANDS), option=st.sampled_from(TYPED), text=odd_texts, name=odd_texts)
@deep(150, 600)
def test_what_is_typed_can_do_nothing_to_a_terminal(folder, command, option, text, name):
    typed = (word.replace("\0", "") for word in (name, f"{option}={text}"))  # NUL ends an argument
    code, out, err = run_here(*command, *typed)
    assert code in (0, 2)
    assert unseen(out) | unseen(err) == set()
    assert code == 0 or (out == "" and err.count("\n") == 1)


@given(odd_texts)
def test_clean_keeps_what_can_be_read(text):
    cleaned = clean(text)
    assert len(cleaned) == len(text)
    assert unseen(cleaned) == set()
    assert "\n" not in cleaned
    kept = [(a, b) for a, b in zip(text, cleaned, strict=True) if unicodedata.category(a)[0] in "LMNPS"]
    assert all(a == b for a, b in kept)


@pytest.mark.parametrize("odd", [*ESCAPES, *LETTERS])
def test_json_keeps_the_text_whole(folder, odd):
    if odd in ("\x1b[2J", "\x1b]0;t\x07", "\x00", "\x7f"):  # no title, but a note
        kart = edited(tables(), {"setting": {"now": {"note": odd}}, "default_setting": "now"})
    else:
        kart = edited(tables(), {"title": odd})
    with open("whole.json", "w", encoding="utf-8") as written:
        json.dump(kart, written)
    code, out, err = run_here(
        "sweep", "whole.json", "--positions", "3", "--case", "standing", "--json", "-", *UNSURE
    )
    assert (code, err, unseen(out)) == (0, "", set())
    inputs = json.loads(out)["inputs"]
    assert odd in (inputs["title"], *(setting["note"] for setting in inputs["setting"].values()))
