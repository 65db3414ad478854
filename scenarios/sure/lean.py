"""Which side of a kart, and of what is fitted to it, is the larger: its mirror image leans the other way."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import fields
from math import inf

from kinematics.parts import CornerSetting, Setting
from scenarios.sure.places import ACROSS, Tables, every, opposite, value_at
from scenarios.sure.stated import said_of


def lean(resolved: Tables, settings: Iterable[Setting] = ()) -> int:
    """1 where the left side has the larger number, -1 the right one, 0 where all are alike.

    The first that differs decides: of the kart's numbers, of how sure they are, of the settings in their
    order. A kart that leans to the right is drawn with the sides changed over. So its likely karts are the
    mirror images of those of its own mirror image, and the two are told of in the same words.
    """
    pairs = (pair for some in (_numbers(resolved), *map(_fitted, settings)) for pair in some)
    return next((1 if left > right else -1 for left, right in pairs if left != right), 0)


Pair = tuple[float, float]
"""A number of the left side, and the same of the right one."""


def _numbers(resolved: Tables) -> Iterator[Pair]:
    """Of the kart, then how sure each is."""
    sure, there = resolved.get("sure", {}), []
    for where in every():
        own, other = value_at(resolved, where), value_at(resolved, opposite(where))
        if where == ACROSS and own:
            yield own, -own
        if own is not None and other is not None:
            there.append(where)
            yield own, other
    for where in there:
        own, other = (_order(said_of(sure, one)) for one in (where, opposite(where)))
        yield float(own > other), float(own < other)


def _order(said: str | float) -> tuple[float, str]:
    """What is said of a number as something that has an order."""
    return (said, "") if isinstance(said, float) else (-1.0, said)


def _fitted(setting: Setting) -> Iterator[Pair]:
    for part in fields(CornerSetting):
        own, other = (getattr(corner, part.name) for corner in (setting.left, setting.right))
        yield _number(own), _number(other)
    yield setting.chassis.masses.left, -setting.chassis.masses.left


def _number(value: object) -> float:
    return -inf if value is None else float(value)  # type: ignore[arg-type]
