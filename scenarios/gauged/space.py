"""The numbers of a scenario as standard scores: 0 is what the file says, 1 one standard uncertainty more."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from copy import deepcopy
from dataclasses import dataclass
from functools import cached_property
from typing import Any

import numpy as np

from kinematics.frames import Array
from scenarios.sure.places import CORNER, value_at
from scenarios.sure.stated import Input, inputs
from scenarios.sure.usual import USUAL
from scenarios.sure.ways import MEASURED

FURTHEST, ROOM = 12.0, 2e-3
"""Scores beyond the first are no kart that the file speaks of; the second is room for a step at a bound."""


def uncertain_inputs(resolved: Mapping[str, Any], apart: bool = False) -> tuple[Input, ...]:
    """The uncertain numbers of resolved tables; apart: those of a corner each side of its own."""
    return inputs(with_sides_apart(resolved) if apart else resolved)


def with_sides_apart(resolved: Mapping[str, Any]) -> dict[str, Any]:
    """The tables with every number of the right corner called its own, as sure as the left one's."""
    tables = deepcopy(dict(resolved))
    right = tables.setdefault("sure", {}).setdefault("right", {})
    for row in USUAL:
        table, _, key = row.rpartition(".")
        if table in CORNER:
            of_left = value_at(tables["sure"], (table, key))
            right.setdefault(table, {}).setdefault(key, MEASURED if of_left is None else of_left)
    return tables


@dataclass(frozen=True)
class Space:
    """Numbers (d,) and scores of what is off in the bushes (b,), of which some are looked for."""

    inputs: tuple[Input, ...]
    bushes: Sequence[str]
    free: Sequence[int]
    """Places among both of those looked for; the others are as the file says."""

    @property
    def names(self) -> list[str]:
        """Of those looked for."""
        every = [*(one.name for one in self.inputs), *self.bushes]
        return [every[place] for place in self.free]

    @cached_property
    def _log(self) -> Array:
        """Spread of the logarithm (d,) of a number known by ratio, 0 of another."""
        return np.array([one.uncertain.log_spread if one.uncertain.by_ratio else 0.0 for one in self.inputs])

    @cached_property
    def _middle(self) -> Array:
        return np.array([one.uncertain.value for one in self.inputs])

    @cached_property
    def _spread(self) -> Array:
        return np.array([one.uncertain.spread for one in self.inputs])

    def at(self, scores: Array) -> tuple[Array, Array]:
        """Values (n, d) of the numbers, and scores (n, b) of the bushes, at scores (n, p) of those looked
        for."""
        whole = np.zeros((len(scores), len(self.inputs) + len(self.bushes)))
        whole[:, list(self.free)] = scores
        of_numbers = whole[:, : len(self.inputs)]
        ratio = self._log > 0.0
        values = np.where(
            ratio, self._middle * np.exp(self._log * of_numbers), self._middle + self._spread * of_numbers
        )
        return values, whole[:, len(self.inputs) :]

    @cached_property
    def bounds(self) -> tuple[Array, Array]:
        """Lowest and highest scores (p,) of those looked for."""
        low, high = [], []
        for one in self.inputs:
            sure = one.uncertain
            ends = [sure.low, sure.high]
            if sure.by_ratio:
                with np.errstate(divide="ignore"):
                    scores = [np.log(max(end, 0.0) / sure.value) / sure.log_spread for end in ends]
            else:
                scores = [(end - sure.value) / sure.spread for end in ends]
            low.append(max(scores[0], -FURTHEST))
            high.append(min(scores[1], FURTHEST))
        low += [-FURTHEST] * len(self.bushes)
        high += [FURTHEST] * len(self.bushes)
        free = list(self.free)
        return np.array(low)[free] + ROOM, np.array(high)[free] - ROOM

    def slopes_of_values(self, scores: Array) -> Array:
        """By how much each number (p,) looked for grows with its score; of a bush 1."""
        values, _ = self.at(scores[None])
        grows = np.where(self._log > 0.0, values[0] * self._log, self._spread)
        return np.concatenate([grows, np.ones(len(self.bushes))])[list(self.free)]
