"""The command as a whole: help, version, refusals of one line, pipes and interrupts."""

import os
import signal
import subprocess
import sys
from contextlib import contextmanager

import pytest

from tests.helpers.command import refused, run_cold
from tests.helpers.hostile.watched import Stream
from viz.cli import main as cli
from viz.cli import sweep as cli_sweep
from viz.words.terminal import one_line


def test_without_a_command_it_prints_its_help(capsys):
    assert cli.main([]) == 0
    assert "commands:" in capsys.readouterr().out


UNSURE = ("--sure", "none")
INNER = [["scenario", name] for name in ("copy", "schema", "check", "list")]
COMMANDS = [[], *([name] for name in cli.COMMANDS), *INNER]


def help_text(capsys, monkeypatch, command, width):
    monkeypatch.setenv("COLUMNS", str(width))
    with pytest.raises(SystemExit) as leaving:
        cli.main([*command, "--help"])
    assert leaving.value.code == 0
    return capsys.readouterr().out


@pytest.mark.parametrize("command", COMMANDS, ids=" ".join)
def test_help_wraps_at_any_width_and_loses_no_word(capsys, monkeypatch, command):
    texts = {width: help_text(capsys, monkeypatch, command, width) for width in (40, 60, 80, 120, 300)}
    for width, text in texts.items():
        assert text.startswith(f"usage: {' '.join(['lockarc', *command])} [-h]")
        assert max(map(len, text.splitlines())) <= min(width, 100)
        assert "".join(text.split()) == "".join(texts[300].split())


def test_usage_keeps_an_option_and_its_value_on_one_line(capsys, monkeypatch):
    text = help_text(capsys, monkeypatch, ["choose"], 60)
    usage = [line.strip() for line in text.partition("\n\n")[0].splitlines()]
    assert len(usage) > 4
    assert [line for line in usage if line.count("[") != line.count("]")] == []
    assert any("--want FIGURE" in line for line in usage)


@pytest.mark.parametrize("arguments", [[], ["sweep"], ["scenario", "copy"]])
def test_as_a_module_it_has_the_same_name(arguments):
    said = run_cold(*arguments, "--help").stdout.decode()
    assert said.startswith(f"usage: {' '.join(['lockarc', *arguments])} [-h]")
    assert "__main__" not in said
    assert run_cold(*arguments, "--nope").stderr.startswith(b"lockarc: ")


def test_version_is_the_distributions(capsys):
    from importlib.metadata import version

    assert cli.main(["--version"]) == 0
    assert capsys.readouterr().out == f"lockarc {version('lockarc')}\n"


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (["swep"], "did you mean 'sweep'?"),
        (["sweep", "--jsn", "x"], "unrecognized arguments: --jsn"),
        (["sweep", "one", "two"], "unrecognized arguments: two"),
        (["sweep", "--lock", "10"], "--lock: expected 2 arguments"),
        (["sweep", "--lock", "-40,5", "40"], "--lock: '-40,5' is not a number; write a point: -40.5"),
        (["sweep", "--at", "30,5"], "--at: '30,5' is not a number; write a point: 30.5"),
        (["sweep", "--both", "top=2,5@180"], "commas stand between parts; write a point: top=2.5@180"),
        (["clocks", "--top", "2,5mm"], "'2,5mm' is not a number; write a point: 2.5mm"),
        (["choose", "--want", "caster_left_deg=now+0,5"], "now-10%; write a point: now+0.5"),
        (["scenario"], "the following arguments are required: COMMAND"),
        (["scenario", "copy", "training-kart"], "required: FILE"),
        (["--nope"], "unrecognized arguments: --nope"),
        (["swe\nep\x1b[2J"], "swe ep?[2J"),
    ],
)
def test_what_argparse_refuses_is_one_line(capsys, arguments, said):
    assert said in refused(capsys, *arguments)


def test_one_line_keeps_letters_and_drops_controls():
    assert one_line("größe\n\tµ\x07\u2028x") == "größe µ? x"


def test_an_interrupt_is_quiet(capsys, monkeypatch):
    def interrupt(arguments):
        raise KeyboardInterrupt

    monkeypatch.setattr(cli_sweep, "ask", interrupt)
    assert cli.main(["sweep"]) == 130
    assert capsys.readouterr() == ("", "")


