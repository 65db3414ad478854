"""How wide what is printed is: 80 columns, more where that is asked for; and what is broken to fit."""

from __future__ import annotations

import shlex
import subprocess

import pytest
from hypothesis import given
from hypothesis import strategies as st

from viz.words.lines import command, typed_lines
from viz.words.width import WIDE, WIDEST, WIDTH, filled, laid, printed_at, wide, width

WORDS = st.text(st.characters(codec="ascii", exclude_categories=["C"]), min_size=1, max_size=30)


def test_it_is_narrow_unless_told_within_and_narrow_again_after():
    assert width() == WIDTH == 80
    with printed_at(100):
        assert width() == 100
        with printed_at(60):
            assert width() == 60
        assert width() == 100
    assert width() == 80


@pytest.mark.parametrize(("columns", "found"), [(30, WIDE), (99, 100), (111, 111), (250, WIDEST)])
def test_wide_is_the_terminals_within_bounds(monkeypatch, columns, found):
    monkeypatch.setenv("COLUMNS", str(columns))
    assert wide() == found


def test_lines_are_broken_to_the_width_and_hang_below_themselves():
    text = "word " * 40
    assert max(map(len, filled(text))) <= 80
    assert all(line.startswith("  word") for line in filled(text, "  ")[1:])
    first, second, *_ = laid([f"  {text}"])
    assert (first[:6], second[:10]) == ("  word", "      word")
    with printed_at(100):
        assert 95 < max(map(len, filled(text))) <= 100


@given(WORDS, st.dictionaries(st.from_regex("[a-z][a-z-]{1,12}", fullmatch=True), WORDS, max_size=6))
def test_a_long_command_goes_on_in_the_next_line_as_a_shell_reads_it(scenario, options):
    line = command("sheet", scenario, **options)
    lines = typed_lines(line)
    assert shlex.split("\n".join(lines).replace(" \\\n", " ")) == shlex.split(line)
    assert max(map(len, lines)) <= 80
    assert all(one.startswith("  ") for one in lines)
    assert len(line) > 78 or lines == [f"  {line}"]


def test_a_shell_takes_the_lines_for_one_command():
    options = {f"option-{n}": "it's a long value, is it not" for n in range(5)}
    line = command("sheet", "my kart.toml", **options)
    typed = "\n".join(typed_lines(line)).replace("  lockarc", "printf '%s\\n'", 1)
    assert len(typed.splitlines()) > 2
    said = subprocess.run(["sh", "-c", typed], capture_output=True, text=True, check=True).stdout
    assert said.splitlines() == shlex.split(line)[1:]
