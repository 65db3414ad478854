"""Long work shows how far it is, on standard error, while someone watches it there."""

from __future__ import annotations

import os
import sys
from collections.abc import Callable, Iterator
from contextlib import ExitStack, contextmanager
from time import monotonic

from scenarios.stopping import undone

SHOW_CURSOR = b"\r\x1b[K\x1b[?25h"
"""Clears the line and shows the cursor that a bar hides."""

Progress = Callable[[int, int], None]


SILENT = 1.0
"""Seconds for which nothing is shown."""


@contextmanager
def progress_bar(label: str) -> Iterator[Progress]:
    """A progress bar, from the second second on; silent where nobody watches.

    It is called with what is done and what there is to do, 0 where nobody knows.
    """
    if not sys.stderr.isatty():
        yield lambda done, total: None
        return
    with ExitStack() as stack:
        began = monotonic()
        bars: list[Progress] = []

        def tell(done: int, total: int) -> None:
            if not bars and monotonic() - began >= SILENT:
                bars.append(stack.enter_context(_bar(label)))
            for update in bars:
                update(done, total)

        yield tell


@contextmanager
def _bar(label: str) -> Iterator[Progress]:
    from rich.console import Console
    from rich.progress import Progress as Bar

    with undone(_show_cursor), Bar(console=Console(stderr=True), transient=True) as bar:
        task = bar.add_task(label, total=None)
        yield lambda done, total: bar.update(task, completed=done, total=total or None)


def _show_cursor() -> None:
    os.write(sys.stderr.fileno(), SHOW_CURSOR)
