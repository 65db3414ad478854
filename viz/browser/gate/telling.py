"""What the libraries under the page have to say, as few and short lines for the host's terminal.

A visitor can cause log records, and choose words in them: so each becomes one line without control
characters or trace, and of very many only the first of each minute are told.
"""

from __future__ import annotations

import logging
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager

from viz.words.terminal import one_line

MOST, MINUTE = 10, 60.0  # lines in that many seconds
LONGEST = 200  # characters


class Telling(logging.Handler):
    """Says a record as one line, no line twice in a row."""

    def __init__(self, say: Callable[[str], None], clock: Callable[[], float] = time.monotonic) -> None:
        super().__init__(logging.WARNING)
        self._tell, self._clock = say, clock
        self._began, self._told, self._last = -MINUTE, 0, ""

    def emit(self, record: logging.LogRecord) -> None:
        """Tell a record, unless there were too many already."""
        line = told(record)
        now = self._clock()
        if now - self._began >= MINUTE:
            self._began, self._told, self._last = now, 0, ""
        if line == self._last or self._told > MOST:
            return
        self._told, self._last = self._told + 1, line
        self._tell(line if self._told <= MOST else "more of the kind is not told for a minute")


def told(record: logging.LogRecord) -> str:
    """A record as one line of at most LONGEST characters; of a trace its last line, which says what it is."""
    try:
        text = record.getMessage()
    except (TypeError, ValueError):  # its words do not fit its places
        text = str(record.msg)
    lines = text.strip().splitlines() or [""]
    line = one_line(lines[-1] if lines[0].startswith("Traceback") else text[: 4 * LONGEST])
    if record.exc_info and record.exc_info[1] is not None:
        line = f"{line}: {one_line(repr(record.exc_info[1])[: 4 * LONGEST])}"
    return line if len(line) <= LONGEST else f"{line[: LONGEST - 1]}…"


@contextmanager
def telling(say: Callable[[str], None]) -> Iterator[None]:
    """Tell every log record of the process in this way while the page is served."""
    root, handler = logging.getLogger(), Telling(lambda line: say(f"WARNING: {line}"))
    root.addHandler(handler)
    try:
        yield
    finally:
        root.removeHandler(handler)
