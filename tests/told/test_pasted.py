"""A printed command pasted into a shell reaches the program as it was meant, whatever a file is called."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

import scenarios
from tests.helpers.typed_again import command_lines, said

NAMES = (
    "it's mine.toml",
    'a "quoted" kart.toml',
    "$HOME; touch pasted #.toml",
    "`touch pasted` & $(touch pasted) | back\\slash.toml",
    "~ * ? [a-z] {1,2} !! <in >out.toml",
    "-dash.toml",
)
SHELLS = [shell for shell in ("sh", "bash", "zsh") if shutil.which(shell)]
ASKED = ("--want", "scrub_left_mm=now+20", "--sides", "each", "--tables")
"""A search that prints two commands to go on with, one of them over two lines."""

KEEPING = """\
#!/bin/sh
for word in "$@"; do printf '%s\\0' "$word"; done >>"$KEPT"
printf '\\0' >>"$KEPT"
"""


@pytest.fixture
def folder(tmp_path, monkeypatch):
    """A folder to work in, with a program `lockarc` on the path that keeps what it is called with."""
    program = tmp_path / "bin" / "lockarc"
    program.parent.mkdir()
    program.write_text(KEEPING)
    program.chmod(0o755)
    (tmp_path / "work").mkdir()
    monkeypatch.chdir(tmp_path / "work")
    return tmp_path


def pasted(folder: Path, shell: str, text: str) -> list[list[str]]:
    """The words with which the program is called by a text that is pasted into a shell."""
    kept = folder / "kept"
    kept.write_bytes(b"")
    path = os.pathsep.join([str(folder / "bin"), os.environ["PATH"]])
    subprocess.run([shell, "-c", text], check=True, env={"PATH": path, "KEPT": str(kept)}, timeout=60)
    assert not Path("pasted").exists()
    return [call.decode().split("\0") for call in kept.read_bytes().split(b"\0\0") if call]


def commands(text: str) -> str:
    """The lines of a text that are commands, with those in which one goes on."""
    lines, goes_on = [], False
    for line in text.splitlines():
        if goes_on or line.lstrip().startswith("lockarc "):
            lines.append(line)
            goes_on = line.endswith("\\")
    return "\n".join(lines)


@pytest.mark.slow
@pytest.mark.parametrize("shell", SHELLS)
@pytest.mark.parametrize("name", NAMES)
def test_commands_to_go_on_with_name_the_file_that_was_asked_about(folder, shell, name):
    scenarios.copy_builtin("training-kart", f"./{name}")
    text, _ = said("choose", f"./{name}", *ASKED)
    calls = pasted(folder, shell, commands(text))
    assert calls == command_lines(text)
    assert [call[0] for call in calls] == ["sweep", "sheet"]
    assert all(Path(call[1]).samefile(f"./{name}") for call in calls)


@pytest.mark.slow
@pytest.mark.parametrize("name", NAMES)
def test_what_a_copy_says_to_run_runs(folder, name):
    """The program itself, in a shell."""
    text, _ = said("scenario", "copy", "training-kart", "--", name)
    (folder / "bin" / "lockarc").write_text(f'#!/bin/sh\nexec {sys.executable} -m viz "$@"\n')
    line = text.partition("now run: ")[2]
    path = os.pathsep.join([str(folder / "bin"), os.environ["PATH"]])
    surroundings = {**os.environ, "PATH": path}
    ran = subprocess.run(["sh", "-c", line], capture_output=True, env=surroundings, timeout=60, check=False)
    assert (ran.returncode, ran.stderr) == (0, b"")
    assert "caster 12.0°" in ran.stdout.decode()
    assert not Path("pasted").exists()
