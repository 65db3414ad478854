"""Where the program starts, before anything is imported that takes time: an interrupt then just ends it."""

from __future__ import annotations

import _signal  # type: ignore[import-not-found]  # `signal` imports enum before it can be of use
import os
import sys


def start() -> int:
    """Run the command line that the program was started with; returns its exit code."""
    if _signal.getsignal(_signal.SIGINT) is _signal.default_int_handler:
        _signal.signal(_signal.SIGINT, _signal.SIG_DFL)
    # Matrices are small: on a busy machine threads that share one wait for each other longer than they work.
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
    from viz.cli.main import main

    return main()


if __name__ == "__main__":
    sys.exit(start())
