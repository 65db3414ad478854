"""What the host's terminal is told of what the libraries log."""

from __future__ import annotations

import logging

from tests.helpers.visiting.hostile import ESCAPES
from viz.browser.gate.telling import LONGEST, MINUTE, MOST, Telling, telling, told


def record(message: str, *args: object, **more: object) -> logging.LogRecord:
    return logging.LogRecord("x", logging.ERROR, __file__, 1, message, args, more.get("exc_info"))  # type: ignore[arg-type]


def test_a_record_is_one_clean_line_of_bounded_length() -> None:
    for words in (ESCAPES, "a\nb\r\nc", "x" * 100_000, "", ESCAPES * 1000):
        line = told(record("JS Error => %s", words))
        assert line.isprintable()
        assert len(line) <= LONGEST
    assert told(record("%d and %d", "x")) == "%d and %d"


def test_of_a_trace_only_what_it_was_is_told() -> None:
    trace = 'Traceback (most recent call last):\n  File "/home/me/a.py", line 1\nKeyError: 5\n'
    assert told(record(trace)) == "KeyError: 5"
    error = ValueError("no\x1b")
    assert told(record("failed", exc_info=(ValueError, error, None))) == "failed: ValueError('no\\x1b')"


def test_of_very_many_records_only_the_first_of_a_minute_are_told() -> None:
    lines: list[str] = []
    now = [0.0]
    handler = Telling(lines.append, lambda: now[0])
    for number in range(1000):
        handler.emit(record(f"word {number}"))
        handler.emit(record(f"word {number}"))
    assert lines == [*(f"word {n}" for n in range(MOST)), "more of the kind is not told for a minute"]
    now[0] = MINUTE
    handler.emit(record("word 0"))
    assert lines[-1] == "word 0"


def test_it_is_told_while_the_page_is_served_only() -> None:
    lines: list[str] = []
    with telling(lines.append):
        logging.getLogger("somebody.else").error("a\tb")
    assert lines == ["WARNING: a b"]
    assert not any(isinstance(handler, Telling) for handler in logging.getLogger().handlers)
