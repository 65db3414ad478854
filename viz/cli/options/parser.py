"""The argument parser: help as usual, errors as one line and exit 2, and the kinds of value it reads."""

from __future__ import annotations

import argparse
import re
from collections.abc import Callable
from typing import Any, NoReturn, TypeVar

from scenarios.ask.typed import finite as finite_number
from scenarios.errors import Refusal, suggestion
from viz.words.helptext import Layout

T = TypeVar("T")
NUMBER_NOT_OPTION = re.compile(r"-\.?\d[\d.,eE+-]*$")
"""What begins with a dash and is a number, well typed or not."""


class Parser(argparse.ArgumentParser):
    """An ArgumentParser that raises Refusal with one line instead of printing usage; no abbreviations."""

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        plain = {"formatter_class": Layout, "allow_abbrev": False}
        super().__init__(*args, **{**plain, **kwargs})
        self._negative_number_matcher = NUMBER_NOT_OPTION
        for name in (None, "store"):
            self.register("action", name, Once)

    def error(self, message: str) -> NoReturn:
        """Refuse with argparse's own words, made one line, and where help is."""
        raise Refusal(f"{message} (see '{self.prog} --help')")

    def _check_value(self, action: argparse.Action, value: Any) -> None:
        if action.choices is not None and value not in action.choices:
            raise argparse.ArgumentError(
                action, f"'{value}' is unknown{suggestion(str(value), action.choices)}"
            )


class Once(argparse._StoreAction):
    """Keeps a value; an option that is given twice is refused, not the first value dropped in silence."""

    def __call__(
        self, parser: argparse.ArgumentParser, namespace: argparse.Namespace, values: Any, option: Any = None
    ) -> None:
        """Keep the value."""
        given = vars(namespace).setdefault("_given", set())
        if option is not None and self.dest in given:
            raise argparse.ArgumentError(self, "given twice; give it once")
        given.add(self.dest)
        super().__call__(parser, namespace, values, option)


def typed(read: Callable[[str], T]) -> Callable[[str], T]:
    """A reader for argparse whose Refusal becomes the end of argparse's own one line."""

    def said(text: str) -> T:
        try:
            return read(text)
        except Refusal as refusal:
            raise argparse.ArgumentTypeError(str(refusal)) from None

    return said


finite = typed(finite_number)
"""A finite number."""


def whole(least: int, most: int) -> Callable[[str], int]:
    """A reader of whole numbers from least to most."""

    def read(text: str) -> int:
        try:
            number = int(text)
        except ValueError:
            raise argparse.ArgumentTypeError(f"'{text}' is not a whole number") from None
        if not least <= number <= most:
            raise argparse.ArgumentTypeError(f"{number} must be at least {least} and at most {most}")
        return number

    return read
