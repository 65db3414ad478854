"""Inputs that nobody means, a few of each kind: a code of 0 or 2, one line for a refusal, nothing else.

`python -m tests.bench.fuzz` tries as many as are asked for.
"""

from __future__ import annotations

import random
import re
from pathlib import Path

import pytest

from scenarios.errors import Refusal
from tests.helpers.hostile import inputs
from tests.helpers.hostile.inputs import Input, made
from tests.helpers.hostile.readings import read
from tests.helpers.hostile.watched import judged, watched
from viz.cli import sweep

EACH, GROUPS = 20, 6


@pytest.fixture(scope="module", autouse=True)
def folder(tmp_path_factory):
    with pytest.MonkeyPatch.context() as patch:
        patch.chdir(tmp_path_factory.mktemp("fuzz"))
        yield


@pytest.mark.parametrize(
    "group", [pytest.param(n, marks=pytest.mark.long if n > 1 else ()) for n in range(GROUPS)]
)
def test_an_input_that_nobody_means_is_answered_or_refused_in_one_line(group):
    for number in range(group * EACH, (group + 1) * EACH):
        one = made(number)
        done = watched(one)
        assert done.faults == (), (number, one.argv)


@pytest.mark.parametrize("group", [0, pytest.param(1, marks=pytest.mark.long)])
def test_readings_that_nobody_took_are_answered_or_refused_in_one_line(group):
    for number in range(group * EACH, (group + 1) * EACH):
        one = read(number)
        done = watched(one)
        assert done.faults == (), (number, one.argv)


def test_the_numbers_make_every_kind_and_the_same_input_each_time():
    some = [made(number) for number in range(EACH * GROUPS)]
    assert {one.kind for one in some} == {"scenario", "run", "line", "file"}
    assert some[3] == made(3)


def test_a_traceback_and_a_file_left_behind_are_seen(monkeypatch):
    def fault(arguments):
        raise ValueError("a fault")

    def half(arguments):
        Path("half.json").write_text('{"a": Infinity}')
        raise Refusal("no")

    monkeypatch.setattr(sweep, "ask", fault)
    [told] = watched(PLAIN).faults
    assert re.fullmatch(r"traceback: ValueError at viz/cli/sweep\.py:\d+: a fault", told)
    monkeypatch.setattr(sweep, "ask", half)
    left = watched(Input("line", ("sweep", "--json", "half.json")))
    assert left.faults == ("left behind by a refusal", "file is not strict JSON: Infinity")


PLAIN = Input("line", ("sweep", "--json", "-"))


@pytest.mark.parametrize(
    ("code", "out", "err", "fault"),
    [
        (1, "", "", "exit code 1"),
        (2, "", "lockarc: one\nlockarc: two\n", "a refusal that is not one line"),
        (2, "", "Traceback\n", "a refusal that is not one line"),
        (2, "", f"lockarc: {'x' * 300}\n", "a refusal of over 300 characters"),
        (0, '{"a": "\x1b"}', "", "a control character on a stream"),
        (0, '{"a": NaN}', "", "stdout is not strict JSON: NaN"),
        (0, '"  1.0   nan"', "", "no number where one is printed"),
        (2, "", "lockarc: a \u202e b\n", "a control character on a stream"),
    ],
)
def test_what_may_not_be_is_seen(code, out, err, fault):
    assert fault in judged(PLAIN, code, out, err)
    assert judged(PLAIN, 0, "{}", "") == judged(PLAIN, 2, "", "lockarc: no\n") == []


def test_help_is_no_document_and_a_date_is_no_number():
    assert judged(Input("line", ("map", "--json", "-", "--help")), 0, "usage", "") == []
    lines = ["when = 1979-05-27"]
    inputs._near(random.Random(1), lines)
    assert lines == ["when = 1979-05-27"]
    assert inputs.faulted(random.Random(1), 10**400) != 10**400
