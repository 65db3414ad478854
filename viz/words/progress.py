"""Long work shows how far it is, on standard error, while someone watches it there."""

from __future__ import annotations

import os
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager

from scenarios.stopping import undone

SHOW_CURSOR = b"\r\x1b[K\x1b[?25h"
"""Clears the line and shows the cursor that a bar hides."""

Progress = Callable[[int, int], None]


@contextmanager
def progress_bar(label: str) -> Iterator[Progress]:
    """A progress bar, called with what is done and what there is to do; silent where nobody watches."""
    if not sys.stderr.isatty():
        yield lambda done, total: None
        return
    from rich.console import Console
    from rich.progress import Progress as Bar

    with undone(_show_cursor), Bar(console=Console(stderr=True), transient=True) as bar:
        task = bar.add_task(label, total=None)
        yield lambda done, total: bar.update(task, completed=done, total=total)


def _show_cursor() -> None:
    os.write(sys.stderr.fileno(), SHOW_CURSOR)