def test_an_error_of_the_program_itself_is_not_hidden(monkeypatch):
    def fault(arguments):
        raise ValueError("a fault")

    monkeypatch.setattr(cli_sweep, "ask", fault)
    with pytest.raises(ValueError, match="a fault"):
        cli.main(["sweep"])


def test_only_the_command_that_is_asked_for_is_imported_and_help_tells_all(capsys):
    for words in (["--help"], ["--help", "sweep"]):
        with pytest.raises(SystemExit):
            cli.main(words)
        text = capsys.readouterr().out
        assert [told for told in cli.COMMANDS.values() if told not in " ".join(text.split())] == []
    code = (
        "import sys, viz.cli.main as c; c.parser(); print([m for m in sys.modules if m == 'viz.cli.sweep'])"
    )
    assert subprocess.run([sys.executable, "-c", code], capture_output=True, check=True).stdout == b"[]\n"
    assert cli.main(["--", "columns"]) in (0, 2)  # newer Pythons step over the dashes


def test_help_imports_nothing_heavy():
    heavy = ("numpy", "scipy", "rich", "matplotlib", "pyvista", "vtkmodules", "trimesh")
    code = "import sys, viz.cli.main as c; [c.parser(name).format_help() for name in (None, *c.COMMANDS)]; "
    code += f"print([m for m in {heavy} if m in sys.modules])"
    assert subprocess.run([sys.executable, "-c", code], capture_output=True, check=True).stdout == b"[]\n"


def test_a_sweep_imports_nothing_that_only_pictures_need():
    heavy = ("scipy", "matplotlib", "pyvista", "vtkmodules", "trimesh")
    code = (
        f"import sys, viz.cli.main as c; c.main(['sweep']); print([m for m in {heavy} if m in sys.modules])"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, check=True)
    assert done.stdout.endswith(b"\n[]\n")


@pytest.mark.skipif(os.name != "posix", reason="pipes as POSIX has them")
@pytest.mark.parametrize(
    "arguments", [["--version"], ["--help"], ["sweep", "--positions", "2001", "--tables", "--all-rows"]]
)
def test_a_closed_pipe_is_quiet(arguments):
    command = [sys.executable, "-m", "viz", *arguments]
    env = {name: value for name, value in os.environ.items() if name != "PYTHONUNBUFFERED"}
    with subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, env=env) as process:
        process.stdout.close()
        assert process.stderr.read() == b""
        assert process.wait(60) == 128 + signal.SIGPIPE


@pytest.mark.skipif(os.name != "posix", reason="streams as POSIX has them")
@pytest.mark.parametrize("arguments", [["sweep"], ["--help"], ["scenario", "schema"], ["columns"]])
def test_a_closed_stdout_is_one_line(arguments):
    done = run_cold(*arguments, preexec_fn=lambda: os.close(1))
    assert done.returncode == 2
    assert done.stderr == b"lockarc: cannot write the output: standard output is closed\n"


@pytest.mark.skipif(os.name != "posix", reason="streams as POSIX has them")
def test_a_closed_stderr_neither_ends_it_nor_spoils_what_it_writes(tmp_path):
    def closed():
        os.close(0)
        os.close(2)

    kept = run_cold("sweep", *UNSURE, "--json", str(tmp_path / "open.json"))
    done = run_cold("sweep", *UNSURE, "--json", str(tmp_path / "closed.json"), preexec_fn=closed)
    assert (done.returncode, done.stdout) == (0, kept.stdout)
    assert (tmp_path / "closed.json").read_bytes() == (tmp_path / "open.json").read_bytes()
    refused = run_cold("nope", preexec_fn=closed)
    assert (refused.returncode, refused.stdout) == (2, b"")


@pytest.mark.slow
@pytest.mark.skipif(not os.path.exists("/proc/self"), reason="needs a place that nobody can write to")
def test_a_home_that_cannot_be_written_to_is_nobodys_business(tmp_path):
    """Of what plots and of what draws in 3D, one after the other in a process that has neither's caches."""
    env = {**os.environ, "HOME": "/proc/none", "TMPDIR": str(tmp_path)}
    for name in ("MPLCONFIGDIR", "XDG_CONFIG_HOME", "XDG_CACHE_HOME"):
        env.pop(name, None)
    code = "from sys import argv; from viz.cli.main import main; "
    code += "exit(main(['sweep', *argv[2:], '--plot', argv[1]]) or main(['view', '--out', argv[1]]))"
    command = [sys.executable, "-c", code, str(tmp_path / "a.png"), "--positions", "3", *UNSURE]
    done = subprocess.run(command, capture_output=True, check=False, env=env)
    assert (done.returncode, done.stderr) == (0, b"")
    assert os.listdir(tmp_path) == ["a.png"]


