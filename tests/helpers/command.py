"""The command run in this process or in one of its own: what it prints, writes and refuses."""

import contextlib
import io
import json
import subprocess
import sys

from viz.cli import main as cli

TABLE_WIDTH = 80


def run_cold(*arguments, **options):
    """Run the command in a process of its own."""
    command = [sys.executable, "-m", "viz", *arguments]
    return subprocess.run(command, capture_output=True, timeout=120, check=False, **options)


def run_here(*arguments):
    """Run the command in this process; returns its exit code and what is on stdout and stderr."""
    out, err = (io.TextIOWrapper(io.BytesIO(), "utf-8", write_through=True) for _ in range(2))
    with contextlib.redirect_stdout(out), contextlib.redirect_stderr(err):
        try:
            code = cli.main(arguments)
        except SystemExit as leaving:  # help
            code = leaving.code
    return code, *(stream.buffer.getvalue().decode() for stream in (out, err))


def printed(capsys, *arguments):
    """Run, expect exit 0 and a quiet stderr; returns what was printed."""
    assert cli.main(arguments) == 0
    captured = capsys.readouterr()
    assert captured.err == ""
    return captured.out


def refused(capsys, *arguments):
    """Run, expect exit 2 and one line on stderr; returns that line."""
    assert cli.main(arguments) == 2
    captured = capsys.readouterr()
    assert captured.out == ""
    assert captured.err.startswith("lockarc: ")
    assert captured.err.count("\n") == 1
    assert captured.err.endswith("\n")
    return captured.err


def payload(capsys, *arguments):
    def no_constant(name):
        raise AssertionError(f"{name} is not JSON")

    unsure = () if "--sure" in arguments else ("--sure", "none")  # bands have tests of their own
    text = printed(capsys, "sweep", *arguments, *unsure, "--json", "-")
    return json.loads(text, parse_constant=no_constant)


def assert_equals_solver(values, column):
    assert [v is not None for v in values] == column.known.tolist()
    assert [v for v in values if v is not None] == column.values[column.known].tolist()
