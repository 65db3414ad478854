"""`lockarc completion`: what a shell completes. bash does it here, fish does where it is installed.

zsh reads its script where it is installed; it completes on a terminal alone, which was tried by hand.
"""

import argparse
import shutil
import subprocess
import sys

import pytest

from tests.helpers.command import printed, refused
from viz.cli.main import COMMANDS, every_command

SHELLS = ("bash", "zsh", "fish")
ASKED = {
    "lockarc ": [*COMMANDS],
    "lockarc sw": ["sweep"],
    "lockarc sweep --bo": ["--both"],
    "lockarc sweep --setting x --b": ["--based-on", "--both"],
    "lockarc sweep --lock -40 40 --po": ["--positions"],
    "lockarc choose --sides ": ["both", "each", "left", "right"],
    "lockarc scenario c": ["check", "copy"],
    "lockarc scenario copy --o": ["--overwrite"],
    "lockarc sweep my": ["my-kart.toml"],
    "lockarc sweep --json my": ["my-kart.toml"],
    "lockarc completion f": ["fish"],
}
"""A line as it is typed, and what a shell offers for its last word."""

IN_BASH = """
source ./script
COMP_WORDS=("$@"); COMP_CWORD=$(($# - 1))
declared=$(complete -p lockarc); function=${declared#*-F }; function=${function%% *}
"$function" lockarc "${COMP_WORDS[COMP_CWORD]}" "${COMP_WORDS[COMP_CWORD - 1]}"
printf '%s\\n' "${COMPREPLY[@]}"
"""


@pytest.fixture
def script(capsys, tmp_path, monkeypatch):
    """Writes the script of a shell to a folder with a kart in it, and is what it says."""
    monkeypatch.chdir(tmp_path)
    (tmp_path / "my-kart.toml").touch()

    def written(shell):
        text = printed(capsys, "completion", shell)
        (tmp_path / "script").write_text(text)
        return text

    return written


def shell(name, *arguments):
    found = shutil.which(name)
    if found is None:
        pytest.skip(f"{name} is not on this machine")
    done = subprocess.run([found, *arguments], capture_output=True, text=True, timeout=60, check=False)
    assert done.stderr == ""
    return done


def parsers(parser, path=()):
    yield path, parser
    for action in parser._actions:
        if isinstance(action, argparse._SubParsersAction):
            for name, inner in action.choices.items():
                yield from parsers(inner, (*path, name))


@pytest.mark.parametrize("name", SHELLS)
def test_every_command_and_option_stands_in_the_script(script, name):
    text = script(name)
    for path, parser in parsers(every_command()):
        assert all(word in text for word in path)
        options = [option for action in parser._actions for option in action.option_strings]
        # fish names a long option without its dashes
        assert [option for option in options if option.lstrip("-") not in text] == [], path


@pytest.mark.parametrize("name", SHELLS)
def test_the_shell_reads_it(script, name):
    script(name)
    assert shell(name, "-n", "script").returncode == 0


@pytest.mark.parametrize("line", ASKED)
def test_bash_completes(script, line):
    script("bash")
    done = shell("bash", "--norc", "-c", IN_BASH, "bash", *line.split(" "))
    assert sorted(done.stdout.split()) == sorted(ASKED[line])


@pytest.mark.parametrize("line", ASKED)
def test_fish_completes(script, line):
    script("fish")
    done = shell("fish", "--no-config", "-c", "source ./script; complete -C $argv[1]", line)
    assert sorted(told.split("\t")[0] for told in done.stdout.splitlines()) == sorted(ASKED[line])


def test_another_shell_is_refused_with_those_there_are(capsys):
    assert "'csh' is unknown; did you mean 'zsh'?; there are: bash, zsh, fish" in refused(
        capsys, "completion", "csh"
    )


def test_no_other_command_loads_what_writes_it():
    code = "import sys, viz.cli.main as c; c.main(['scenario', 'list']); print('shtab' in sys.modules)"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, check=True)
    assert done.stdout.endswith(b"\nFalse\n")