@pytest.mark.skipif(not os.path.exists("/dev/full"), reason="needs a device that is always full")
@pytest.mark.parametrize("output", [[], ["--json", "-"], ["--csv", "/dev/full"]])
def test_a_full_disk_is_one_line(output):
    with open("/dev/full", "wb") as full:
        command = [sys.executable, "-m", "viz", "sweep", *UNSURE, *output]
        done = subprocess.run(command, stdout=full, stderr=subprocess.PIPE, check=False)
    assert done.returncode == 2
    assert done.stderr.count(b"\n") == 1
    assert b"cannot write" in done.stderr


def test_a_terminal_of_few_letters_still_gets_its_table():
    done = run_cold(
        "sweep", "--tables", *UNSURE, env={**os.environ, "PYTHONIOENCODING": "ascii", "PYTHONUTF8": "0"}
    )
    assert done.returncode == 0
    assert b"stop of ?75 deg" in done.stdout


NOT_IN_KIT = ("--both", "bottom=2mm@180")


@pytest.mark.parametrize(
    "words",
    [
        ("sweep", *NOT_IN_KIT, *UNSURE, "--json", "/dev/full"),
        ("sweep", *NOT_IN_KIT, *UNSURE, "--csv", "/dev/full"),
        ("view", *NOT_IN_KIT, "--out", "kart.glb", "--against", "less-caster"),
    ],
)
def test_a_refusal_stands_alone_though_there_is_something_to_warn_of(capsys, coarse, words):
    said = refused(capsys, words[0], coarse, *words[1:])
    assert "warning" not in said


def test_what_is_warned_of_follows_what_was_written(capsys, coarse):
    assert cli.main(["sweep", coarse, *NOT_IN_KIT, *UNSURE, "--json", "run.json"]) == 0
    assert "lockarc: warning: setting.as given: left bottom" in capsys.readouterr().err
    assert cli.main(["view", coarse, *NOT_IN_KIT, "--out", "kart.glb"]) == 0
    assert "lockarc: warning: setting.as given: left bottom" in capsys.readouterr().err


@pytest.mark.parametrize(
    "words",
    [
        ("sweep", "--tables"),
        ("compare", "--tables", "--setting", "more-caster", "--case", "standing"),
        ("map", "--json", "map.json"),
    ],
)
def test_a_terminal_sees_long_work_go_on(capsys, coarse, monkeypatch, words):
    told = []

    @contextmanager
    def bar(label):
        told.append(label)
        yield lambda done, total: None

    monkeypatch.setattr(sys, "stderr", Stream())
    monkeypatch.setattr("viz.words.progress.SILENT", 0.0)
    monkeypatch.setattr("viz.words.progress._bar", bar)
    assert cli.main([words[0], coarse, *words[1:]]) == 0
    assert told[:1] == ["bush pairs" if words[0] == "map" else "settings"]


@pytest.mark.parametrize("words", [("sweep",), ("compare", "--setting", "more-caster"), ("steps",)])
def test_a_first_answer_tells_of_every_corner_that_it_works_out(capsys, coarse, monkeypatch, words):
    told = []

    @contextmanager
    def bar(label):
        yield lambda done, total: told.append((label, done))

    monkeypatch.setattr(sys, "stderr", Stream())
    monkeypatch.setattr("viz.words.progress.SILENT", 0.0)
    monkeypatch.setattr("viz.words.progress._bar", bar)
    assert cli.main([words[0], coarse, *words[1:]]) == 0
    turns = [done for label, done in told if label == "turns"]
    corners = 1 if words == ("steps",) else 2
    kart_as_written_and_likely_ones, scanned_and_looked_at_closely = 2, 2
    assert turns == list(range(1, len(turns) + 1))
    assert len(turns) >= corners * kart_as_written_and_likely_ones * scanned_and_looked_at_closely
