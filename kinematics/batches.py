"""Records that hold many karts or settings at once: their batch axes, and an axis more for the lock position.

Arrays stand in the records of `parts` where one kart or setting has a number: (...), or (..., 3) in a field
annotated Vector. What is not an array is the same for the whole batch.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import fields, is_dataclass, replace
from functools import cache, wraps
from typing import Any, TypeVar, cast

import numpy as np
import numpy.typing as npt

from kinematics.frames import Array, Number

P = TypeVar("P")
Q = TypeVar("Q")
R = TypeVar("R")


def once(make: Callable[[P], R]) -> Callable[[P], R]:
    """What is made of a frozen record, made once for each record and kept with it, as long as it is there.

    A record changed by `replace` is another one. Neither what it holds nor what was made may be written to.
    """
    name = f"_{make.__name__}"

    @wraps(make)
    def kept(part: P) -> R:
        there = vars(part)
        if name not in there:
            there[name] = make(part)
        found: R = there[name]
        return found

    return kept


def once_beside(make: Callable[[Q, P], R]) -> Callable[[Q, P], R]:
    """What is made of two frozen records, kept with the second for the first that it was made with last."""
    name = f"_{make.__name__}"

    @wraps(make)
    def kept(first: Q, part: P) -> R:
        there = vars(part).get(name)
        if there is None or there[0] is not first:
            there = vars(part)[name] = first, make(first, part)
        found: R = there[1]
        return found

    return kept


def refuse_unless(condition: npt.ArrayLike, message: str, *numbers: Number) -> None:
    """A ValueError with these numbers written into its message, unless the condition holds everywhere."""
    if not np.all(condition):
        raise ValueError(message.format(*(_told(number) for number in numbers)))


def _told(number: Number) -> str:
    return f"{number:g}" if np.ndim(number) == 0 else f"{np.min(number):g} to {np.max(number):g}"


def _each(part: P, change: Callable[[Array, bool], Array]) -> P:
    """The part with change(array, is_point) made of every array in it; itself where there is none."""
    new, make = {}, cast(type, type(part))
    for name, point in _fields_of(make):
        value = getattr(part, name)
        made = value if value.__class__ is float else _changed(value, point, change)
        if made is not value:
            new[name] = made
    return replace(part, **new) if new else part  # type: ignore[type-var]


def _changed(value: Any, point: bool, change: Callable[[Array, bool], Array]) -> Any:
    if isinstance(value, np.ndarray):
        return change(value, point)
    if isinstance(value, tuple) and not point:
        made = [_changed(one, False, change) for one in value]
        return tuple(made) if any(a is not b for a, b in zip(made, value, strict=True)) else value
    return _each(value, change) if is_dataclass(value) else value


@cache
def _fields_of(make: type) -> tuple[tuple[str, bool], ...]:
    """The fields of a record, and whether each is a point."""
    return tuple((f.name, f.type == "Vector") for f in fields(make))


@once
def batch_shape(part: object) -> tuple[int, ...]:
    """Common batch shape of all its arrays; () for one kart or setting."""
    shapes: list[tuple[int, ...]] = []

    def seen(value: Array, point: bool) -> Array:
        shapes.append(value.shape[:-1] if point else value.shape)
        return value

    _each(part, seen)
    return np.broadcast_shapes(*shapes)


@once
def at_every_lock(part: P) -> P:
    """The part with an axis for the lock position behind its batch axes."""
    return _each(part, lambda value, point: value[..., None, :] if point else value[..., None])


def rows(part: P, shape: tuple[int, ...], which: npt.NDArray[np.intp] | slice) -> P:
    """Some (n,) of the batch, by their places in it when it is of this shape and counted through."""

    def chosen(value: Array, point: bool) -> Array:
        whole = np.broadcast_to(value, (*shape, *value.shape[-1:]) if point else shape)
        flat: Array = whole.reshape(-1, *value.shape[-1:]) if point else whole.reshape(-1)
        return flat[which]

    return _each(part, chosen)


def stacked(parts: Sequence[P], axes: int = 0) -> P:
    """Records of the same make without points, of batch shapes (...), as one batch (len(parts), ...).

    Behind the first axis the batch has at least so many more: as many as another with which it broadcasts.
    A record that all have as its field's default stays as it is.
    """
    inner = max(axes, *(len(batch_shape(part)) for part in parts))

    def field_of(values: Sequence[Any], default: Any) -> Any:
        return default if all(one is default for one in values) and is_dataclass(default) else stack(values)

    def stack(values: Sequence[Any]) -> Any:
        first = values[0]
        if first is None:
            return None
        if is_dataclass(first) and not isinstance(first, type):
            own = {f.name: [getattr(one, f.name) for one in values] for f in fields(first)}
            return replace(first, **{f.name: field_of(own[f.name], f.default) for f in fields(first)})
        numbers = np.stack(np.broadcast_arrays(*(np.asarray(one, float) for one in values)))
        return numbers.reshape(len(values), *[1] * (inner + 1 - numbers.ndim), *numbers.shape[1:])

    whole: P = stack(parts)
    return whole


def one_of(batch: P, row: int) -> P:
    """One of the first axis of a batch, out of every array in a record."""
    if isinstance(batch, np.ndarray):
        return batch[row] if batch.ndim else batch
    if type(batch) is tuple:
        return cast(P, tuple(one_of(one, row) for one in cast(tuple[Any, ...], batch)))
    if not is_dataclass(batch):
        return batch
    return replace(batch, **{f.name: one_of(getattr(batch, f.name), row) for f in fields(batch)})  # type: ignore[type-var]
