"""Where the program starts, before anything is imported that takes time: an interrupt then just ends it."""

from __future__ import annotations

import signal
import sys


def start() -> int:
    """Run the command line that the program was started with; returns its exit code."""
    if signal.getsignal(signal.SIGINT) is signal.default_int_handler:
        signal.signal(signal.SIGINT, signal.SIG_DFL)
    from viz.cli.main import main

    return main()


if __name__ == "__main__":
    sys.exit(start())
