"""The command run in this process on an input that nobody means, watched for all it may not do."""

from __future__ import annotations

import contextlib
import io
import json
import os
import re
import resource
import time
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import pytest

from tests.helpers.hostile.inputs import Input
from tests.helpers.hostile.texts import unseen
from viz.cli import main as cli

ROOT = Path(__file__).parents[3]
PACKAGES = [ROOT / name for name in ("kinematics", "scenarios", "viz")]
LONGEST_LINE, LONGEST_WAIT, MOST_MEMORY = 300, 5.0, 1024 * 1024
"""Characters of a refusal, seconds of work without a word, KiB."""
NO_NUMBER = re.compile(r"(?<![\w.])[+-]?(?:nan|inf|infinity)(?![\w.])", re.IGNORECASE)


class Stream(io.TextIOWrapper):
    """A stream that someone watches, so that progress is told; it keeps what is written."""

    def __init__(self) -> None:
        super().__init__(io.BytesIO(), "utf-8", write_through=True)

    def isatty(self) -> bool:
        return True

    @property
    def text(self) -> str:
        return self.buffer.getvalue().decode()


@dataclass(frozen=True)
class Done:
    """What came of an input: its exit code, and a line for each thing it may not do."""

    code: object
    faults: tuple[str, ...]
    seconds: float
    longest_wait: float
    memory: int
    """Most memory of the process so far, KiB."""


class Clock:
    """The longest time of work between two words of progress."""

    def __init__(self) -> None:
        self.last, self.longest = time.process_time(), 0.0

    def tick(self, *_: int) -> None:
        now = time.process_time()
        self.last, self.longest = now, max(self.longest, now - self.last)


@contextlib.contextmanager
def guarded() -> Iterator[Clock]:
    """No page is served and no window opened; progress is counted and not drawn."""
    clock = Clock()

    @contextlib.contextmanager
    def bar(label: str) -> Iterator[object]:
        clock.tick()
        yield clock.tick

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("viz.cli.view.serve_page", lambda *_: None)
        patch.setattr("viz.cli.view._show", lambda *_: None)
        patch.setattr("viz.words.progress._bar", bar)
        patch.setattr("viz.words.progress.SILENT", 0.0)
        yield clock


def written_for(one: Input) -> None:
    """Put the input's file in the working folder."""
    if one.file:
        Path(one.file).write_bytes(one.content)
    if not os.path.lexists("loop.toml"):
        os.symlink("loop.toml", "loop.toml")


def watched(one: Input) -> Done:
    """Run the command on an input in the working folder."""
    written_for(one)
    out, err, began = Stream(), Stream(), time.process_time()
    before, code, faults = set(os.listdir(".")), 0, []
    with guarded() as clock, contextlib.redirect_stdout(out), contextlib.redirect_stderr(err):
        try:
            code = cli.main(one.argv)
        except SystemExit as leaving:  # help
            code = leaving.code
        except BaseException as error:
            if isinstance(error, KeyboardInterrupt):
                raise
            faults.append(f"traceback: {_place(error)}")
        clock.tick()
    faults += judged(one, code, out.text, err.text) if not faults else []
    fresh = set(os.listdir(".")) - before
    if code == 2 and fresh:
        faults.append("left behind by a refusal")
    asked = [b for a, b in zip(one.argv, one.argv[1:], strict=False) if a == "--json"]
    faults += [fault for name in sorted(fresh & {*asked}) for fault in _json_faults(name)]
    for name in fresh:
        os.unlink(name)
    memory = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    if clock.longest > LONGEST_WAIT:
        faults.append(f"{LONGEST_WAIT:g} s of work without a word")
    return Done(code, tuple(faults), time.process_time() - began, clock.longest, memory)


def _place(error: BaseException) -> str:
    """An error's kind and the last line of the program in its traceback."""
    trace, here = error.__traceback__, "?"
    while trace is not None:
        file = trace.tb_frame.f_code.co_filename
        if any(Path(file).is_relative_to(package) for package in PACKAGES):
            here = f"{'/'.join(Path(file).parts[-3:])}:{trace.tb_lineno}"
        trace = trace.tb_next
    return f"{type(error).__name__} at {here}: {str(error)[:80]}"


def judged(one: Input, code: object, out: str, err: str) -> list[str]:
    """A line for each thing that the streams and the exit code of an input may not be."""
    faults = [] if code in (0, 2) else [f"exit code {code}"]
    lines = err.splitlines()
    if code == 2 and (len(lines) != 1 or not err.endswith("\n") or not err.startswith("lockarc: ")):
        faults.append("a refusal that is not one line")
    if code == 2 and any(len(line) > LONGEST_LINE for line in lines):
        faults.append(f"a refusal of over {LONGEST_LINE} characters")
    if unseen(out) | unseen(err):
        faults.append("a control character on a stream")
    said = f"{one.content.decode('utf-8', 'replace')} {' '.join(one.argv)}"
    if code == 0 and NO_NUMBER.search(out) and not NO_NUMBER.search(said):
        faults.append("no number where one is printed")
    if (
        code == 0
        and "--help" not in one.argv
        and ("--json", "-") in zip(one.argv, one.argv[1:], strict=False)
    ):
        faults += _strict(out, "stdout")
    return faults


def _json_faults(name: str) -> list[str]:
    return _strict(Path(name).read_text("utf-8"), "file")


def _strict(text: str, where: str) -> list[str]:
    def refuse(name: str) -> None:
        raise ValueError(name)

    try:
        json.loads(text, parse_constant=refuse)
    except ValueError as error:
        return [f"{where} is not strict JSON: {str(error)[:40]}"]
    return []
