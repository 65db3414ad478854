"""What the README tells people to type works, and the check script runs the README's own test command."""

import re
import shlex
from functools import partial
from pathlib import Path

import pytest

from viz import handout
from viz.cli import main as cli

ROOT = Path(__file__).parents[2]
README = (ROOT / "README.md").read_text()
BLOCKS = re.findall(r"^```\n(.*?)^```", README, re.DOTALL | re.MULTILINE)
TYPED = [line for block in BLOCKS for line in block.splitlines() if line.startswith("lockarc ")]


@pytest.mark.slow
def test_its_commands_run_in_order(capsys, tmp_path, monkeypatch):
    assert len(TYPED) >= 10
    monkeypatch.chdir(tmp_path)
    monkeypatch.setattr(handout, "write", partial(handout.write, size=(320, 192)))  # large ones take longest
    for line in TYPED:
        if line.startswith("lockarc view"):
            continue  # drawn by the viewer's own tests
        fewer = (
            ["--stops", "5"] if line.startswith("lockarc handout") else []
        )  # as many pictures take longest
        assert cli.main([*shlex.split(line)[1:], *fewer]) == 0, line
        assert capsys.readouterr().err == "", line


def test_the_check_script_runs_the_readmes_test_command():
    [command] = [line for block in BLOCKS for line in block.splitlines() if line.endswith("pytest")]
    assert f"\n{command}\n" in (ROOT / ".ci" / "run").read_text()


@pytest.mark.parametrize("link", re.findall(r"\]\(([^)]+)\)", README))
def test_what_it_links_to_is_there(link):
    assert (ROOT / link).is_file()
