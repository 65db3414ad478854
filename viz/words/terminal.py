"""What the command line says: one line for an error or a warning, and text that no terminal chokes on."""

from __future__ import annotations

import os
import sys
from collections.abc import Iterable

PROGRAM = "lockarc"
REFUSED = 2
INTERRUPTED = 130
PIPE_CLOSED = 141  # 128 + SIGPIPE, what a shell reports of a program that a closed pipe has ended


def one_line(text: object) -> str:
    """The text on one line, control characters shown as '?', so that no file name can move a cursor."""
    joined = " ".join(str(text).split())
    return "".join(c if c.isprintable() else "?" for c in joined)


def complain(text: object) -> None:
    """Print an error as one line on stderr."""
    _say_on_stderr(f"{PROGRAM}: {one_line(text)}")


def warn(texts: Iterable[object]) -> None:
    """Print warnings on stderr, one line each, each once."""
    for text in dict.fromkeys(one_line(t) for t in texts):
        _say_on_stderr(f"{PROGRAM}: warning: {text}")


def _say_on_stderr(line: str) -> None:
    try:
        print(line, file=sys.stderr, flush=True)
    except OSError:  # nobody listens any more; the exit code still tells
        return


def forgiving_streams() -> None:
    """Let a character that the terminal's encoding lacks print as '?' instead of ending the program."""
    for stream in (sys.stdout, sys.stderr):
        reconfigure = getattr(stream, "reconfigure", None)
        if reconfigure is not None:
            reconfigure(errors="replace")


def abandon_stdout() -> None:
    """Point stdout at nothing after its reader has gone, so that the last flush at exit stays quiet."""
    null = os.open(os.devnull, os.O_WRONLY)
    os.dup2(null, sys.stdout.fileno())
    os.close(null)
