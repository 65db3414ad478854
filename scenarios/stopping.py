"""What is put right before a signal ends the program: half-written files removed, helpers ended.

SIGINT, SIGTERM and SIGHUP end the program at once and by their own default action, so that whoever started it
sees which one it was. Nothing is raised: an exception that comes between any two instructions can be lost or
told by a library. Instead whatever must not stay behind says so while it is there.
"""

from __future__ import annotations

import os
import signal
import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress

NAMES = ("SIGINT", "SIGTERM", "SIGHUP")
"""The signals that stop the program, of which a system may lack some."""

Undo = Callable[[], object]
_undo: list[tuple[int, Undo]] = []
"""By the process that asked for it: a child has nothing of its parent's to put right."""
_held: list[int] = []
_holding = 0


@contextmanager
def undone(undo: Undo) -> Iterator[None]:
    """Call undo, should the program be stopped within the block; it must not wait for a lock."""
    entry = (os.getpid(), undo)
    _undo.append(entry)
    try:
        yield
    finally:
        _undo.remove(entry)


@contextmanager
def held() -> Iterator[None]:
    """Put a stop off to the end of the block, for what is not to be parted."""
    global _holding
    _holding += 1
    try:
        yield
    finally:
        _holding -= 1
        if _held and not _holding:
            _stop(_held[0])


@contextmanager
def answered() -> Iterator[None]:
    """Answer the stop signals within the block; one that is ignored (nohup) stays ignored."""
    if threading.current_thread() is not threading.main_thread():
        yield
        return
    numbers = [getattr(signal, name) for name in NAMES if hasattr(signal, name)]
    known = [number for number in numbers if signal.getsignal(number) not in (signal.SIG_IGN, None)]
    before = {number: signal.signal(number, _stop) for number in known}
    try:
        yield
    finally:
        for number, handler in before.items():
            signal.signal(number, handler)


@contextmanager
def raised() -> Iterator[None]:
    """Raise an interrupt as KeyboardInterrupt within the block, for what then ends by itself."""
    before = signal.getsignal(signal.SIGINT)
    if before is not _stop:
        yield
        return
    signal.signal(signal.SIGINT, signal.default_int_handler)
    try:
        yield
    finally:
        signal.signal(signal.SIGINT, before)


def _stop(number: int, frame: object = None) -> None:
    """Put right what was asked for, the last first, and end as the signal would have."""
    if _holding:
        _held.append(number)
        return
    for owner, undo in reversed(_undo):
        if owner == os.getpid():
            with suppress(OSError):
                undo()
    signal.signal(number, signal.SIG_DFL)
    os.kill(os.getpid(), number)
