"""What the command line says: one line for an error or a warning, and text that no terminal chokes on."""

from __future__ import annotations

import os
import sys
from collections.abc import Iterable

from viz.words.width import HANG, filled

PROGRAM = "lockarc"
REFUSED = 2
INTERRUPTED = 130
HIGHEST_STREAM = 2
PIPE_CLOSED = 141  # 128 + SIGPIPE, what a shell reports of a program that a closed pipe has ended


def clean(text: object) -> str:
    """The text as one line that can do nothing to a terminal, a character for each of its own.

    White space of any kind is a space; what would move a cursor, set a colour, turn the direction of writing
    or stand unseen (control and format characters, NUL, what is no character) is a '?'.
    """
    return "".join(c if c.isprintable() else " " if c.isspace() else "?" for c in str(text))


def one_line(text: object) -> str:
    """The text cleaned, and no more than one space between its words."""
    return " ".join(clean(text).split())


def say(*lines: object) -> None:
    """Print lines on stdout, each cleaned. Whatever the program prints there as text comes through here."""
    print("\n".join(clean(line) for line in lines), flush=True)


def complain(text: object) -> None:
    """Print an error as one line on stderr."""
    _say_on_stderr(f"{PROGRAM}: {one_line(text)}")


def warn(texts: Iterable[object], unbroken: bool = False) -> None:
    """Print warnings on stderr, each once, broken to the width there is.

    unbroken leaves each one line: what others have chosen the words of begins no line of its own.
    """
    for text in dict.fromkeys(one_line(t) for t in texts):
        line = f"{PROGRAM}: warning: {text}"
        _say_on_stderr(line if unbroken else "\n".join(filled(line, " " * HANG)))


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


def fill_streams() -> bool:
    """Give standard streams that were closed nothing to talk to; False where stdout was one of them.

    Else a file opened later would get their number, and with it what is said by others.
    """
    while (handle := os.open(os.devnull, os.O_RDWR)) <= HIGHEST_STREAM:
        pass
    os.close(handle)
    if sys.stderr is None:
        sys.stderr = os.fdopen(HIGHEST_STREAM, "w", encoding="utf-8")
    return sys.stdout is not None


def abandon_stdout() -> None:
    """Point stdout at nothing after its reader has gone, so that the last flush at exit stays quiet."""
    null = os.open(os.devnull, os.O_WRONLY)
    os.dup2(null, sys.stdout.fileno())
    os.close(null)
