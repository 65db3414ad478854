"""The parser's Namespace ends at the top of a command: records go on from there. No option is given twice."""

from __future__ import annotations

import ast
import re
from pathlib import Path

import pytest

import viz.cli
from tests.helpers.command import refused

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
        ("sweep", "--both", ("top=2@180", "bottom=2@0")),
        ("sweep", "--left", ("top=2@180", "top=2@180")),
        ("compare", "--right", ("hub=5", "hub=2")),
        ("view", "--both", ("top=2@180", "bottom=2@0")),
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
