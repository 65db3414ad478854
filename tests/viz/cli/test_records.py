"""What options make: the parser's Namespace ends at the top of a command, and records go on from there.

No option is given twice unawares: settings typed in one call are told in order, the rest is refused.
"""

import ast
import json
import re
from pathlib import Path

import pytest

import viz.cli
from scenarios.ask.asked import Typed
from scenarios.ask.typed import corner_text
from tests.helpers.command import printed, refused
from viz.cli.main import parser
from viz.cli.options.asked import settings_of

READERS = re.compile(r"run(_\w+)?|\w+_of|\w+_question|_one_way|__call__")
"""Functions that may see a Namespace: a command's `run`, and those that make a record of it at once."""
FILES = sorted(Path(viz.cli.__file__).parent.rglob("*.py"))


def sees_a_namespace(function: ast.FunctionDef) -> bool:
    every = (*function.args.posonlyargs, *function.args.args, *function.args.kwonlyargs)
    return any("Namespace" in ast.unparse(a.annotation) for a in every if a.annotation)


@pytest.mark.parametrize("file", FILES, ids=lambda file: file.stem)
def test_only_readers_see_a_namespace(file):
    functions = [f for f in ast.walk(ast.parse(file.read_text())) if isinstance(f, ast.FunctionDef)]
    seeing = {f.name for f in functions if sees_a_namespace(f)}
    assert [name for name in seeing if not READERS.fullmatch(name)] == []
    made = [n for f in functions for n in ast.walk(f) if isinstance(n, ast.Call)]
    assert not [n for n in made if ast.unparse(n.func).endswith("Namespace")], "none is made up"


@pytest.mark.parametrize(
    ("command", "option", "values"),
    [
        ("map", "--both", ("top=2@180", "bottom=2@0")),
        ("choose", "--left", ("hub=5", "hub=2")),
        ("sheet", "--both", ("hub=5", "hub=2")),
        ("sweep", "--positions", ("5", "7")),
        ("sweep", "--json", ("a.json", "b.json")),
    ],
)
def test_an_option_that_is_given_twice_is_refused(capsys, command, option, values):
    twice = [word for value in values for word in (option, value)]
    assert f"argument {option}: given twice; give it once" in refused(capsys, command, *twice)


def test_what_may_be_repeated_still_may_be(capsys):
    assert "setting 'x' is unknown" in refused(capsys, "sweep", "--setting", "x", "--setting", "y")
    assert "beside it" in refused(capsys, "compare", "--based-on", "more-caster")


def typed(based_on=None, **sides):
    return Typed(**{side: corner_text(text) for side, text in sides.items()}, based_on=based_on)


def read(line):
    return list(settings_of(parser("sweep").parse_args(["sweep", *line.split()])))


@pytest.mark.parametrize(
    ("line", "settings"),
    [
        ("", []),
        ("--left hub=5 --right hub=2", [typed(left="hub=5", right="hub=2")]),
        ("--right hub=2 --positions 5 --both hub=5", [typed(both="hub=5", right="hub=2")]),
        ("--both hub=5 --both hub=2", [typed(both="hub=5"), typed(both="hub=2")]),
        (
            "--left hub=5 --right hub=2 --left hub=3",
            [typed(left="hub=5", right="hub=2"), typed(left="hub=3")],
        ),
        ("--left hub=5 --setting a --right hub=2", [typed(left="hub=5"), "a", typed(right="hub=2")]),
        ("--setting a --both hub=5 --setting b", ["a", typed(both="hub=5"), "b"]),
        ("--both hub=5 --both hub=2 --based-on a", [typed("a", both="hub=5"), typed("a", both="hub=2")]),
        ("--based-on a --setting b --both hub=5", ["b", typed("a", both="hub=5")]),
        (
            "--based-on a --left hub=5 --based-on b --left hub=2",
            [typed("a", left="hub=5"), typed("b", left="hub=2")],
        ),
        (
            "--left hub=5 --based-on a --left hub=2 --based-on b",
            [typed("a", left="hub=5"), typed("b", left="hub=2")],
        ),
    ],
)
def test_options_in_a_row_make_a_setting_and_one_given_again_starts_the_next(line, settings):
    assert read(line) == settings


@pytest.mark.parametrize(
    ("line", "said"),
    [
        ("--based-on more-caster", "--based-on needs --both, --left, --right or --kart beside it"),
        (
            "--both hub=5 --based-on a --both hub=2 --both hub=3 --based-on b",
            "--based-on stands 2 times: give it once for all typed settings, or one beside each",
        ),
        ("--based-on a --based-on b --both hub=5", "--based-on stands 2 times: give it once"),
    ],
)
def test_what_could_be_meant_in_two_ways_is_refused(capsys, line, said):
    assert said in refused(capsys, "sweep", *line.split())


TWO = ("--both", "top=2@180", "--both", "top=3@180")
FEW = ("--lock", "0", "20", "--positions", "3")


def test_a_sweep_tells_them_in_order(capsys):
    text = printed(capsys, "sweep", "--setting", "as-delivered", *TWO, *FEW, "--json", "-")
    names = [setting["name"] for setting in json.loads(text)["settings"]]
    assert names == ["as-delivered", "top 2 at 180", "top 3 at 180"]


def test_compare_sets_each_against_the_base(capsys):
    text = printed(capsys, "compare", "--from", "more-caster", *TWO, *FEW, "--json", "-")
    told = json.loads(text)
    assert [setting["name"] for setting in told["settings"]] == ["top 2 at 180", "top 3 at 180"]
    assert told["base"] == "more-caster"
    now = [one["left_as"]["reset"]["figures"]["caster_left_deg"] for one in told["settings"]]
    assert now[0]["now"] < now[1]["now"]
    assert now[0]["base"] == now[1]["base"]


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (
            ["view", *TWO, "--out", "x.glb"],
            "view shows one setting, not 2: top 2 at 180, top 3 at 180; put B in --against",
        ),
        (["sheet", *TWO, "--out", "x.pdf"], "argument --both: given twice; give it once"),
        (["handout", *TWO, "--both", "hub=5", "--out", "x.html"], "one setting or two, not 3"),
    ],
)
def test_who_takes_one_refuses_more(capsys, tmp_path, monkeypatch, arguments, said):
    monkeypatch.chdir(tmp_path)
    assert said in refused(capsys, *arguments)
    assert list(tmp_path.iterdir()) == []
