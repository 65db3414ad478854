"""What the README tells people to type works, and the check script runs the README's own test command."""

import re
import shlex
from functools import partial
from pathlib import Path

import pytest

from viz import handout
from viz.cli import main as cli
from viz.lesson import page
from viz.words.width import WIDEST, WIDTH

ROOT = Path(__file__).parents[2]
README = (ROOT / "README.md").read_text()
BLOCKS = re.findall(r"^```\n(.*?)^```", README, re.DOTALL | re.MULTILINE)
TYPED = [line for block in BLOCKS for line in block.splitlines() if line.startswith("lockarc ")]


ONE_WIDTH = ("scenario copy", "sheet", "handout", "lesson", "completion")
"""Commands that print a line or two, or a program, of one width."""


PRINTED = [line for line in TYPED if not line.removeprefix("lockarc ").startswith((*ONE_WIDTH, "view"))]


def telling(line):
    """Whether it prints tables, draws nothing, and how much is typed."""
    return "--tables" in line, "--plot" not in line, len(line)


SMALL = (64, 64)
"""Pixels of a picture."""
FEW = {line.split()[1]: line for line in sorted(PRINTED, key=telling)}
"""The most telling line of each command whose width can be chosen."""


@pytest.mark.slow
@pytest.mark.parametrize(
    "wide", [list(FEW.values()), pytest.param(PRINTED, marks=pytest.mark.long)], ids=["few", "all"]
)
def test_its_commands_run_in_order_and_print_as_wide_as_they_are_told(capsys, tmp_path, monkeypatch, wide):
    assert len(TYPED) >= 10
    assert len(wide) >= 8
    monkeypatch.chdir(tmp_path)
    monkeypatch.setattr(handout, "write", partial(handout.write, size=SMALL))  # large ones take longest
    monkeypatch.setattr(page, "page", partial(page.page, size=SMALL))
    monkeypatch.setenv("COLUMNS", "200")
    for line in TYPED:
        if line.startswith("lockarc view"):
            continue  # drawn by the viewer's own tests
        fewer = (
            ["--stops", "5"] if line.startswith("lockarc handout") else []
        )  # as many pictures take longest
        assert widest(capsys, [*shlex.split(line)[1:], *fewer]) <= WIDTH, line
        if line in wide:
            assert widest(capsys, [*shlex.split(line)[1:], "--wide"]) <= WIDEST, line


def widest(capsys, typed):
    """The length of the longest line that a command prints."""
    assert cli.main(typed) == 0, typed
    said = capsys.readouterr()
    assert said.err == "", typed
    return max(map(len, said.out.splitlines()))


def test_the_check_script_runs_the_readmes_test_command():
    [command] = [line for block in BLOCKS for line in block.splitlines() if line.endswith("pytest")]
    assert f"\n{command}\n" in (ROOT / ".ci" / "run").read_text()


@pytest.mark.parametrize("link", re.findall(r"\]\(([^)]+)\)", README))
def test_what_it_links_to_is_there(link):
    assert (ROOT / link).is_file()
