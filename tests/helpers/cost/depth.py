"""How much of a costly law is tried: a few by default, all of it as a long test."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, TypeVar

import pytest
from hypothesis import settings

T = TypeVar("T")
_long = False


def lengthen() -> None:
    """From here on all of it is tried; said before a module of tests is read."""
    global _long
    _long = True


def is_long() -> bool:
    """Whether this is the long run."""
    return _long


def times(few: T, many: T) -> T:
    """What a test that is marked `deep` tries its law on: how often, or which of it."""
    return many if _long else few


def deep(few: int, many: int, **options: Any) -> Callable[[Any], Any]:
    """A property tried on few examples by default and on many as a long test; options go to Hypothesis."""

    def marked(test: Any) -> Any:
        return pytest.mark.deep(settings(max_examples=times(few, many), **options)(test))

    return marked
