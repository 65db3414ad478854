"""What libraries would say on the terminal, or leave behind, that is no business of who typed the command."""

from __future__ import annotations

import os
from collections.abc import Iterator
from contextlib import contextmanager

from scenarios.stopping import undone

CACHE = "MPLCONFIGDIR"
"""Where Matplotlib keeps its cache; it sets it itself where the home cannot be written to."""


@contextmanager
def hushed() -> Iterator[None]:
    """Keep Matplotlib from telling where its cache is; a stop in the block takes one made for it along."""
    import logging

    logger = logging.getLogger("matplotlib")
    level, before = logger.level, os.environ.get(CACHE)
    logger.setLevel(logging.ERROR)
    try:
        with undone(lambda: _forget(before)):
            yield
    finally:
        logger.setLevel(level)


def _forget(before: str | None) -> None:
    made = os.environ.get(CACHE)
    if made and made != before:
        from shutil import rmtree

        rmtree(made, ignore_errors=True)
